"""Prints times and sizes of every paper, and of a long summary with 12 photos, against an empty one-page
document; with --browser also on the built app: from the tap to the file offered, with photos and without.
"""

import argparse
import io
import tempfile
import time
from pathlib import Path
from random import Random

from PIL import Image
from playwright.sync_api import sync_playwright
from pypdf import PdfReader

from logic.report.preview import preview
from logic.report.summary import summary
from mobile_app.bundle import Options, build
from mobile_app.device.photos import MOST_BYTES
from mobile_app.device.photos_disk import shrink
from tests.bench.pdf import empty, seconds
from tests.journeys.hand import Hand
from tests.journeys.phone import Host, Phone, until
from tests.journeys.test_papers import open_demo_visit
from tests.logic.report.papers import PAPERS, Photo, full_summary

PHOTOS = 12


def picture(number: int) -> bytes:
    """A photo as a camera makes it: 4000 × 3000 px, as full of detail as turf is."""
    small = Image.frombytes("RGB", (800, 600), Random(number).randbytes(800 * 600 * 3))
    out = io.BytesIO()
    small.resize((4000, 3000)).save(out, "JPEG", quality=85)
    return out.getvalue()


def photo(number: int) -> Photo:
    """The same as the app keeps it."""
    data = shrink(picture(number), 1600, MOST_BYTES).data
    return Photo(data, f"Photo {number}", None, "before" if number % 2 else "after")


def here() -> None:
    """Measure side by side in this Python and print."""
    least = seconds(empty)
    for name, (make, data) in PAPERS.items():
        given = data()
        time_ = seconds(lambda make=make, given=given: make(given))
        print(f"{name}: {len(make(given)) / 1000:.0f} kB, {1000 * time_:.0f} ms, ratio {time_ / least:.0f}")
    long = full_summary(photos=tuple(photo(n) for n in range(PHOTOS)))
    file, sheets = preview(summary, long)
    time_ = seconds(lambda: summary(long))
    size = f"{len(file) / 1e6:.2f} MB, {len(sheets)} pages"
    print(f"{PHOTOS} photos: {size}, {1000 * time_:.0f} ms, ratio {time_ / least:.0f}")
    print(f"with its preview: {1000 * seconds(lambda: preview(summary, long)):.0f} ms")


def in_browser() -> None:
    """Measure on the built app, as a hand uses it, and print."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        room = Path(folder)
        build(room / "site", Options(quality=1))
        host = Host(room / "site")
        phone = Phone(playwright, room / "profile", host)
        hand = open_demo_visit(phone)
        first = made(hand, room)  # which loads what makes papers
        bare = min(made(hand, room)[0] for _ in range(3))
        files = []
        for number in range(PHOTOS):
            files.append(room / f"{number}.jpg")
            files[-1].write_bytes(picture(number))
        start = time.monotonic()
        with phone.page.expect_file_chooser() as asked:
            hand.tap("Choose photos")
        asked.value.set_files(files)
        until(lambda: hand.is_seen(f"{PHOTOS} photos"), 300, "the photos are there")
        print(f"{PHOTOS} photos of 12 megapixels made small and kept: {time.monotonic() - start:.1f} s")
        tries = [made(hand, room) for _ in range(3)]
        took, file = min(tries)
        size = f"{len(file) / 1e6:.2f} MB, {len(PdfReader(io.BytesIO(file)).pages)} pages"
        print(
            f"summary, {PHOTOS} photos: {size}, {took:.2f} s; without: {bare:.2f} s, ratio {took / bare:.1f}"
        )
        print(f"the very first: {first[0]:.2f} s")
        phone.switch_off()
        host.stop()


def made(hand: Hand, room: Path) -> tuple[float, bytes]:
    """Seconds from the tap until the file is offered, and the file."""
    hand.to_top()
    button = hand.button("Make the summary")
    button.wait_for(state="attached")
    hand.reach(button)
    start = time.monotonic()
    button.click()
    hand.phone.page.get_by_role("button", name="Save to this phone").wait_for(timeout=120_000)
    took = time.monotonic() - start
    return took, hand.save_offered(room).read_bytes()


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--browser", action="store_true", help="on the built app in Chromium too")
    wanted = parser.parse_args()
    here()
    if wanted.browser:
        in_browser()


if __name__ == "__main__":
    main()
