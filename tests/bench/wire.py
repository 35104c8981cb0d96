"""Bytes of a first visit, side by side: the framework's own hello world and this app, compressed alike.

    python tests/bench/wire.py [--quality 11]

Opens both in a new profile, notes every file that the browser asks the server for until it is quiet, ours
with its stored copy and snapshot made, and adds up what those files are once brotli has compressed them.
Prints bytes and their ratio; asserts nothing.
"""

import argparse
import shutil
import sys
import tempfile
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import ClassVar

import brotli
from playwright.sync_api import BrowserContext, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[2]))

from mobile_app.bundle import Options, build
from mobile_app.bundle.press import PLAIN
from tests.bench.launch import OURS, Launcher, settle
from tests.bench.stock import HELLO, build_stock
from tests.journeys.phone import chromium


def noting(root: Path, asked: set[str]) -> ThreadingHTTPServer:
    """A plain server of `root` that adds every path that it is asked for to `asked`."""

    class Handler(SimpleHTTPRequestHandler):
        protocol_version = "HTTP/1.1"
        extensions_map: ClassVar[dict[str, str]] = {
            **SimpleHTTPRequestHandler.extensions_map,
            ".mjs": "text/javascript",
        }

        def log_message(self, format: str, *args: object) -> None:
            asked.add(self.path.partition("?")[0].lstrip("/") or "index.html")

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=root))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return server


def size(path: Path, quality: int) -> int:
    """Bytes of a file on the wire."""
    data = path.read_bytes()
    return len(data) if path.suffix in PLAIN else min(len(data), len(brotli.compress(data, quality=quality)))


def show(name: str, files: list[Path], quality: int) -> int:
    with ThreadPoolExecutor(2) as pool:
        sizes = dict(zip(files, pool.map(lambda path: size(path, quality), files), strict=True))
    for path, count in sorted(sizes.items(), key=lambda found: -found[1])[:8]:
        print(f"  {count:>10,}  {path.name}")
    print(f"{name}: {sum(sizes.values()):,} bytes in {len(sizes)} files", flush=True)
    return sum(sizes.values())


def main() -> None:
    parser = argparse.ArgumentParser(
        description="Bytes of a first visit against the framework's hello world."
    )
    parser.add_argument("--quality", type=int, default=11)
    options = parser.parse_args()
    if chromium() is None:
        sys.exit("Chromium is not installed.")
    room = Path(tempfile.mkdtemp(prefix="wire-"))
    try:
        build_stock(room / "stock")
        build(room / "ours", Options(quality=0))
        visits: dict[str, tuple[str, Callable[[BrowserContext], None]]] = {
            "stock": (HELLO, lambda context: context.pages[0].wait_for_load_state("networkidle")),
            "ours": (OURS, settle),
        }
        found = {}
        for name, (text, then) in visits.items():
            asked: set[str] = set()
            server = noting(room / name, asked)
            url = f"http://127.0.0.1:{server.server_address[1]}/"
            with sync_playwright() as playwright:
                Launcher(playwright, url, text, room, str(chromium())).launch(room / f"profile-{name}", then)
            server.shutdown()
            files = [path for path in (room / name / part for part in sorted(asked)) if path.is_file()]
            found[name] = show(name, files, options.quality)
        print(f"wire ratio: {found['ours'] / found['stock']:.2f}")
    finally:
        shutil.rmtree(room, ignore_errors=True)


if __name__ == "__main__":
    main()
