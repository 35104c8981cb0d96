"""The server: the right bytes with the right labels, and nothing outside its folder."""

import gzip
import http.client
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from mobile_app import cli
from mobile_app.serve import SiteServer

SCRIPT = b"export const grass = 'green';\n" * 100


@pytest.fixture
def server(tmp_path: Path) -> Iterator[SiteServer]:
    root = tmp_path / "site"
    (root / "b" / "x").mkdir(parents=True)
    (root / "index.html").write_bytes(b"<p>page</p>")
    (root / "b" / "x" / "app.js").write_bytes(SCRIPT)
    (root / "b" / "x" / "app.js.gz").write_bytes(gzip.compress(SCRIPT, mtime=0))
    (root / "b" / "x" / "app.js.br").write_bytes(b"brotli's bytes")
    (tmp_path / "secret.txt").write_bytes(b"secret")
    running = SiteServer(("127.0.0.1", 0), root, prefix="/turf/")
    threading.Thread(target=running.serve_forever, args=(0.02,), daemon=True).start()
    yield running
    running.shutdown()
    running.close_all()


def ask(
    server: SiteServer, path: str, accept: str = "", method: str = "GET"
) -> tuple[http.client.HTTPResponse, bytes]:
    connection = http.client.HTTPConnection(*server.server_address[:2], timeout=5)
    connection.request(method, path, headers={"Accept-Encoding": accept} if accept else {})
    response = connection.getresponse()
    body = response.read()
    connection.close()
    return response, body


@pytest.mark.parametrize(
    ("accept", "encoding", "body"),
    [
        ("", None, SCRIPT),
        ("gzip", "gzip", gzip.compress(SCRIPT, mtime=0)),
        ("gzip, deflate, br;q=1.0", "br", b"brotli's bytes"),
        ("deflate", None, SCRIPT),
    ],
)
def test_the_browser_gets_what_it_can_unpack(
    server: SiteServer, accept: str, encoding: str | None, body: bytes
) -> None:
    response, got = ask(server, "/turf/b/x/app.js", accept)
    assert response.status == 200
    assert response.getheader("Content-Encoding") == encoding
    assert got == body
    assert response.getheader("Content-Type") == "text/javascript"
    assert response.getheader("Vary") == "Accept-Encoding"


def test_builds_are_kept_for_ever_and_the_page_never(server: SiteServer) -> None:
    assert "immutable" in str(ask(server, "/turf/b/x/app.js")[0].getheader("Cache-Control"))
    assert ask(server, "/turf/")[0].getheader("Cache-Control") == "no-cache"


def test_every_answer_carries_the_policy(server: SiteServer) -> None:
    policy = str(ask(server, "/turf/")[0].getheader("Content-Security-Policy"))
    assert policy.startswith("default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; ")
    assert "connect-src 'self' blob: data:;" in policy
    assert policy.endswith("frame-ancestors 'none'")


@pytest.mark.parametrize(
    "path",
    [
        "/turf/../secret.txt",
        "/turf/%2e%2e/secret.txt",
        "/turf/..%2fsecret.txt",
        "/turf//etc/passwd",
        "/turf/b",
        "/turf/b/x/app.js.br",
        "/turf/%00",
        "/secret.txt",
        "/turf/nothing",
        "/turf/" + "a" * 3000,
    ],
)
def test_nothing_else_is_served(server: SiteServer, path: str) -> None:
    response, body = ask(server, path)
    assert response.status == 404
    assert b"secret" not in body.replace(b"secret.txt", b"")


def test_head_has_no_body_and_the_bare_path_leads_on(server: SiteServer) -> None:
    response, body = ask(server, "/turf/", method="HEAD")
    assert (response.status, response.getheader("Content-Length"), body) == (200, "11", b"")
    response, _ = ask(server, "/turf")
    assert (response.status, response.getheader("Location")) == (301, "/turf/")


def test_the_command_refuses_in_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "keep.txt").write_text("mine", "utf-8")
    assert cli.main(["bundle", "--out", str(tmp_path)]) == 2
    told = capsys.readouterr().err.strip().splitlines()[-1]
    assert told.startswith("swardwright: The web app could not be built")


def test_a_taken_port_is_one_clear_line(
    server: SiteServer, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    port = str(server.server_address[1])
    assert cli.main(["serve", "--port", port, "--data", str(tmp_path / "data"), "--no-browser"]) == 2
    assert f"Port {port} on 127.0.0.1 cannot be used" in capsys.readouterr().err
