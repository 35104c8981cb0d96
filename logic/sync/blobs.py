"""Photos and papers between phone and office: in pieces that go on where they stopped, after the records."""

import hashlib
from collections.abc import Awaitable, Callable
from typing import Protocol

from logic.errors import SwardError
from logic.records.book import Book
from logic.sync.calls import Denied, Office
from logic.sync.placing import Docs
from logic.sync.wire import CHUNK, LARGEST_BLOB

CARRIED = "carried"


class Blobs(Protocol):
    """Where the phone keeps photos and papers, by the SHA-256 of their bytes."""

    async def has(self, sha256: str) -> bool:
        """True when it is there."""

    async def get(self, sha256: str) -> bytes:
        """Its bytes. Raises SwardError when it is not there, or spoilt."""

    async def put(self, data: bytes) -> str:
        """Keep it; returns its hash."""


class Carrier:
    """Carries what the records name and one side lacks. What is whole at both ends is noted in the book."""

    def __init__(self, book: Book, blobs: Blobs, pause: Callable[[], Awaitable[None]]) -> None:
        self._book = book
        self._blobs = blobs
        self._pause = pause
        self._partly: dict[str, bytes] = {}
        self.trouble = ""

    def left(self) -> list[str]:
        """Hashes that are not known to be at both ends."""
        return sorted(self._book.hashes() - set(self._book.table(CARRIED)))

    async def carry(self, office: Office) -> None:
        """Carry what is left, one after the other. One that fails is left for the next time, others go on.

        Raises Unreachable, and Denied when the office wants to be left alone.
        """
        self.trouble = ""
        for sha256 in self.left():
            try:
                done = await self._carry_one(office, sha256)
            except Denied as error:
                if error.is_passing or error.status == 401:
                    raise
                done, self.trouble = error.code == "too-large", error.sentence
            if done:
                docs: Docs = {(CARRIED, sha256): {"id": sha256}}
                self._book.take_in(docs, "photo with the office")

    async def _carry_one(self, office: Office, sha256: str) -> bool:
        if not await self._blobs.has(sha256):
            return await self._fetch(office, sha256)
        try:
            data = await self._blobs.get(sha256)
        except SwardError:  # spoilt here: the office may have a whole one
            return await self._fetch(office, sha256)
        if len(data) > LARGEST_BLOB:
            return True
        return await self._send(office, sha256, data)

    async def _send(self, office: Office, sha256: str, data: bytes) -> bool:
        said = await office.begin_blob(sha256, len(data))
        while not said.get("done"):
            have = said.get("have")
            if type(have) is not int or not 0 <= have < len(data):
                return False
            said = await office.put_blob(sha256, have, data[have : have + CHUNK])
            if said.get("have") == have and not said.get("done"):
                return False  # the office takes nothing: next time
            await self._pause()
        return True

    async def _fetch(self, office: Office, sha256: str) -> bool:
        data = self._partly.get(sha256, b"")
        size = len(data) + 1
        while len(data) < size:
            try:
                piece, size = await office.get_blob(sha256, len(data))
            except Denied as error:
                if error.status == 404:
                    return False  # nobody has sent it yet
                raise
            if not piece or size > LARGEST_BLOB:
                return False
            data = self._partly[sha256] = data + piece
            await self._pause()
        self._partly.pop(sha256)
        if hashlib.sha256(data).hexdigest() != sha256:
            return False  # begun anew the next time
        await self._blobs.put(data)
        return True
