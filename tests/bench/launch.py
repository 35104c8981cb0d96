"""Launch, side by side: the framework's own hello world and this app, from tap to the first control.

    python tests/bench/launch.py [--warm 7] [--cold 3] [--one-core] [--visits 5000]

Builds Flet's static hello world with the framework's own functions and defaults, and this app; then
alternates them in one run, each launch a browser of its own: cold on a new profile, warm on a profile that
has the app. Both are measured alike: milliseconds from the start of navigation until the expected text is
in the tree for screen readers. Prints
medians and ratios; asserts nothing. With --one-core the whole browser has one processor. With --visits a
second profile has a book of so many visits, and its warm launches take turns with those of the empty one.
"""

import argparse
import base64
import os
import shutil
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import ClassVar

from playwright.sync_api import BrowserContext, Playwright, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[2]))

from logic.records.book import Book
from logic.records.types import Client, Sward
from mobile_app.bundle import Options, build
from mobile_app.serve import SiteServer
from tests.bench.save import a_visit
from tests.bench.stock import HELLO, build_stock
from tests.journeys.phone import FLAGS, chromium
from tests.logic.records.memory import MemoryFolder

OURS = "No greens in the book yet"
FULL = "New green"  # on the list of a book that has some
SEES = """
(() => {
  const wanted = %r;
  const look = () => {
    document.querySelector("flt-semantics-placeholder")?.click();
    const host = document.querySelector("flt-semantics-host");
    if (host && host.outerHTML.includes(wanted)) performance.mark("bench-seen");
    else setTimeout(look, 10);
  };
  if (window === top) look();
})();
"""
NO_OTHER_HOST = "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"


class Launcher:
    """Launches one site again and again; a browser for each launch."""

    def __init__(self, playwright: Playwright, url: str, text: str, room: Path, browser: str) -> None:
        self.playwright, self.url, self.text, self.room, self.browser = playwright, url, text, room, browser
        self.profiles = 0

    def profile(self) -> Path:
        self.profiles += 1
        return self.room / f"profile-{self.profiles}"

    def launch(self, profile: Path, then: Callable[[BrowserContext], None] = lambda context: None) -> float:
        """Milliseconds to the first control; `then` runs before the browser closes."""
        context = self.playwright.chromium.launch_persistent_context(
            profile,
            executable_path=self.browser,
            args=[*FLAGS, NO_OTHER_HOST],
            viewport={"width": 390, "height": 844},
            device_scale_factor=2,
        )
        try:
            page = context.pages[0]
            page.add_init_script(SEES % self.text)
            page.goto(self.url)
            end = time.monotonic() + 120
            while not (seen := page.evaluate("performance.getEntriesByName('bench-seen')[0]?.startTime")):
                if time.monotonic() > end:
                    raise TimeoutError(f"{self.url} never showed {self.text!r}")
                time.sleep(0.05)
            then(context)
            print(f"  {self.url} {float(seen):.0f} ms", file=sys.stderr, flush=True)
            return float(seen)
        finally:
            context.close()


def settle(context: BrowserContext, seconds: float = 60) -> None:
    """Waits until our app has been stored and its snapshot made, as a user's first minute would."""
    end = time.monotonic() + seconds
    made = "swLink.restored() || performance.getEntriesByName('sw-snapshot-made').length > 0"
    while time.monotonic() < end and not context.pages[0].evaluate(made):
        time.sleep(0.2)


def book_files(visits: int) -> dict[str, str]:
    """The files of a book with so many visits, each saved on its own, in base 64."""
    folder = MemoryFolder()
    book = Book.open(folder)
    for count in range(0, visits, 8):
        client = book.save(Client(name=f"Client {count}"))
        sward = book.save(Sward(client_id=client.id, name=f"Green {count}", kind="putting green"))
        for _ in range(min(8, visits - count)):
            book.save(a_visit(sward))
    book.close()
    return {name: base64.b64encode(data).decode() for name, data in folder.contents().items()}


def put_book(context: BrowserContext, origin: str, files: dict[str, str]) -> None:
    """Puts a book's files where the app in this profile keeps its own."""
    settle(context)
    page = context.pages[0]
    page.goto(f"{origin}favicon.png")  # the app has gone from the page and let its files go
    page.evaluate(
        """async files => {
             const root = await navigator.storage.getDirectory();
             const folder = await root.getDirectoryHandle("swardwright", {create: true});
             for (const [name, text] of Object.entries(files)) {
               const file = await folder.getFileHandle(name, {create: true});
               const writer = await file.createWritable();
               await writer.write(Uint8Array.from(atob(text), letter => letter.charCodeAt(0)));
               await writer.close();
             }
           }""",
        files,
    )


