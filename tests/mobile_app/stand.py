"""An App on a real book with a device that only remembers what it was asked."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any

from logic.errors import StorageFull
from logic.records.book import Book
from logic.records.types import Client, Sward, Visit
from logic.records.visits import with_reading
from mobile_app.app import App, State
from mobile_app.device.photos import Picked, Shrunk, checked, key_of, pixels
from mobile_app.device.photos_disk import shrink
from tests.logic.records.memory import MemoryFolder

PAUSE = 1.0  # s; longer than the app waits after the last key


class MemoryPhotos:
    """Photos in memory. full: there is no room for another."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}
        self.full = False

    async def put(self, data: bytes) -> str:
        if self.full:
            raise StorageFull
        self.kept[key_of(data)] = data
        return key_of(data)

    async def get(self, sha256: str) -> bytes:
        return checked(sha256, self.kept.get(sha256))

    async def has(self, sha256: str) -> bool:
        return sha256 in self.kept

    async def remove(self, sha256: str) -> None:
        self.kept.pop(sha256, None)

    async def list(self) -> list[str]:
        return sorted(self.kept)


@dataclass
class NotedDevice:
    """A device: `offered` files, `places` put into the address, and what `picks` gives."""

    picks: tuple[str, bytes] | None = None
    takes: tuple[Picked, ...] = ()
    photos: MemoryPhotos = field(default_factory=MemoryPhotos)
    offered: list[tuple[str, str, bytes, str]] = field(default_factory=list)
    places: list[str] = field(default_factory=list)
    remembered: bool = False

    def offer(self, name: str, mime: str, data: bytes, title: str) -> None:
        self.offered.append((name, mime, data, title))

    async def pick(self, extensions: list[str]) -> tuple[str, bytes] | None:
        return self.picks

    async def pick_photos(self, camera: bool) -> tuple[Picked, ...]:
        return self.takes

    async def smaller(self, data: bytes, side: int) -> Shrunk:
        return shrink(data, side, len(data))

    async def pixels(self, data: bytes, side: int) -> list[tuple[int, int, int]]:
        return await pixels(data, side)

    def set_place(self, place: str) -> None:
        self.places.append(place)

    def has_book(self) -> None:
        self.remembered = True

    def tick(self) -> None:
        """Nothing to feel here."""

    def listen_to_motion(self, on_samples: Any, on_state: Callable[[str], None]) -> Any:
        on_state("absent")
        return self

    def stop(self) -> None:
        """Nothing was listened to."""

    def facts(self) -> dict[str, Any]:
        return {}


@dataclass
class Stand:
    """An App with what it stands on. `drawn`: every state that was drawn."""

    app: App
    folder: MemoryFolder
    device: NotedDevice
    drawn: list[State]

    @property
    def said(self) -> str:
        """The sentence of the notice on the screen."""
        return self.app.state.notice.sentence if self.app.state.notice else ""

    def open_visit(self, name: str = "Back green") -> Visit:
        """A client with a sward, and a visit to it in hand."""
        client = Client(name="Ada Fen")
        sward = Sward(name=name, client_id=client.id)
        assert self.app.save_all([client, sward], f"add {name}")
        self.app.start_visit(sward)
        return self.app.visit_in_hand()

    def stored(self) -> Visit:
        """The visit in hand as another start of the app would find it after a kill."""
        return Book.open(self.folder.killed()).get(Visit, self.app.visit_in_hand().id)

    def fill_up(self) -> None:
        """Leave no room for another byte, the book's reserve included."""
        self.folder.quota = 0

    def killed(self) -> Stand:
        """The app started again on what a kill at this moment leaves behind."""
        return stand(self.folder.killed())


def stand(folder: MemoryFolder | None = None) -> Stand:
    """A new App on `folder`, as main.py makes it."""
    folder = folder or MemoryFolder()
    device = NotedDevice()
    app = App(Book.open(folder), device)
    drawn: list[State] = []
    app.bind(drawn.append)
    return Stand(app, folder, device, drawn)


def played(story: Callable[[Stand], Awaitable[None]]) -> Stand:
    """A story told to a new App, in an event loop as the app has one."""
    hand = stand()

    async def tell() -> None:
        await story(hand)

    # In a thread of its own: the browser driver of the journeys keeps its loop running in this one.
    with ThreadPoolExecutor(max_workers=1) as own:
        own.submit(asyncio.run, tell()).result()
    return hand


def type_in(hand: Stand, key: str, text: str) -> None:
    """Type one reading of the outline."""
    hand.app.edit(with_reading(hand.app.visit_in_hand(), key, text))
