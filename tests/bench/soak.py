"""Launches again and again, cold and warm in turns, and counts those that fail.

    python tests/bench/soak.py [--launches 200] [--settle 5]

A cold launch is one on a new profile; every fifth (`--settle`) of them stays until the app has been stored
and its snapshot made, and the warm launches that follow use that profile. A launch fails when the list is not
on the screen in two minutes, when the recovery page comes up, or when a warm one did not start from its
snapshot. Prints the counts; the exit status is 1 when any failed.
"""

import argparse
import os
import shutil
import sys
import tempfile
import threading
from pathlib import Path

from playwright.sync_api import BrowserContext, Error, Playwright, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[2]))

from mobile_app.bundle import Options, build
from mobile_app.serve import SiteServer
from tests.bench.launch import OURS, Launcher, settle
from tests.journeys.phone import chromium


class Failed(Exception):
    """A launch that did not go as it must."""


def check(context: BrowserContext, warm: bool) -> None:
    """Raises Failed when the started page is not as it should be."""
    page = context.pages[0]
    if page.locator("#sw-recovery").count():
        raise Failed("the recovery page came up")
    if warm and not page.evaluate("swLink.restored()"):
        raise Failed("it did not start from the snapshot")


def soak(playwright: Playwright, url: str, room: Path, launches: int, every: int) -> list[str]:
    """What went wrong, launch by launch."""
    launcher = Launcher(playwright, url, OURS, room, str(chromium()))
    kept: Path | None = None
    wrong: list[str] = []

    def one(number: int, profile: Path, warm: bool, stay: bool) -> None:
        def then(context: BrowserContext) -> None:
            check(context, warm)
            if stay:
                settle(context, 180)

        try:
            launcher.launch(profile, then)
        except (Failed, TimeoutError, Error) as error:
            wrong.append(f"{number} ({'warm' if warm else 'cold'}): {error}")

    for number in range(0, launches, 2):
        profile = launcher.profile()
        stay = kept is None or number // 2 % every == 0
        one(number + 1, profile, False, stay)
        if stay:
            shutil.rmtree(kept or room / "none", ignore_errors=True)
            kept = profile
        else:
            shutil.rmtree(profile, ignore_errors=True)
        assert kept is not None
        one(number + 2, kept, True, False)
        print(f"{number + 2} launches, {len(wrong)} failed, load {os.getloadavg()[0]:.1f}", flush=True)
    return wrong


def main() -> int:
    parser = argparse.ArgumentParser(description="Cold and warm launches in a row.")
    parser.add_argument("--launches", type=int, default=200)
    parser.add_argument("--settle", type=int, default=5)
    options = parser.parse_args()
    if chromium() is None:
        sys.exit("Chromium is not installed.")
    room = Path(tempfile.mkdtemp(prefix="soak-"))
    try:
        build(room / "site", Options(quality=5))
        server = SiteServer(("127.0.0.1", 0), room / "site")
        threading.Thread(target=server.serve_forever, daemon=True).start()
        with sync_playwright() as playwright:
            wrong = soak(playwright, server.url, room, options.launches, options.settle)
        server.shutdown()
        server.close_all()
    finally:
        shutil.rmtree(room, ignore_errors=True)
    for line in wrong:
        print(line)
    print(f"failed: {len(wrong)} of {options.launches}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
