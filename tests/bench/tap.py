"""Tap to answer, side by side: the framework's own counter, and a figure of ours that follows a tap.

    python -m tests.bench.tap [--taps 20]

Each page is open in a browser of its own; taps alternate. Ours switches a length between metres and paces, so
that the outline, its ± and every figure are reckoned anew. Measured alike, in the page: milliseconds from
the touch until the tree for screen readers says something else. Prints medians and their ratio.
"""

import argparse
import statistics
import tempfile
from pathlib import Path

from playwright.sync_api import Locator, Page, sync_playwright

from mobile_app.bundle import Options, build
from tests.bench.launch import serve_stock
from tests.bench.stock import build_stock
from tests.journeys.hand import Hand
from tests.journeys.phone import Host, Phone, until

ARM = """() => new Promise(armed => {
  const watched = () => document.querySelector('flt-semantics-host').innerText;
  const before = watched();
  globalThis.benchAnswer = new Promise(done => {
    addEventListener("pointerdown", () => {
      const start = performance.now();
      const look = () => watched() === before ? setTimeout(look, 4) : done(performance.now() - start);
      look();
    }, { capture: true, once: true });
  });
  armed();
})"""


def tap(page: Page, button: Locator) -> float:
    """Milliseconds from the finger's touch to the answer on the screen."""
    page.evaluate(ARM)
    button.click()
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
        times: dict[str, list[float]] = {"theirs": [], "ours": []}
        for number in range(taps + 2):
            one = tap(theirs, theirs.get_by_role("button", name="Add"))
            name = "in m" if number % 2 == 0 else "in paces"
            other = tap(ours, ours.get_by_role("button", name=name, exact=True).first)
            if number >= 2:  # the first two warm both up
                times["theirs"].append(one)
                times["ours"].append(other)
        phone.switch_off()
        other_phone.switch_off()
        host.stop()
        stock.shutdown()
    medians = {name: statistics.median(values) for name, values in times.items()}
    for name, values in times.items():
        print(f"{name:<8} {medians[name]:6.0f} ms   ({' '.join(f'{v:.0f}' for v in values)})")
    print(f"tap ratio: {medians['ours'] / medians['theirs']:.2f}")


if __name__ == "__main__":
    main()
