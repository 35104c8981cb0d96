"""Prints times and sizes of every paper, and of a long summary with 12 photos, against an empty one-page
document."""

from logic.report.preview import preview
from logic.report.summary import summary
from tests.bench.pdf import empty, seconds
from tests.logic.report.papers import PAPERS, Photo, full_summary


def photo(number: int) -> Photo:
    """A photo as the app makes them ready: 1200 × 900, full of detail, some 250 kB."""
    from io import BytesIO
    from random import Random

    from PIL import Image

    small = Image.frombytes("RGB", (300, 225), Random(number).randbytes(300 * 225 * 3))
    out = BytesIO()
    small.resize((1200, 900)).save(out, "JPEG", quality=72)
    return Photo(out.getvalue(), f"Photo {number}", None, "before" if number % 2 else "after")


def main() -> None:
    """Measure side by side and print."""
    least = seconds(empty)
    for name, (make, data) in PAPERS.items():
        given = data()
        time = seconds(lambda make=make, given=given: make(given))
        print(f"{name}: {len(make(given)) / 1000:.0f} kB, {1000 * time:.0f} ms, ratio {time / least:.0f}")
    long = full_summary(photos=tuple(photo(n) for n in range(12)))
    file, sheets = preview(summary, long)
    time = seconds(lambda: summary(long))
    size = f"{len(file) / 1e6:.2f} MB, {len(sheets)} pages"
    print(f"12 photos: {size}, {1000 * time:.0f} ms, ratio {time / least:.0f}")
    print(f"with its preview: {1000 * seconds(lambda: preview(summary, long)):.0f} ms")


if __name__ == "__main__":
    main()
