"""The page of the bench of searching: fills a book, searches it key by key, prints milliseconds.

Runs in the browser's Python, in place of mobile_app/main.py.
"""

import time
from datetime import UTC, datetime, timedelta

import flet as ft

from logic.records.book import Book
from logic.records.types import Client, Machine, Product, Site, Supplier, Sward, Visit
from mobile_app.device import open_folder
from mobile_app.device.window import tell_window

KINDS = (Client, Sward, Site, Visit, Supplier, Product, Machine)
TYPED = (
    "moss north",
    "tarrant",
    "green 17",
    "wet corner",
    "lane 12 lawn",
    "zzz",
    "2024-05",
    "bent",
    "a",
    "fairy ring",
)
FIRST = ("Ada", "Odile", "Bram", "Sunniva", "Idris", "Åse", "Jo", "Ben")
LAST = ("Tarrant", "Fen", "Okoro-Vale", "Holm", "Quill", "Grün", "Pellworth")
NOTES = (
    "moss along the north edge",
    "wet corner by the gate, cored twice",
    "",
    "fairy ring again",
    "seed took well",
)


def fill(book: Book, visits: int) -> None:
    """Clients with greens with visits."""
    names = [(f"{FIRST[n % 8]} {LAST[n % 7]}", f"{n} Marsh Lane") for n in range(visits // 20)]
    clients = [Client(name=name, address=address) for name, address in names]
    swards = [
        Sward(client_id=clients[n % len(clients)].id, name=f"Green {n}", kind=("lawn", "tee")[n % 2])
        for n in range(visits // 10)
    ]
    start = datetime(2022, 3, 1, tzinfo=UTC)
    made = [
        Visit(sward_id=swards[n % len(swards)].id, started=start + timedelta(hours=7 * n), notes=NOTES[n % 5])
        for n in range(visits)
    ]
    book.save_all([*clients, *swards, *made])


def loop(book: Book, text: str) -> list[Visit]:
    """The plainest search there is, in one kind of text only."""
    words = text.lower().split()
    return [v for v in book.all(Visit) if all(word in v.notes.lower() for word in words)]


async def show(page: ft.Page) -> None:
    """Do it all."""
    page.add(ft.Text("bench"))
    tell_window("shown")
    visits = int(page.route.strip("/"))
    book = Book.open(await open_folder("bench-search"))
    if not book.counts()["visits"]:
        fill(book, visits)
    book.get_ready()  # as the app does when it has settled
    ours, plain = [], []
    for text in TYPED:
        for size in range(1, len(text) + 1):
            start = time.perf_counter()
            for kind in KINDS:
                book.look_up(kind, text[:size], 40)
            ours.append(1000 * (time.perf_counter() - start))
            start = time.perf_counter()
            loop(book, text[:size])
            plain.append(1000 * (time.perf_counter() - start))
    said = [
        f"{values[len(values) // 2]:.1f} {values[int(len(values) * 0.95)]:.1f} {values[-1]:.1f}"
        for values in (sorted(ours), sorted(plain))
    ]
    print("bench: " + " | ".join(said))


def start() -> None:
    """Run the page."""
    ft.run(show)
