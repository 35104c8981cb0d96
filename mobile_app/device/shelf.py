"""The photos at hand: kept by their hash, thumbnails in memory, what no record names cleared away."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Collection
from typing import TYPE_CHECKING

from logic.errors import SwardError

if TYPE_CHECKING:
    from mobile_app.protocols import Device

SMALL = 320  # longest side of a thumbnail [px]
_MOST = 200  # thumbnails in memory


class Shelf:
    """Photos of the book by their hash. `fresh`: put there since the start, and so never cleared away."""

    def __init__(self, device: Device) -> None:
        self._device = device
        self._small: dict[str, bytes] = {}
        self._lost: dict[str, str] = {}
        self.fresh: set[str] = set()

    async def keep(self, data: bytes) -> str:
        """Keep these bytes; their hash. Raises StorageError, StorageFull."""
        sha256 = await self._device.photos.put(data)
        self.fresh.add(sha256)
        self._lost.pop(sha256, None)
        return sha256

    async def read(self, sha256: str) -> bytes:
        """The bytes of a photo. Raises NotFound, BrokenFile, StorageError."""
        return await self._device.photos.get(sha256)

    def small(self, sha256: str) -> bytes | None:
        """The thumbnail, when it is at hand; ask `make_small` for it otherwise."""
        return self._small.get(sha256)

    def lost(self, sha256: str) -> str:
        """Why a photo can't be shown, in a sentence; "" when nothing is known against it."""
        return self._lost.get(sha256, "")

    async def make_small(self, sha256: str) -> None:
        """Have the thumbnail at hand, or know why there is none."""
        if sha256 in self._small or sha256 in self._lost:
            return
        try:
            made = await self._device.smaller(await self.read(sha256), SMALL)
        except SwardError as error:
            self._lost[sha256] = error.sentence
            return
        while len(self._small) >= _MOST:
            del self._small[next(iter(self._small))]
        self._small[sha256] = made.data

    async def tidy(self, named: Callable[[], Collection[str]]) -> int:
        """Let go of what no record names, those in the bin included; how many that were.

        named: gives the hashes that records name; asked after the looking, so that nothing new is missed.
        """
        try:
            there = await self._device.photos.list()
            gone = set(there) - set(named()) - self.fresh
            for sha256 in sorted(gone):
                await self._device.photos.remove(sha256)
                await asyncio.sleep(0)
        except SwardError:
            return 0  # the place doesn't answer now; nothing was lost by waiting for the next start
        return len(gone)
