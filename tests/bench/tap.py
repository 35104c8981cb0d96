"""Tap to answer, side by side: the framework's own counter, and a figure of ours that follows a tap or a key.

    python -m tests.bench.tap [--taps 20]

Each page is open in a browser of its own; they take turns. Our tap switches a length between metres and
paces, our key is one more digit of that length: outline, ± and figures are reckoned anew. Measured alike, in
the page: milliseconds from the touch until the tree for screen readers says something else, each time on a
page that has come to rest. Prints medians and their ratios, and the same of the lower quartiles, which a busy
machine spoils less.
"""

import argparse
import statistics
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from mobile_app.bundle import Options, build
from tests.bench.launch import serve_stock
from tests.bench.stock import build_stock
from tests.journeys.hand import Hand
from tests.journeys.phone import Host, Phone, until

ARM = """(kind) => new Promise(armed => {
  const watched = () => document.querySelector('flt-semantics-host').innerText;
  const before = watched();
  globalThis.benchAnswer = new Promise(done => {
    addEventListener(kind, () => {
      const start = performance.now();
      const look = () => watched() === before ? setTimeout(look, 4) : done(performance.now() - start);
      look();
    }, { capture: true, once: true });
  });
  armed();
})"""


def answer(page: Page, kind: str, use: Callable[[], None]) -> float:
    """Milliseconds from a "pointerdown" or "keydown" to the answer on the screen."""
    page.wait_for_timeout(400)
    page.evaluate(ARM, kind)
    use()
    return float(page.evaluate("globalThis.benchAnswer"))


def open_counter(phone: Phone, url: str) -> Page:
    """The framework's counter."""
    page = phone.page
    page.goto(url)
    until(lambda: page.locator("flt-semantics-placeholder").count(), 120, "the counter is up")
    page.locator("flt-semantics-placeholder").evaluate("e => e.click()")
    page.get_by_role("button", name="Add").wait_for(timeout=60_000)
    return page


def open_ours(phone: Phone) -> Page:
    """Our measure screen with a rectangle in metres and a known pace."""
    page = phone.open("?demo")
    made = "performance.getEntriesByName('sw-snapshot-made').length"
    until(lambda: phone.ask(made), 120, "the work of a first visit is done")
    phone.semantics()
    hand = Hand(phone)
    page.get_by_role("button", name="Orchard green").click()
    page.get_by_role("button", name="Visit of").click()
    hand.sees("Change shape")
    return page


def main() -> None:
    """Build both, open both, tap in turn, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--taps", type=int, default=20)
    taps = parser.parse_args().taps
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        room = Path(folder)
        build_stock(room / "stock")
        build(room / "ours", Options(quality=1))
        stock = serve_stock(room / "stock")
        host = Host(room / "ours")
        phone = Phone(playwright, room / "profile", host)
        ours = open_ours(phone)
        other_phone = Phone(playwright, room / "other", host)
        theirs = open_counter(other_phone, f"http://127.0.0.1:{stock.server_address[1]}/")
        times: dict[str, list[float]] = {"counter": [], "tap": [], "key": []}
        add = theirs.get_by_role("button", name="Add")
        for number in range(taps + 2):
            name = "in m" if number % 2 == 0 else "in paces"
            unit = ours.get_by_role("button", name=name, exact=True).first
            times["counter"].append(answer(theirs, "pointerdown", add.click))
            times["tap"].append(answer(ours, "pointerdown", unit.click))
        Hand(phone).box("Length").click()
        for number in range(taps + 2):
            key = "5" if number % 2 == 0 else "Backspace"
            times["key"].append(answer(ours, "keydown", partial(ours.keyboard.press, key)))
        phone.switch_off()
        other_phone.switch_off()
        host.stop()
        stock.shutdown()
    report({name: values[2:] for name, values in times.items()})  # the first two warm up


def report(times: dict[str, list[float]]) -> None:
    """Print what was measured, and each against the counter."""
    medians = {name: statistics.median(values) for name, values in times.items()}
    quartiles = {name: statistics.quantiles(values)[0] for name, values in times.items()}
    for name, values in times.items():
        shown = " ".join(f"{value:.0f}" for value in values)
        print(
            f"{name:<8} median {medians[name]:4.0f} ms, lower quartile {quartiles[name]:4.0f} ms   ({shown})"
        )
    for name in ("tap", "key"):
        middle, lower = (one[name] / one["counter"] for one in (medians, quartiles))
        print(f"{name} ratio: {middle:.2f}   (of the lower quartiles: {lower:.2f})")


if __name__ == "__main__":
    main()
