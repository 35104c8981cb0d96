"""Hands out the built web app: the files as they are, the compressed copy when the browser takes it."""

import mimetypes
import socket
import sys
import threading
from contextlib import suppress
from dataclasses import dataclass
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urlsplit

from mobile_app.bundle.site import policy

TYPES = {
    ".js": "text/javascript",
    ".mjs": "text/javascript",
    ".wasm": "application/wasm",
    ".json": "application/json",
    ".html": "text/html; charset=utf-8",
    ".tar": "application/x-tar",
    ".otf": "font/otf",
    ".ttf": "font/ttf",
    ".woff2": "font/woff2",
    ".frag": "text/plain",
}


@dataclass(frozen=True)
class Answer:
    """What a request for a path gets."""

    status: HTTPStatus
    headers: tuple[tuple[str, str], ...] = ()
    body: bytes = b""


class Site:
    """The files of one folder under one path, whatever speaks HTTP in front of them."""

    def __init__(self, root: Path, prefix: str = "/", hub: str = "") -> None:
        self.root = root.resolve()
        self.prefix = prefix
        self.policy = f"{policy(hub)}; frame-ancestors 'none'"

    def answer(self, path: str, accept_encoding: str) -> Answer:
        """path: as it stands in the request, still quoted; accept_encoding: the header of that name."""
        path = unquote(urlsplit(path).path)
        if path + "/" == self.prefix:
            return Answer(HTTPStatus.MOVED_PERMANENTLY, (("Location", self.prefix),))
        file = self._file(path)
        if file is None:
            return Answer(HTTPStatus.NOT_FOUND)
        encoding, data = self._encoded(file, accept_encoding)
        kind = TYPES.get(file.suffix) or mimetypes.guess_type(file.name)[0] or "text/plain"
        headers = [("Content-Type", kind)]
        if encoding:
            headers.append(("Content-Encoding", encoding))
        headers += [("Vary", "Accept-Encoding"), ("Cache-Control", self._keeping(file))]
        return Answer(HTTPStatus.OK, (*headers, *self._safety_headers()), data)

    def _file(self, path: str) -> Path | None:
        if not path.startswith(self.prefix) or "\0" in path:
            return None
        inner = path[len(self.prefix) :] or "index.html"
        file = (self.root / inner).resolve()
        try:
            served = file.is_relative_to(self.root) and file.is_file()
        except OSError:  # a name longer than any file has
            return None
        return file if served and file.suffix not in (".br", ".gz") else None

    def _encoded(self, file: Path, accept_encoding: str) -> tuple[str, bytes]:
        accepted = {part.split(";")[0].strip() for part in accept_encoding.split(",")}
        for encoding, ending in (("br", ".br"), ("gzip", ".gz")):
            pressed = file.with_name(file.name + ending)
            if encoding in accepted and pressed.is_file():
                return encoding, pressed.read_bytes()
        return "", file.read_bytes()

    def _keeping(self, file: Path) -> str:
        # A file of a build never changes: its address names the build.
        inside_build = file.relative_to(self.root).parts[0] == "b"
        return "public, max-age=31536000, immutable" if inside_build else "no-cache"

    def _safety_headers(self) -> tuple[tuple[str, str], ...]:
        return (
            ("Content-Security-Policy", self.policy),
            ("X-Content-Type-Options", "nosniff"),
            ("Referrer-Policy", "no-referrer"),
            ("Cross-Origin-Opener-Policy", "same-origin"),
            ("Permissions-Policy", "interest-cohort=()"),
        )


class SiteServer(ThreadingHTTPServer):
    """Serves one folder under one path. `sent` counts the bytes of the bodies sent, for the bench."""

    daemon_threads = True
    allow_reuse_address = True

    def __init__(self, address: tuple[str, int], root: Path, prefix: str = "/", hub: str = "") -> None:
        super().__init__(address, _Handler)
        self.site = Site(root, prefix, hub)
        self.sent = 0
        self.open_connections: set[socket.socket] = set()
        self.counting = threading.Lock()

    def note(self, path: str) -> None:
        """Called with every path asked for; for tests to override."""

    def get_request(self) -> tuple[socket.socket, tuple[str, int]]:
        request, client = super().get_request()
        self.open_connections.add(request)
        return request, client

    def shutdown_request(self, request: socket.socket | tuple[bytes, socket.socket]) -> None:
        if isinstance(request, socket.socket):
            self.open_connections.discard(request)
        super().shutdown_request(request)

    def handle_error(self, request: object, client_address: object) -> None:
        """A browser that hangs up early is no error; anything else is."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]

    def close_all(self) -> None:
        """Stops listening and drops every connection that a browser still holds open."""
        self.server_close()
        for connection in list(self.open_connections):
            with suppress(OSError):
                connection.shutdown(socket.SHUT_RDWR)

    @property
    def url(self) -> str:
        host, port = self.server_address[:2]
        return f"http://{host if isinstance(host, str) else host.decode()}:{port}{self.site.prefix}"


class _Handler(BaseHTTPRequestHandler):
    server: SiteServer
    protocol_version = "HTTP/1.1"
    server_version = "Swardwright"
    sys_version = ""

    def do_GET(self) -> None:
        self._answer(body=True)

    def do_HEAD(self) -> None:
        self._answer(body=False)

    def log_message(self, format: str, *args: object) -> None:
        """Keeps the terminal for what the person running it needs to read."""

    def _answer(self, body: bool) -> None:
        self.server.note(self.path)
        found = self.server.site.answer(self.path, self.headers.get("Accept-Encoding", ""))
        if found.status == HTTPStatus.NOT_FOUND:
            self.send_error(found.status, "There is no such page")
            return
        self.send_response(found.status)
        for name, value in found.headers:
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(found.body)))
        self.end_headers()
        if body:
            self.wfile.write(found.body)
            with self.server.counting:
                self.server.sent += len(found.body)
