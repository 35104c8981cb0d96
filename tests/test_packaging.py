"""What `pip install .` takes along: the installed app is built from it, far from this folder."""

import tomllib
from fnmatch import fnmatch
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def test_every_file_of_the_packages_is_installed() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["setuptools"]
    patterns = settings["package-data"]["*"]
    files = [
        path
        for room in ("logic", "mobile_app", "assets")
        for path in (ROOT / room).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts and path.suffix != ".py"
    ]
    left = [path.relative_to(ROOT) for path in files if not any(fnmatch(path.name, p) for p in patterns)]
    assert files
    assert left == []
