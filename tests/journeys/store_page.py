"""An app for the journeys about the store: does what its route says to the real store and prints the outcome.

Runs in the browser's Python, in place of mobile_app/main.py.
"""

import asyncio
from dataclasses import replace

import flet as ft

from logic.errors import StorageBusy, StorageError, SwardError
from logic.records.book import Book
from logic.records.folder import Folder, read_all
from logic.records.types import Client
from mobile_app.device import open_folder
from mobile_app.device.window import tell_window


def check_contract(folder: Folder) -> str:
    """What tests/logic/records/test_folder.py asks of every back end."""
    blob = folder.open("book.a")
    assert (blob.size(), blob.read(0, 10)) == (0, b"")
    assert (blob.write(0, b"hello"), blob.write(5, b" world"), blob.write(0, b"J")) == (5, 6, 1)
    blob.flush()
    assert read_all(blob) == b"Jello world"
    assert (blob.read(6, 3), blob.read(9, 100), blob.read(100, 1)) == (b"wor", b"ld", b"")
    blob.truncate(4)
    assert (blob.size(), blob.write(4, b"x"), read_all(blob)) == (4, 1, b"Jellx")
    blob.truncate(0)
    assert (blob.write(3, b"x"), read_all(blob)) == (1, b"\0\0\0x")
    assert folder.open("book.a") is blob
    assert folder.open("book.b").size() == 0
    data = bytes(range(256)) * 4096
    blob.truncate(0)
    assert (blob.write(0, data), read_all(blob)) == (len(data), data)
    blob.truncate(0)
    blob.flush()
    return "contract kept"


def fill(book: Book) -> str:
    """Save until there is no room, and say what was told and what is there."""
    client = book.save(Client(name="Ada"))
    for count in range(1000):
        try:
            client = book.save(replace(client, note="x" * 300_000 + str(count)))
        except StorageError as error:
            kept = book.get(Client, client.id) == client
            return f"{error.sentence} kept {kept}, low {book.running_low}, {len(client.note)} characters"
    return "never full"


def found(book: Book) -> str:
    """The sizes of what is there."""
    notes = [len(client.note) for client in book.all(Client)]
    return f"found {notes} {book.recovery.sentence}"


async def open_twice(folder: Folder) -> str:
    """Open what is open already, as a second tab does; then again when it was given back."""
    try:
        await open_folder()
    except StorageBusy as error:
        folder.close()
        await open_folder()
        return f"{error.sentence} Then opened."
    return "opened twice"


async def save_on(book: Book) -> None:
    """Save for ever, and say each count after its save; what was there comes first."""
    count = max((int(client.name) for client in book.all(Client)), default=0)
    print(f"store: found {count} of {len(book.all(Client))} {book.recovery.sentence}")
    while True:
        count += 1
        book.save(Client(name=str(count), note="x" * (count * 37 % 3000)))
        print(f"store: saved {count}")
        if count % 20 == 0:
            book._journal.tidy(always=True)
        await asyncio.sleep(0)


async def show(page: ft.Page) -> None:
    """Do what the route says."""
    page.add(ft.Text("store"))
    tell_window("shown")
    try:
        folder = await open_folder()
        match page.route.strip("/"):
            case "contract":
                said = check_contract(folder)
            case "twice":
                said = await open_twice(folder)
            case "fill":
                said = fill(Book.open(folder))
            case "save":
                await save_on(Book.open(folder))
            case _:
                said = found(Book.open(folder))
    except SwardError as error:
        said = error.sentence
    print(f"store: {said}")


def start() -> None:
    ft.run(show)
