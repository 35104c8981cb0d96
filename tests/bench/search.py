"""Searching 5,000 visits in the browser's Python, key by key, beside the plainest loop over the same texts.

    python -m tests.bench.search [--visits 5000]

In Chromium a book of that size is filled; a dozen searches are then typed letter by letter, and after each
letter all kinds of records are searched, as the screen does. Prints the median, the 95th percentile and the
slowest in milliseconds, and the ratio of the 95th percentile to that of the loop, measured in turn.
"""

import argparse
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from mobile_app.bundle import Options, build
from tests.journeys.phone import Host, Phone, until

PAGE = Path(__file__).with_name("search_page.py")


def main() -> None:
    """Build, open, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--visits", type=int, default=5000)
    visits = parser.parse_args().visits
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        room = Path(folder)
        build(room / "site", Options(quality=1), instead={"mobile_app/main.py": PAGE.read_bytes()})
        host = Host(room / "site")
        phone = Phone(playwright, room / "profile", host)
        phone.open(f"#/{visits}")
        until(lambda: phone.heard("bench: "), 300, "the searches are done")
        line = next(line for line in phone.said if "bench: " in line)
        phone.switch_off()
        host.stop()
    ours, plain = (part.split() for part in line.partition("bench: ")[2].split(" | "))
    for name, values in (("search", ours), ("loop", plain)):
        print(f"{name:<8} median {values[0]} ms, 95th percentile {values[1]} ms, slowest {values[2]} ms")
    print(f"search ratio: {float(ours[1]) / float(plain[1]):.2f}")


if __name__ == "__main__":
    main()
