"""The built site, looked at as files: nothing is missing, nothing leads elsewhere, the traps are closed."""

import hashlib
import io
import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import brotli
import pytest
from pypdf import PdfReader

from mobile_app.bundle import BundleError, Options, build, bytecode, client, is_stale, press, site, sources
from mobile_app.bundle.archive import pack
from mobile_app.bundle.sources import PROJECT, Member
from tests.mobile_app.test_cli_reckon import JOB

HUB = "https://hub.example.com"


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("bundle") / "site"
    build(folder, Options(base_url="turf", hub=HUB, quality=1))
    return folder


@pytest.fixture(scope="module")
def inner(out: Path) -> Path:
    (folder,) = (out / "b").iterdir()
    return folder


@pytest.fixture(scope="module")
def archive(inner: Path) -> tarfile.TarFile:
    return tarfile.open(inner / "app.tar")


def listed(out: Path) -> list[tuple[str, str, int, str]]:
    text = (out / "sw.js").read_text("utf-8")
    rows = re.search(r"const FILES = (\[.*?\n\]);", text, re.S)
    assert rows is not None
    return [tuple(row) for row in json.loads(rows[1])]


def test_the_list_to_store_names_every_file_with_its_hash(out: Path) -> None:
    rows = listed(out)
    for path, sha256, size, _engine in rows:
        data = (out / path).read_bytes()
        assert (len(data), hashlib.sha256(data).hexdigest()) == (size, sha256)
    plain = {
        p.relative_to(out).as_posix()
        for p in out.rglob("*")
        if p.is_file() and p.suffix not in (".br", ".gz")
    }
    left_out = plain - {row[0] for row in rows}
    assert {name.rsplit("/", 1)[-1] for name in left_out} <= {
        "index.html",  # the copy at the top; the build's own is in the list
        "sw.js",
        "build.json",
        "licences.txt",
        "NOTICES",
        "screenshot-narrow.png",
        "screenshot-wide.png",
    }


@pytest.mark.parametrize("engine", ["wasm", "script"])
def test_a_first_visit_is_small_on_the_wire(out: Path, engine: str) -> None:
    """Bytes of all that a first visit fetches, compressed by brotli at quality 5.

    What is published is compressed at quality 11, which makes it 15 % smaller: `tests/bench/wire.py` has it
    beside the framework's own. The second engine's client is the larger one.
    """
    files = [out / path for path, _, _, only in listed(out) if only in ("", engine)]
    sizes = [
        path.stat().st_size
        if path.suffix in press.PLAIN
        else len(brotli.compress(path.read_bytes(), quality=5))
        for path in files
    ]
    assert 5_000_000 < sum(sizes) < {"wasm": 12_000_000, "script": 13_100_000}[engine]


def test_each_engine_has_a_whole_client(out: Path) -> None:
    only = {(path.rsplit("/", 1)[-1], engine) for path, _, _, engine in listed(out) if engine}
    assert only == {
        ("main.dart.wasm", "wasm"),
        ("main.dart.mjs", "wasm"),
        ("skwasm.js", "wasm"),
        ("skwasm.wasm", "wasm"),
        ("main.dart.js", "script"),
        ("canvaskit.js", "script"),
        ("canvaskit.wasm", "script"),
    }


def test_the_page_has_no_script_of_its_own_and_a_policy_that_forbids_others(out: Path) -> None:
    page = (out / "index.html").read_text("utf-8")
    assert re.findall(r"<script(?![^>]*\bsrc=)", page) == []
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', page)
    assert policy is not None
    directives = dict(part.split(" ", 1) for part in policy[1].split("; "))
    assert directives["default-src"] == "'none'"
    assert directives["script-src"] == "'self' 'wasm-unsafe-eval'"
    assert directives["connect-src"].split() == ["'self'", HUB, "blob:", "data:"]
    others = {word for words in directives.values() for word in words.split() if "//" in word or "*" in word}
    assert others == {HUB}


def test_no_file_of_ours_names_another_origin(out: Path, inner: Path) -> None:
    ours = [
        out / "index.html",
        out / "sw.js",
        out / "manifest.json",
        *(inner / name for name in site.SCRIPTS),
    ]
    for path in [*ours, inner / "worker.js"]:
        found = set(re.findall(r"https?://[^\s\"'`<>;]+", path.read_text("utf-8")))
        assert found <= {HUB}, path.name


def test_the_page_may_be_zoomed_and_knows_where_it_lives(out: Path) -> None:
    page = (out / "index.html").read_text("utf-8")
    assert '<base href="/turf/">' in page
    assert "user-scalable" not in page
    assert "maximum-scale" not in page


def test_the_loader_registers_no_service_worker(inner: Path) -> None:
    text = (inner / "flutter_bootstrap.js").read_text("utf-8")
    assert "serviceWorkerVersion:" not in text.split("_flutter.loader.load(", 1)[1]
    assert not list(inner.rglob("flutter_service_worker*"))


