"""Photos beside the book: kept by the hash of their content, made small and upright before they are kept."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from logic.errors import BrokenFile, NotFound, SwardError
from mobile_app.device.where import in_browser

SIDE = 1600  # longest side of a kept photo [px]
MOST_BYTES = 300_000  # of a kept photo: twelve of them on paper stay under 4 MB
#: Parts of the longest side and JPEG qualities, tried in turn until a photo is small enough.
STEPS = ((1.0, 0.82), (1.0, 0.68), (0.8, 0.65), (0.8, 0.5), (0.6, 0.5), (0.5, 0.4))
LARGEST = 80_000_000  # bytes of a file that is looked at at all
MOST_PIXELS = 120_000_000
HEAD = 262_144  # bytes from the start of a file that hold what the camera wrote about it


class NoPhoto(SwardError, ValueError):
    """A chosen file that is no photo that this device can read."""

    default = "This file can't be read as a photo, so nothing was added."


class HugePhoto(NoPhoto):
    """A file far beyond any camera's."""

    default = "This file is too large for a photo, so nothing was added."


@dataclass(frozen=True)
class Shrunk:
    """A photo ready to be kept: JPEG bytes without a word about it, upright; width and height [px]."""

    data: bytes
    width: int
    height: int


class Picked(Protocol):
    """A file that the person chose, or a photo that they took."""

    @property
    def name(self) -> str:
        """What the file is called."""

    async def head(self) -> bytes:
        """The first HEAD bytes."""

    async def shrunk(self, side: int = SIDE, most: int = MOST_BYTES) -> Shrunk:
        """The photo upright, at most `side` px long and about `most` bytes large. Raises NoPhoto."""


class Photos(Protocol):
    """Where the bytes are. A key is the SHA-256 of the content in hexadecimal; what is put is there whole, or
    not at all. All raise StorageError when the place does not answer."""

    async def put(self, data: bytes) -> str:
        """Keep these bytes; the same ones twice are kept once. Raises StorageFull."""

    async def get(self, sha256: str) -> bytes:
        """The bytes. Raises NotFound when they are not here, BrokenFile when they are not what they were."""

    async def has(self, sha256: str) -> bool:
        """Whether they are here."""

    async def remove(self, sha256: str) -> None:
        """Let go of them, if they are here."""

    async def list(self) -> list[str]:
        """Every key that is here, in order."""


def key_of(data: bytes) -> str:
    """The key of these bytes."""
    return hashlib.sha256(data).hexdigest()


def is_key(name: str) -> bool:
    """Whether this is a key and no other name, and so safe as a file's."""
    return re.fullmatch(r"[0-9a-f]{64}", name) is not None


def checked(sha256: str, data: bytes | None) -> bytes:
    """The bytes that were read for a key, when they are the right ones. Raises NotFound, BrokenFile."""
    if data is None:
        raise NotFound("This photo is not on this device.")
    if key_of(data) != sha256:
        raise BrokenFile("This photo was damaged where it was kept.")
    return data


def open_photos(data: Path | None = None) -> Photos:
    """The place for photos: the browser's own file system, or the folder `data` on disk."""
    if in_browser():
        from mobile_app.device.photos_opfs import OpfsPhotos

        return OpfsPhotos()
    from mobile_app.device.photos_disk import DiskPhotos

    return DiskPhotos((data or Path.home() / ".swardwright") / "photos")


async def pick_photos(camera: bool) -> Sequence[Picked]:
    """Let the person take a photo, or choose some; none when they don't. Only in the browser."""
    from mobile_app.device.photos_opfs import pick

    return await pick(camera)


async def smaller(data: bytes, side: int, most: int = MOST_BYTES) -> Shrunk:
    """A kept photo again, smaller: for a thumbnail. Raises NoPhoto."""
    if in_browser():
        from mobile_app.device.photos_opfs import shrink_bytes

        return await shrink_bytes(data, side, most)
    from mobile_app.device.photos_disk import shrink

    return shrink(data, side, most)


async def pixels(data: bytes, side: int) -> list[tuple[int, int, int]]:
    """Red, green and blue of every pixel of a photo, made at most `side` px long first. Raises NoPhoto."""
    if in_browser():
        from mobile_app.device.photos_opfs import rgba

        raw = await rgba(data, side)
    else:
        from mobile_app.device.photos_disk import rgba as rgba_here

        raw = rgba_here(data, side)
    return list(zip(raw[0::4], raw[1::4], raw[2::4], strict=True))