def memory(profile: Path) -> float:
    """MB of the page's processes of the browser on `profile`, shared memory counted in proportion."""
    parents, commands = {}, {}
    for process in Path("/proc").iterdir():
        if process.name.isdigit():
            try:
                commands[process.name] = (process / "cmdline").read_bytes()
                parents[process.name] = (process / "stat").read_text().rsplit(")", 1)[1].split()[1]
            except OSError:
                continue
    own = {pid for pid, command in commands.items() if f"--user-data-dir={profile}\0".encode() in command}
    while more := {pid for pid, parent in parents.items() if parent in own} - own:
        own |= more
    total = 0
    for pid in own:
        if b"--type=renderer" in commands[pid]:
            rollup = Path(f"/proc/{pid}/smaps_rollup").read_text("ascii")
            total += int(rollup.split("\nPss:")[1].split()[0])
    return total / 1024


def serve_stock(folder: Path) -> ThreadingHTTPServer:
    class Quiet(SimpleHTTPRequestHandler):
        protocol_version = "HTTP/1.1"
        extensions_map: ClassVar[dict[str, str]] = {
            **SimpleHTTPRequestHandler.extensions_map,
            ".mjs": "text/javascript",
        }

        def log_message(self, format: str, *args: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=folder))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return server


def one_core(room: Path) -> str:
    """A launcher that keeps the whole browser on one processor."""
    script = room / "chromium-on-one-core"
    script.write_text(f'#!/bin/sh\nexec taskset -c 0 {chromium()} "$@"\n', "utf-8")
    script.chmod(0o755)
    return str(script)


def show(name: str, times: list[float]) -> float:
    median = statistics.median(times)
    print(f"{name:<34} {median:7.0f} ms   ({' '.join(f'{time:.0f}' for time in times)})", flush=True)
    return median


def main() -> None:
    parser = argparse.ArgumentParser(description="Launch against the framework's hello world.")
    parser.add_argument("--warm", type=int, default=7)
    parser.add_argument("--cold", type=int, default=3)
    parser.add_argument("--one-core", action="store_true")
    parser.add_argument("--visits", type=int, default=0)
    options = parser.parse_args()
    if chromium() is None:
        sys.exit("Chromium is not installed.")
    room = Path(tempfile.mkdtemp(prefix="launch-"))
    try:
        with sync_playwright() as playwright:
            measure(playwright, room, options)
    finally:
        shutil.rmtree(room, ignore_errors=True)


def measure(playwright: Playwright, room: Path, options: argparse.Namespace) -> None:
    build_stock(room / "stock")
    build(room / "ours", Options(quality=5))
    stock_server = serve_stock(room / "stock")
    ours_server = SiteServer(("127.0.0.1", 0), room / "ours")
    threading.Thread(target=ours_server.serve_forever, daemon=True).start()
    browser = one_core(room) if options.one_core else str(chromium())
    stock_url = f"http://127.0.0.1:{stock_server.server_address[1]}/"
    (room / "s").mkdir()
    (room / "o").mkdir()
    stock = Launcher(playwright, stock_url, HELLO, room / "s", browser)
    ours = Launcher(playwright, ours_server.url, OURS, room / "o", browser)

    cold_stock, cold_ours = [], []
    for _ in range(max(1, options.cold)):
        stock_profile, ours_profile = stock.profile(), ours.profile()
        cold_stock.append(stock.launch(stock_profile))
        cold_ours.append(ours.launch(ours_profile, settle))
    warm_stock, warm_ours, warm_full, used = [], [], [], []
    stock.launch(stock_profile)
    ours.launch(ours_profile, settle)
    if options.visits:
        files = book_files(options.visits)
        (room / "f").mkdir()
        full = Launcher(playwright, ours_server.url, FULL, room / "f", browser)
        full_profile = full.profile()
        Launcher(playwright, ours_server.url, OURS, room / "f", browser).launch(
            full_profile, lambda context: put_book(context, ours_server.url, files)
        )
        full.launch(full_profile)
    for _ in range(options.warm):
        warm_stock.append(stock.launch(stock_profile))
        warm_ours.append(ours.launch(ours_profile, lambda context: used.append(memory(ours_profile))))
        if options.visits:
            warm_full.append(full.launch(full_profile))
    ours_server.shutdown()
    ours_server.close_all()
    offline = [ours.launch(ours_profile) for _ in range(options.warm)]

    stock_cold, ours_cold = show("hello world, cold", cold_stock), show("ours, cold", cold_ours)
    stock_warm, ours_warm = show("hello world, warm", warm_stock), show("ours, warm, server up", warm_ours)
    ours_offline = show("ours, warm, server stopped", offline)
    if options.visits:
        ours_full = show(f"ours, warm, {options.visits} visits", warm_full)
        print(f"full book ratio: {ours_full / ours_warm:.2f}")
    processors = 1 if options.one_core else os.cpu_count()
    print(f"processors of the browser: {processors}; load of the machine: {os.getloadavg()[0]:.1f}")
    print(f"memory of the page's processes after a warm launch: {statistics.median(used):.0f} MB")
    print(f"cold ratio: {ours_cold / stock_cold:.2f}")
    print(f"offline ratio: {ours_offline / stock_warm:.2f}")
    print(f"warm ratio: {ours_warm / stock_warm:.2f}")


if __name__ == "__main__":
    main()