@pytest.mark.parametrize("text", ["load({})", "serviceWorkerSettings: {a},serviceWorkerSettings: {b},"])
def test_another_loader_than_the_known_one_fails_the_build(
    text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "flutter_bootstrap.js").write_text(text, "utf-8")
    monkeypatch.setenv("FLET_WEB_PATH", str(tmp_path))
    with pytest.raises(client.TrapError, match="service worker settings"):
        client.bootstrap()


def test_nothing_is_shipped_that_nobody_runs(inner: Path) -> None:
    names = {path.name for path in inner.rglob("*")}
    assert not {
        name for name in names if name.endswith((".map", ".symbols", ".d.ts", ".exe", ".bat", ".whl"))
    }
    assert "pyodide-lock.json" not in names


def test_the_archive_holds_the_app_and_its_packages_but_not_the_builder(archive: tarfile.TarFile) -> None:
    names = set(archive.getnames())
    assert {"mobile_app/main.py", "logic/units.py", "__pypackages__/PIL/Image.py"} <= names
    assert not [n for n in names if re.match(r"mobile_app/(bundle|web|hub|cli|serve)\b", n)]
    assert not [n for n in names if n.endswith(".so") or "/tests/" in n or "requirements" in n]
    packages = {n.split("/")[1].split(".")[0] for n in names if n.startswith("__pypackages__/")}
    wanted = (
        "flet repath six msgpack tinydb pint flexcache flexparser platformdirs typing_extensions reportlab"
    )
    assert {*wanted.split(), "charset_normalizer", "uncertainties", "PIL"} <= packages


def test_the_tables_that_the_logic_reads_are_in_the_archive(archive: tarfile.TarFile) -> None:
    here = {p.relative_to(PROJECT).as_posix() for p in (PROJECT / "assets" / "tables").glob("*.csv")}
    assert here
    assert here <= set(archive.getnames())


def test_packages_without_comments_and_docstrings_reckon_and_print_as_before(
    archive: tarfile.TarFile, tmp_path: Path
) -> None:
    shipped = [m for m in archive.getmembers() if re.match(r"__pypackages__/(?!flet/|.*\.pyc$)", m.name)]
    archive.extractall(tmp_path, shipped, filter="data")
    (tmp_path / "job.json").write_text(json.dumps(JOB), "utf-8")

    def figures(path: str) -> str:
        program = "import sys, pint; print(pint.__file__); from mobile_app import cli; cli.main(sys.argv[1:])"
        arguments = ("reckon", str(tmp_path / "job.json"), "--pdf", str(tmp_path / "out.pdf"))
        run = subprocess.run(
            [sys.executable, "-c", program, *arguments],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONPATH": path},
        )
        where, _, rest = run.stdout.partition("\n")
        assert where.startswith(path)
        return rest

    with_shipped = figures(str(tmp_path / "__pypackages__"))
    pdf = PdfReader(tmp_path / "out.pdf").pages[0].extract_text()
    assert with_shipped == figures("")
    assert pdf == PdfReader(tmp_path / "out.pdf").pages[0].extract_text()


def test_every_module_of_the_archive_is_valid_python(archive: tarfile.TarFile) -> None:
    for entry in archive.getmembers():
        if entry.name.endswith(".py"):
            file = archive.extractfile(entry)
            assert file is not None
            compile(file.read(), entry.name, "exec", dont_inherit=True)


def test_the_library_of_python_is_shortened_and_reads_as_a_plain_zip(inner: Path) -> None:
    with zipfile.ZipFile(inner / "pyodide" / "python_stdlib.zip") as library:
        assert {entry.compress_type for entry in library.infolist()} == {zipfile.ZIP_STORED}
        names = {entry.filename.split(".")[0] for entry in library.infolist()}
    assert {"asyncio/__init__", "decimal", "zoneinfo/__init__", "encodings/utf_8"} <= names
    assert not names & {"unittest/__init__", "pdb", "sqlite3/__init__", "encodings/cp1251"}


def test_what_a_first_start_imports_is_compiled_where_node_is_at_hand(
    inner: Path, archive: tarfile.TarFile
) -> None:
    with zipfile.ZipFile(inner / "pyodide" / "python_stdlib.zip") as library:
        modules = {name: library.read(name) for name in library.namelist()}
    for member in archive.getmembers():
        if member.name.startswith(tuple(f"__pypackages__/{name}" for name in sources.FIRST)):
            file = archive.extractfile(member)
            assert file is not None
            modules[member.name] = file.read()
    assert [name for name in modules if name.endswith(".py")] == []
    # The head of bytecode (PEP 552): Python 3.14's number, then "found by a hash that nobody checks".
    for name, data in modules.items():
        if name.endswith(".pyc"):
            assert data[:8] == (3627).to_bytes(2, "little") + b"\r\n" + (1).to_bytes(4, "little"), name


