"""The tests of the logic, run by the browser's own Python: that is what people have on their phones."""

import ast
import json
import sys
from collections.abc import Callable
from importlib import metadata
from pathlib import Path, PurePosixPath

import pytest

from mobile_app.bundle import stdlib
from tests.journeys.conftest import Build
from tests.journeys.phone import Host, Phone, until

TESTS = Path(__file__).resolve().parents[1]
#: What runs the tests; all of it plain Python, taken from where this very test runs.
RUNNERS = ("pytest", "pluggy", "iniconfig", "packaging", "pygments", "hypothesis", "sortedcontainers")
#: A test module that imports anything beyond these is left at home.
AT_HAND = {"logic", "tests", "pytest", "hypothesis", "tinydb", "pint", "reportlab", "uncertainties"}
NOT_THERE = {"subprocess", "threading", "multiprocessing", "socket", "ssl", "fcntl"}


def imported(module: Path) -> set[str]:
    """Full names of the modules that a file imports."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(module.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names.add(node.module or "")
    return names


def runs_in_a_browser(module: Path) -> bool:
    """Whether all that a test module imports is there in a browser."""
    names = imported(module)
    helping = [TESTS.parent / f"{name.replace('.', '/')}.py" for name in names if name.startswith("tests.")]
    there = (AT_HAND | sys.stdlib_module_names) - NOT_THERE
    return {name.partition(".")[0] for name in names} <= there and all(map(runs_in_a_browser, helping))


def modules() -> list[Path]:
    return [path for room in ("logic", "checks") for path in sorted((TESTS / room).rglob("*.py"))]


def files_of_tests() -> dict[str, bytes]:
    """The tests that can run there, with the published rows they read, by their names in the archive."""
    files = [path for path in modules() if runs_in_a_browser(path)] + sorted(TESTS.rglob("checks/*.csv"))
    return {f"tests/{path.relative_to(TESTS).as_posix()}": path.read_bytes() for path in files}


def runner_files() -> dict[str, bytes]:
    found = {}
    for name in RUNNERS:
        package = metadata.distribution(name)
        for file in package.files or ():
            inside = PurePosixPath(file.as_posix())
            if inside.suffix == ".py" and ".." not in inside.parts:
                found[f"__pypackages__/{inside}"] = Path(str(package.locate_file(file))).read_bytes()
        about = f"Metadata-Version: 2.1\nName: {name}\nVersion: {package.version}\n"
        found[f"__pypackages__/{name}-{package.version}.dist-info/METADATA"] = about.encode()
    return found


@pytest.fixture(scope="module")
def logic_site(build: Build) -> Path:
    page = Path(__file__).with_name("logic_page.py").read_bytes()
    with pytest.MonkeyPatch.context() as patch:
        # Pytest needs parts of Python's own library that the app is shipped without.
        patch.setattr(stdlib, "modules", stdlib.whole)
        return build(instead={"mobile_app/main.py": page, **runner_files(), **files_of_tests()})


def test_hardly_a_test_of_the_logic_is_left_at_home() -> None:
    left = [path for path in modules() if not runs_in_a_browser(path)]
    assert len(left) <= len(modules()) / 10, left


BIG = ("logic/measure", "logic/records")
REST = sorted(
    {
        f"logic/{path.relative_to(TESTS / 'logic').parts[0]}"
        for path in modules()
        if TESTS / "logic" in path.parents
    }
    - set(BIG)
)


@pytest.mark.parametrize(
    ("what", "least"), [("logic/measure", 900), ("logic/records", 250), (",".join([*REST, "checks"]), 1400)]
)
def test_the_logic_holds_in_the_browser_s_python(
    what: str, least: int, logic_site: Path, serve: Callable[..., Host], phones: Callable[..., Phone]
) -> None:
    """what: folders and files below tests; least: how many tests must have passed."""
    phone = phones(serve(logic_site))
    phone.open(f"#/{what}")

    def heard() -> list[str]:
        phone.page.wait_for_timeout(100)
        return [line.partition("logic: ")[2] for line in phone.said if "logic: " in line]

    try:
        tally = json.loads(until(heard, 300, f"word of {what}")[0])
    except AssertionError as late:
        raise AssertionError("\n".join((str(late), *phone.said[-20:], *phone.troubles))) from late
    assert tally["failed"] == []
    assert tally["passed"] >= least
