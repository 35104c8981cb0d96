"""The parts of the site that are filled in at build time: page, manifest, service worker, security policy."""

import hashlib
import json
import re
from dataclasses import dataclass
from html import escape
from urllib.parse import urlsplit

from mobile_app.bundle.client import ENGINES, REFERENCE
from mobile_app.bundle.sources import PROJECT, WEB

NAME = "Swardwright"
DESCRIPTION = (
    "Works out, records and reports the renovation of small lawns and putting greens, with no signal."
)
SCRIPTS = (
    "recovery.js",
    "start.js",
    "link.js",
    "sheet.js",
    "motion.js",
    "files.js",
    "keypad.js",
    "update.js",
    "archive.js",
    "worker.js",
    "maker.js",
    "snapshot.js",
)


@dataclass(frozen=True)
class File:
    """A file of the site as the service worker's list has it."""

    path: str
    data: bytes
    engine: str = ""


def policy(hub: str = "") -> str:
    """The Content-Security-Policy: nothing but the app's own origin, and the hub when one is configured.

    WebAssembly must be compiled ('wasm-unsafe-eval'); the client writes style elements and draws pictures
    from memory.
    Raises ValueError when `hub` is not a bare http(s) origin.
    """
    if hub:
        parts = urlsplit(hub)
        if (
            parts.scheme not in ("http", "https")
            or not parts.netloc
            or hub != f"{parts.scheme}://{parts.netloc}"
        ):
            raise ValueError(f"The hub must be an origin such as https://hub.example.com, not {hub!r}.")
        if not re.fullmatch(r"[A-Za-z0-9.:\[\]-]+", parts.netloc):
            raise ValueError(f"The hub's address {hub!r} is not a host name.")
    connect = f"'self' {hub}".strip()
    return "; ".join(
        (
            "default-src 'none'",
            "script-src 'self' 'wasm-unsafe-eval'",
            "worker-src 'self'",
            f"connect-src {connect} blob: data:",
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' blob: data:",
            "media-src 'self' blob:",
            "font-src 'self' data:",
            "manifest-src 'self'",
            "base-uri 'self'",
            "form-action 'none'",
        )
    )


def fill(template: str, **values: str) -> bytes:
    """The web folder's file `template` with every {{placeholder}} filled; a missing one is a KeyError."""
    text = (WEB / template).read_text("utf-8")
    return re.sub(r"\{\{(\w+)\}\}", lambda found: values[found[1]], text).encode()


def index(build: str, base_href: str, hub: str, sizes: dict[str, int]) -> bytes:
    """The page.

    base_href: "./" or the absolute path that the site is served under.
    sizes: bytes of a first visit by engine.
    """
    return fill(
        "index.html",
        base_href=escape(base_href),
        policy=escape(policy(hub), quote=True).replace("&#x27;", "'"),
        description=escape(DESCRIPTION),
        name=NAME,
        build=build,
        hub=escape(hub),
        sizes=escape(json.dumps(sizes)),
        root=f"b/{build}/",
        style=(WEB / "style.css").read_text("utf-8"),
    )


def manifest() -> bytes:
    """The web app manifest, naming only the pictures that exist."""
    content = json.loads(fill("manifest.json", description=DESCRIPTION))
    for kind in ("icons", "screenshots"):
        content[kind] = [p for p in content[kind] if (PROJECT / "assets" / p["src"]).is_file()]
    return json.dumps(content, indent=1).encode()


def pictures() -> dict[str, bytes]:
    """Icons and the manifest's screenshots by their path in the site, without the pictures of the read-me."""
    folder = PROJECT / "assets" / "icons"
    found = {
        f"icons/{p.name}": p.read_bytes()
        for p in sorted(folder.glob("*.png"))
        if not p.name.startswith("shot-")
    }
    favicon = found.get("icons/favicon.png") or found.get("icons/icon-192.png")
    return found | ({"favicon.png": favicon} if favicon else {})


def sizes(files: dict[str, bytes]) -> dict[str, int]:
    """Bytes that each engine's first visit fetches, unpacked; `files` by their path inside the build."""
    needed = {path: len(data) for path, data in files.items() if path not in REFERENCE}
    return {
        engine: sum(size for path, size in needed.items() if ENGINES.get(path, engine) == engine)
        for engine in set(ENGINES.values())
    }


def build_id(files: dict[str, bytes]) -> str:
    """The build's name: a hash over every path and its bytes."""
    digest = hashlib.sha256()
    for path in sorted(files):
        digest.update(f"{path}\n{len(files[path])}\n".encode())
        digest.update(files[path])
    return digest.hexdigest()[:16]


def service_worker(build: str, files: dict[str, bytes]) -> bytes:
    """The service worker with its list of files to store: path, hash, size, the engine that needs it."""
    rows = []
    for path in sorted(files):
        inner = path.removeprefix(f"b/{build}/")
        if inner in REFERENCE or "screenshot" in path:
            continue
        rows.append([path, hashlib.sha256(files[path]).hexdigest(), len(files[path]), ENGINES.get(inner, "")])
    return fill("sw.js", build=build, files=json.dumps(rows, indent=0))
