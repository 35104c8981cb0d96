"""The rules that keep the project in shape: who imports whom, what a module says, what no file may hold."""

from __future__ import annotations

import ast
import csv
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from logic.figure import TRUST

ROOT = Path(__file__).resolve().parents[1]
MOST_LINES = 400

#: Inside `logic` each may import those before it, and itself. First the single modules, then the rooms.
ORDER = (
    "errors",
    "numbers",
    "units",
    "figure",
    "tables",
    "bearing",
    "field",
    "typed",
    "measure",
    "survey",
    "works",
    "programme",
    "supply",
    "records",
    "sync",
    "report",
)
#: What only the console, the build and the hub may use; the app runs in the browser without it.
OUTSIDE = (
    "mobile_app.bundle",
    "mobile_app.serve",
    "mobile_app.cli",
    "mobile_app.hub",
    "mobile_app.reckon_command",
)
CONSOLE = ("mobile_app/bundle/", "mobile_app/hub/", "mobile_app/cli.py", "mobile_app/serve.py")
#: The public record types and visits; the store itself is the App's alone.
STORE = (
    "book",
    "journal",
    "entry",
    "folder",
    "tape",
    "table",
    "state",
    "past",
    "recovery",
    "backup",
    "search",
)
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "mobile_app", "logic", "tests", "assets"}


