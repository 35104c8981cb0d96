"""What the web app is made from: this project's files and the installed packages that the browser needs."""

import ast
import hashlib
import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path, PurePosixPath

PROJECT = Path(__file__).resolve().parents[2]
WEB = PROJECT / "mobile_app" / "web"

# Distributions whose pure Python runs in the browser. What the tests ran with is what is shipped.
PACKAGES = (
    "flet",
    "repath",
    "six",
    "msgpack",
    "tinydb",
    "pint",
    "flexcache",
    "flexparser",
    "platformdirs",
    "typing_extensions",
    "reportlab",
    "charset_normalizer",
    "uncertainties",
    "icalendar",
    "python-dateutil",
    "tzdata",
)

# Those that are imported before the first screen is up.
FIRST = ("flet", "repath", "six", "msgpack", "tinydb")

# Parts of this project that only the console command and the server use.
NOT_IN_BROWSER = (
    "mobile_app/bundle/",
    "mobile_app/web/",
    "mobile_app/hub/",
    "mobile_app/cli.py",
    "mobile_app/serve.py",
)

# Parts of the packages that the app never reaches; the journeys prove that it runs without them.
UNUSED = (
    "flet/testing/",
    "flet/fastapi/",
    "flet/pytest_plugin.py",
    "flet/cli.py",
    "reportlab/fonts/",
    "reportlab/graphics/",
    "reportlab/lib/codecharts.py",
    "reportlab/lib/corp.py",
    "reportlab/lib/fontfinder.py",
    "reportlab/lib/randomtext.py",
    "reportlab/platypus/para.py",
    "icalendar/cli.py",
    "charset_normalizer/cli/",
    "pint/testing.py",
    "pint/pint_convert.py",
    "icalendar/fuzzing/",
    "icalendar/cli.py",
    "dateutil/parser/",
    "dateutil/tz/win.py",
)

# Of all the zones of the world the calendar names one: the stamps of a calendar file are in UTC.
_ZONES = ("tzdata/__init__.py", "tzdata/zoneinfo/__init__.py", "tzdata/zoneinfo/UTC")


_ICONS = "flet/controls/material/icons.json"


@dataclass(frozen=True)
class Member:
    """One file on its way into the archive: its name there and its bytes."""

    name: str
    data: bytes


def project_members() -> Iterator[Member]:
    """The app's own modules and the assets it reads at run time (fonts only as the PDF needs them)."""
    for path in _files(PROJECT / "logic", "*.py") + _files(PROJECT / "mobile_app", "*.py"):
        name = path.relative_to(PROJECT).as_posix()
        if not name.startswith(NOT_IN_BROWSER):
            yield Member(name, path.read_bytes())
    yield Member("assets/__init__.py", (PROJECT / "assets" / "__init__.py").read_bytes())
    for folder, pattern in (("tables", "*"), ("demo", "*"), ("fonts", "*.ttf")):
        for path in _files(PROJECT / "assets" / folder, pattern):
            if path.suffix != ".py" and not path.name.startswith("Sward-Screen"):
                yield Member(path.relative_to(PROJECT).as_posix(), path.read_bytes())


def package_members() -> Iterator[Member]:
    """The pure Python of every package in PACKAGES, with just enough metadata to ask for its version."""
    for name in PACKAGES:
        found = metadata.distribution(name)
        for file in sorted(found.files or (), key=str):
            if _wanted(PurePosixPath(file)):
                data = Path(str(found.locate_file(file))).read_bytes()
                yield Member(
                    f"__pypackages__/{file.as_posix()}", bare(data) if file.suffix == ".py" else data
                )
        text = f"Metadata-Version: 2.1\nName: {name}\nVersion: {found.version}\n"
        yield Member(f"__pypackages__/{name}-{found.version}.dist-info/METADATA", text.encode())
    yield Member(f"__pypackages__/{_ICONS}", _used_icons())
    for path in _files(WEB / "stand_in", "*.py"):
        yield Member(f"__pypackages__/{path.relative_to(WEB / 'stand_in').as_posix()}", path.read_bytes())


def bare(source: bytes) -> bytes:
    """A module without comments and docstrings: a sixth of what the packages take on the wire."""
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if not isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        if ast.get_docstring(node, clean=False) is not None:
            node.body = node.body[1:] or [ast.Pass()]
    return ast.unparse(tree).encode()


def used_icon_names() -> tuple[str, ...]:
    """The names after `ft.Icons.` in the app's own modules."""
    sources = (path.read_text("utf-8") for path in _files(PROJECT / "mobile_app", "*.py"))
    return tuple(
        sorted({name for text in sources for name in re.findall(r"\bft\.Icons\.([A-Z0-9_]+)", text)})
    )


def _used_icons() -> bytes:
    """Flet's table of icon names, cut down to those used: whole, it is a quarter of a megabyte."""
    whole = json.loads(Path(str(metadata.distribution("flet").locate_file(_ICONS))).read_text("utf-8"))
    return json.dumps({name: whole[name] for name in used_icon_names()}).encode()


def licences() -> str:
    """The licence texts of everything in PACKAGES, one after the other."""
    parts = []
    for name in PACKAGES:
        found = metadata.distribution(name)
        given = {
            key: found.metadata[key] for key in ("License-Expression", "License") if key in found.metadata
        }
        stated = next(filter(None, given.values()), "see its project")
        parts.append(f"{found.metadata['Name']} {found.version}, licence: {stated.splitlines()[0]}\n")
        for file in sorted(found.files or (), key=str):
            if file.suffix != ".py" and file.name.lower().startswith(("licen", "copying", "notice")):
                text = Path(str(found.locate_file(file))).read_text("utf-8", "replace")
                parts.append(f"{found.metadata['Name']} {found.version}: {file.name}\n\n{text.strip()}\n")
    return f"\n{'=' * 78}\n".join(parts)


def fingerprint(extra: Iterable[str] = ()) -> str:
    """One hash over all that a build depends on; a build with another fingerprint is stale."""
    digest = hashlib.sha256()
    for name in (*PACKAGES, "flet-web"):
        digest.update(f"{name} {metadata.version(name)}\n".encode())
    for text in extra:
        digest.update(f"{text}\n".encode())
    for folder in ("logic", "mobile_app", "assets"):
        for path in _files(PROJECT / folder, "*"):
            if path.is_relative_to(PROJECT / "mobile_app" / "hub"):
                continue  # no part of a build
            digest.update(f"{path.relative_to(PROJECT).as_posix()}\n".encode())
            digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()


def _files(folder: Path, pattern: str) -> list[Path]:
    found = folder.rglob(pattern) if folder.is_dir() else ()
    return sorted(path for path in found if path.is_file() and "__pycache__" not in path.parts)


def _wanted(file: PurePosixPath) -> bool:
    if file.parts[0] in ("..", "/") or file.parts[0].endswith((".dist-info", ".data")):
        return False
    if "__pycache__" in file.parts or {"tests", "testsuite", "test"} & set(file.parts):
        return False
    if file.parts[0] == "tzdata":
        return str(file) in _ZONES
    return file.suffix in (".py", ".txt") and not str(file).startswith(UNUSED)
