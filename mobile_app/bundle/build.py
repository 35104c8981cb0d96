"""Puts the site together and writes it: all of it, then the page and the service worker last."""

import json
import shutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

from mobile_app.bundle import archive, bytecode, client, site, sources, stdlib
from mobile_app.bundle.press import press_all

Progress = Callable[[str, float], None]
STAMP = "build.json"


class BundleError(Exception):
    """The site could not be built; the message says why in one sentence."""


@dataclass(frozen=True)
class Options:
    """What a build can be asked for.

    base_url: path that the site is served under ("/", "/sub/") or "" for wherever the page is found.
    hub: origin of the hub that the app may talk to, or "".
    quality: brotli's effort, 0 to 11; 11 takes a minute or two and is for publishing.
    """

    base_url: str = ""
    hub: str = ""
    quality: int = 5

    @property
    def base_href(self) -> str:
        inner = self.base_url.strip("/")
        return "./" if not self.base_url else f"/{inner}/" if inner else "/"

    def fingerprint(self) -> str:
        return sources.fingerprint((self.base_href, self.hub, str(self.quality), str(bool(bytecode.node()))))


def is_stale(out: Path, options: Options | None = None) -> bool:
    """Whether `out` holds no finished build of these very sources and options."""
    try:
        stamp = json.loads((out / STAMP).read_text("utf-8"))
    except (OSError, ValueError):
        return True
    return not isinstance(stamp, dict) or stamp.get("fingerprint") != (options or Options()).fingerprint()


def build(
    out: Path,
    options: Options | None = None,
    progress: Progress = lambda step, share: None,
    instead: Mapping[str, bytes] | None = None,
) -> str:
    """Writes the static site into `out` and returns the build's id.

    out: a folder of its own, emptied when it holds an earlier build, refused when it holds anything else.
    progress: called with a step's name and the share done, 0 to 1.
    instead: files for the archive that replace or join the project's own, by name, e.g. "mobile_app/main.py".
    Raises BundleError when `out` cannot be used or the installed packages are not what is expected.
    """
    options = options or Options()
    fingerprint = options.fingerprint()
    try:
        site.policy(options.hub)
        _clear(out)
        progress("Gathering the app", 0.05)
        files = _contents(instead or {})
        sizes = site.sizes(files)
        build = site.build_id({**files, "options": f"{options.base_href} {options.hub}".encode()})
        files = {f"b/{build}/{path}": data for path, data in files.items()}
        page = site.index(build, options.base_href, options.hub, sizes)
        files[f"b/{build}/index.html"] = page
        files["manifest.json"] = site.manifest()
        files |= site.pictures()
        progress("Writing the site", 0.2)
        written = _write(out, {**files, "sw.js": site.service_worker(build, files), "index.html": page})
        progress("Compressing", 0.4)
        press_all(written, options.quality)
    except (client.TrapError, ValueError, OSError, metadata.PackageNotFoundError) as error:
        raise BundleError(f"The web app could not be built: {error}") from error
    (out / "licences.txt").write_text(sources.licences(), "utf-8")
    (out / STAMP).write_text(json.dumps({"fingerprint": fingerprint, "build": build}), "utf-8")
    progress("Done", 1.0)
    return build


def _contents(instead: Mapping[str, bytes]) -> dict[str, bytes]:
    """Every file of the build proper, by its path inside b/<build>/."""
    files = client.client_files()
    files["flutter_bootstrap.js"] = client.bootstrap()
    fonts = _screen_fonts()
    files["assets/FontManifest.json"] = client.font_manifest(*(f"fonts/{path.name}" for path in fonts))
    files |= {f"assets/fonts/{path.name}": path.read_bytes() for path in fonts}
    for name in site.SCRIPTS:
        files[name] = (sources.WEB / name).read_bytes()
    files["python.js"] = site.fill("python.js", lock=client.lock_file())
    files["pyodide/python_stdlib.zip"] = stdlib.zipped(bytecode.compiled(stdlib.modules(), stdlib.HOME))
    own = {member.name: member.data for member in sources.project_members()} | dict(instead)
    members = [*_packages(), *(sources.Member(name, data) for name, data in own.items())]
    files["app.tar"] = archive.pack(members)
    return files


def _packages() -> Iterator[sources.Member]:
    """The packages' files, what the first screen needs compiled: all of it would be half as large again."""
    first = {}
    for member in sources.package_members():
        if member.name.split("/")[1].removesuffix(".py") in sources.FIRST:
            first[member.name] = member.data
        else:
            yield member
    for name, data in bytecode.compiled(first, "app/").items():
        yield sources.Member(name, data)


def _screen_fonts() -> list[Path]:
    """Regular and bold of the family drawn with: it has a glyph, if only a box, for everything."""
    folder = sources.PROJECT / "assets" / "fonts"
    fonts = [folder / f"Sward-Screen-{style}.ttf" for style in ("Regular", "Bold")]
    missing = [path.name for path in fonts if not path.is_file()]
    if missing:
        raise OSError(f"assets/fonts lacks {' and '.join(missing)}")
    return fonts


def _clear(out: Path) -> None:
    if out.exists() and (not out.is_dir() or (any(out.iterdir()) and not (out / STAMP).exists())):
        raise OSError(f"{out} holds other things; name a new or empty folder.")
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    (out / STAMP).write_text("{}", "utf-8")


def _write(out: Path, files: dict[str, bytes]) -> list[Path]:
    written = []
    for name, data in files.items():
        path = out / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
        written.append(path)
    return written