def modules(*rooms: str) -> list[Path]:
    """Every Python file under the rooms."""
    found = [path for room in rooms for path in sorted((ROOT / room).rglob("*.py"))]
    assert found, rooms
    return found


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def imports(path: Path) -> Iterator[tuple[str, str]]:
    """(module, name) of every import in a file, those within functions too; `import module` has name ""."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, ""
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{named(path)}: relative import"
            for alias in node.names:
                yield node.module or "", alias.name


def imported_modules(path: Path) -> Iterator[str]:
    """Dotted names that a file imports; `from logic import tables` counts as logic.tables."""
    for module, name in imports(path):
        yield f"{module}.{name}" if name and (ROOT / module.replace(".", "/")).is_dir() else module


def inside(name: str, *packages: str) -> bool:
    return any(name == package or name.startswith(f"{package}.") for package in packages)


def ids(paths: list[Path]) -> list[str]:
    return [named(path) for path in paths]


LOGIC, APP = modules("logic"), modules("mobile_app")
EVERY = modules("logic", "mobile_app", "tests", "assets")


# --- who imports whom -----------------------------------------------------------------------------


@pytest.mark.parametrize("path", LOGIC, ids=ids(LOGIC))
def test_logic_knows_nothing_of_the_app_the_browser_or_the_network(path: Path) -> None:
    forbidden = (
        "flet",
        "mobile_app",
        "js",
        "pyodide",
        "socket",
        "ssl",
        "http",
        "httpx",
        "urllib",
        "requests",
    )
    forbidden += ("threading", "multiprocessing", "subprocess", "asyncio", "PIL", "numpy")
    assert [name for name in imported_modules(path) if inside(name, *forbidden)] == []


@pytest.mark.parametrize("path", LOGIC, ids=ids(LOGIC))
def test_inside_logic_imports_go_one_way(path: Path) -> None:
    parts = path.relative_to(ROOT / "logic").with_suffix("").parts
    if parts == ("__init__",):
        return
    assert parts[0] in ORDER, f"say in ORDER where {parts[0]} stands"
    allowed = ORDER[: ORDER.index(parts[0]) + 1]
    for name in imported_modules(path):
        if inside(name, "logic") and name != "logic":
            assert name.split(".")[1] in allowed, f"{named(path)} imports {name}"


@pytest.mark.parametrize("path", APP, ids=ids(APP))
def test_what_runs_in_the_browser_imports_nothing_of_the_console(path: Path) -> None:
    if not named(path).startswith((*CONSOLE, "mobile_app/reckon_command.py")):
        assert [name for name in imported_modules(path) if inside(name, *OUTSIDE)] == []


SCREENS = modules("mobile_app/screens", "mobile_app/parts")


@pytest.mark.parametrize("path", SCREENS, ids=ids(SCREENS))
def test_screens_reach_the_store_and_the_device_only_through_the_app(path: Path) -> None:
    store = [f"logic.records.{name}" for name in STORE]
    banned = (*store, "logic.sync", "mobile_app.device", "tinydb")
    assert [name for name in imported_modules(path) if inside(name, *banned)] == []


def test_parts_are_shared_by_screens_and_know_none_of_them() -> None:
    for path in modules("mobile_app/parts"):
        assert [name for name in imported_modules(path) if inside(name, "mobile_app.screens")] == []


def test_the_hub_knows_no_screens() -> None:
    for path in APP:
        if named(path).startswith("mobile_app/hub/"):
            assert [
                n for n in imported_modules(path) if inside(n, "mobile_app.screens", "mobile_app.parts")
            ] == []


BOTH = [*LOGIC, *APP]


@pytest.mark.parametrize("path", BOTH, ids=ids(BOTH))
def test_private_names_stay_where_they_are(path: Path) -> None:
    for module, name in imports(path):
        if inside(module, "logic", "mobile_app", "assets"):
            assert not re.match(r"_(?!_)", name), f"{named(path)} imports {module}.{name}"
            assert not any(part.startswith("_") for part in module.split(".")), module
    ours = {name for module, name in imports(path) if inside(module, "logic", "mobile_app") and name}
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in ours:
            assert not re.match(r"_(?!_)", node.attr), f"{named(path)} reaches {node.value.id}.{node.attr}"


# --- what every module is like --------------------------------------------------------------------


@pytest.mark.parametrize("path", EVERY, ids=ids(EVERY))
def test_a_module_says_what_it_is_for_and_fits_in_the_head(path: Path) -> None:
    text = path.read_text("utf-8")
    assert ast.get_docstring(tree(path)), f"{named(path)} begins with no sentence"
    assert len(text.splitlines()) <= MOST_LINES


@pytest.mark.parametrize("path", BOTH, ids=ids(BOTH))
def test_what_is_public_is_described(path: Path) -> None:
    kinds = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef
    silent = [
        node.name
        for node in tree(path).body
        if isinstance(node, kinds) and not node.name.startswith("_") and not ast.get_docstring(node)
    ]
    assert silent == []


def test_nothing_is_left_undone_or_passed_over() -> None:
    marks = [split(words) for words in ("TO|DO", "FIX|ME", "mark.sk|ip", "mark.xf|ail", "pytest.xf|ail(")]
    found = [(named(path), mark) for path in EVERY for mark in marks if mark in path.read_text("utf-8")]
    assert found == []


# --- tables ---------------------------------------------------------------------------------------

TABLES = sorted((ROOT / "assets" / "tables").glob("*.csv"))


@pytest.mark.parametrize("path", TABLES, ids=ids(TABLES))
def test_every_row_of_a_table_has_its_columns_a_source_and_a_known_trust(path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        header, *lines = csv.reader(file)
    assert lines, "an empty table"
    assert len(set(header)) == len(header)
    assert ("source" in header) == ("trust" in header)
    for number, line in enumerate(lines, start=2):
        assert len(line) == len(header), f"{path.name}, line {number}"
        row = dict(zip(header, line, strict=True))
        if "trust" in row:
            assert row["trust"] in TRUST, f"{path.name}, line {number}: {row['trust']}"
            published = row["trust"] in ("published", "second-hand")
            assert row["source"].strip() or not published, f"{path.name}, line {number} has no source"


# --- what no file may hold ------------------------------------------------------------------------


def texts() -> Iterator[tuple[str, str]]:
    """(name, text) of every text file of the project, but for what is generated and hidden."""
    for top in (*sorted(TOP), ".ci", ".gitignore"):
        base = ROOT / top
        for path in [base] if base.is_file() else sorted(base.rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                data = path.read_bytes()
                if b"\0" not in data[:4096]:
                    yield path.relative_to(ROOT).as_posix(), data.decode("utf-8")


def split(word: str) -> str:
    """A word that this file must not hold itself, written with a bar in it."""
    return word.replace("|", "")


def test_no_file_names_a_place_of_one_machine_or_a_package_registry() -> None:
    roots = [split(word) for word in ("/wo|rk/", "/tm|p/w/", "/ho|me/", "/ro|ot/", "C:\\Us|ers")]
    hosts = [split(word) for word in ("pypi.o|rg", "pythonho|sted", "npm|js", "crates.i|o", "shared/che|cks")]
    place = re.compile("|".join([*(rf"(?<![\w./-]){re.escape(r)}" for r in roots), *map(re.escape, hosts)]))
    assert [(name, found[0]) for name, text in texts() if (found := place.search(text))] == []


def test_no_file_tells_of_how_it_came_about() -> None:
    words = re.compile(f"{split('trans|cript')}|{split('seed docu|ment')}", re.IGNORECASE)
    assert [name for name, text in texts() if words.search(text)] == []


def test_the_top_of_the_project_holds_its_rooms_and_nothing_else() -> None:
    here = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert {name for name in here if not name.endswith(".egg-info")} - {"build", "dist"} == TOP
    assert (ROOT / ".ci" / "run").is_file()