def test_without_node_the_sources_are_shipped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bytecode, "node", lambda: None)
    files = {"a.py": b"pass", "b.json": b"{}"}
    assert bytecode.compiled(files, "app/") == files


def test_a_node_that_fails_leaves_the_sources(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bytecode, "node", lambda: shutil.which("false"))
    assert bytecode.compiled({"a.py": b"never seen before"}, "app/") == {"a.py": b"never seen before"}


def test_the_default_font_is_ours_and_every_listed_font_is_there(inner: Path) -> None:
    families = {
        f["family"]: f["fonts"] for f in json.loads((inner / "assets/FontManifest.json").read_text("utf-8"))
    }
    assert set(families) == {"MaterialIcons", "Sward", "Roboto"}
    assert families["Roboto"] == families["Sward"]
    for fonts in families.values():
        for font in fonts:
            assert (inner / "assets" / font["asset"]).is_file()


def test_the_manifest_lets_a_phone_install_it(out: Path) -> None:
    manifest = json.loads((out / "manifest.json").read_text("utf-8"))
    assert (manifest["name"], manifest["id"], manifest["display"]) == ("Swardwright", "./", "standalone")
    assert (manifest["background_color"], manifest["theme_color"]) == ("#F7F5EC", "#1E4D2B")
    icons = {(icon["sizes"], icon["purpose"]) for icon in manifest["icons"]}
    assert icons == {(s, p) for s in ("192x192", "512x512") for p in ("any", "maskable")}
    assert {shot["form_factor"] for shot in manifest["screenshots"]} == {"narrow", "wide"}
    for picture in manifest["icons"] + manifest["screenshots"]:
        data = (out / picture["src"]).read_bytes()
        assert data[:8] == b"\x89PNG\r\n\x1a\n"
        width, height = int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big")
        assert f"{width}x{height}" == picture["sizes"]
    page = (out / "index.html").read_text("utf-8")
    for link in re.findall(r'<link rel="(?:icon|apple-touch-icon|manifest)" href="([^"]+)"', page):
        assert (out / link).is_file()


def test_pressed_copies_unpress_to_the_file(out: Path) -> None:
    pressed = sorted(out.rglob("*.br"))
    assert len(pressed) > 10
    for path in pressed:
        assert brotli.decompress(path.read_bytes()) == path.with_suffix("").read_bytes()
        assert path.with_suffix(".gz").is_file()


def test_the_licences_of_all_that_is_shipped_are_there(out: Path) -> None:
    text = (out / "licences.txt").read_text("utf-8")
    for name in ("flet", "tinydb", "Pint", "reportlab", "uncertainties", "msgpack"):
        assert re.search(rf"^{name} \d", text, re.M | re.I), name


def test_the_same_input_gives_the_same_build(tmp_path: Path) -> None:
    first = build(tmp_path / "a", Options(quality=0))
    assert build(tmp_path / "b", Options(quality=0)) == first
    assert build(tmp_path / "c", Options(quality=0), instead={"mobile_app/main.py": b"pass"}) != first


def test_a_build_is_stale_when_options_change_or_it_was_not_finished(out: Path, tmp_path: Path) -> None:
    assert not is_stale(out, Options(base_url="turf", hub=HUB, quality=1))
    assert is_stale(out, Options(base_url="turf", hub=HUB, quality=2))
    assert is_stale(out, Options(quality=1))
    assert is_stale(tmp_path)


def test_a_folder_with_other_things_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "accounts.txt").write_text("keep me", "utf-8")
    with pytest.raises(BundleError, match="holds other things"):
        build(tmp_path)
    assert (tmp_path / "accounts.txt").read_text("utf-8") == "keep me"


@pytest.mark.parametrize(
    "hub",
    [
        "hub.example.com",
        "https://hub.example.com/path",
        "https://a.example; script-src *",
        "javascript:alert(1)",
        "https://*",
        "https://",
    ],
)
def test_a_hub_that_is_not_an_origin_is_refused(hub: str, tmp_path: Path) -> None:
    with pytest.raises(BundleError, match="could not be built"):
        build(tmp_path / "site", Options(hub=hub))


def test_an_archive_opens_elsewhere_and_refuses_doubles() -> None:
    long = "folder/" * 20 + "name.txt"
    members = [Member("b.py", b"b"), Member(long, b"long"), Member("a.py", b"")]
    with tarfile.open(fileobj=io.BytesIO(pack(members))) as opened:
        assert opened.getnames() == ["a.py", "b.py", long]
        assert all(entry.mtime == 0 and entry.uid == 0 for entry in opened)
    assert pack(members) == pack(reversed(members))
    with pytest.raises(ValueError, match="twice"):
        pack([Member("a", b"1"), Member("a", b"2")])
