"""How much a durable save costs beside a bare append and flush of the same bytes, with few and many records.

Prints ratios; nothing is asserted. Targets: at most 3 times the bare one, at most 1.5 between the two sizes.
Run: python tests/bench/save.py
"""

import functools
import os
import statistics
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from logic.records.book import Book
from logic.records.types import Client, Record, Sward, Visit
from mobile_app.device.disk import DiskFolder

SAVES = 300
SIZES = (100, 10_000)


def filled(place: Path, size: int) -> Book:
    """A book with this many records: one client and one sward to eight visits."""
    book = Book.open(DiskFolder(place))
    records: list[Record] = []
    for count in range(size // 10):
        client = Client(name=f"Client {count}")
        sward = Sward(client_id=client.id, name=f"Green {count}", kind="putting green")
        records += [client, sward, *(a_visit(sward) for _ in range(8))]
    book.save_all(records)
    return book


def a_visit(sward: Sward) -> Visit:
    works = tuple({"operation": f"work {n}", "way": "rate", "values": {"rate": "8 g/m²"}} for n in range(6))
    outline = {"method": "circle", "way": "paces", "drafts": {"circle": {"diameter": "14 paces"}}}
    return Visit(sward_id=sward.id, works=works, outline=outline, notes="moss at the edge " * 20)


def main() -> None:
    """Time saves in a small and a large book and the bare append in turns: all meet the same machine."""
    with tempfile.TemporaryDirectory(dir=Path.cwd()) as name:
        place = Path(name)
        books = {size: filled(place / str(size), size) for size in SIZES}
        visits = {size: book.all(Visit)[size // 3] for size, book in books.items()}
        entry = entry_size(place / str(SIZES[0]), books[SIZES[0]], visits[SIZES[0]])
        data = b"x" * entry
        descriptor = os.open(place / "bare", os.O_WRONLY | os.O_CREAT | os.O_APPEND)

        def bare(_: int) -> None:
            os.write(descriptor, data)
            os.fsync(descriptor)

        def save(size: int, count: int) -> None:
            books[size].save(replace(visits[size], where=f"screen {count}"))

        actions = {"bare": bare, **{size: functools.partial(save, size) for size in SIZES}}
        times = {name: [] for name in actions}
        for count in range(SAVES):
            for name, action in actions.items():
                start = time.perf_counter()
                action(count)
                times[name].append(time.perf_counter() - start)
        middle = {name: statistics.median(found) for name, found in times.items()}
        os.close(descriptor)
    print(f"bare append and flush of {entry} bytes: {middle['bare'] * 1e3:.3f} ms")
    for size in SIZES:
        ratio = middle[size] / middle["bare"]
        print(f"save with {size} records: {middle[size] * 1e3:.3f} ms, {ratio:.2f} times the bare (target 3)")
    print(f"{SIZES[1]} records to {SIZES[0]}: {middle[SIZES[1]] / middle[SIZES[0]]:.2f} (target 1.5)")


def entry_size(place: Path, book: Book, visit: Visit) -> int:
    """Bytes that one save of this visit appends."""
    before = live_bytes(place)
    book.save(replace(visit, where="screen 0000"))
    return live_bytes(place) - before


def live_bytes(place: Path) -> int:
    """Bytes in the journal's two files."""
    return sum((place / name).stat().st_size for name in ("book.a", "book.b") if (place / name).exists())


if __name__ == "__main__":
    main()
