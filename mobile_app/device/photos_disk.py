"""Photos on an ordinary computer: files in a folder, and Pillow to make them smaller."""

from __future__ import annotations

import asyncio
import errno
import io
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from logic.errors import StorageError, StorageFull
from mobile_app.device.photos import (
    HEAD,
    LARGEST,
    MOST_BYTES,
    MOST_PIXELS,
    SIDE,
    STEPS,
    HugePhoto,
    NoPhoto,
    Shrunk,
    checked,
    is_key,
    key_of,
)

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}


class DiskPhotos:
    """Photos as files named by their key."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    async def put(self, data: bytes) -> str:
        """Written beside its place, flushed, and only then given its name."""
        key = key_of(data)
        with _translated():
            if await self.has(key) and (self._folder / key).read_bytes() == data:
                return key
            self._folder.mkdir(parents=True, exist_ok=True)
            part = self._folder / f"{key}.part"
            try:
                with part.open("wb") as file:
                    file.write(data)
                    file.flush()
                    os.fsync(file.fileno())
                part.replace(self._folder / key)
            except BaseException:
                part.unlink(missing_ok=True)
                raise
        return key

    async def get(self, sha256: str) -> bytes:
        """The file's bytes, checked."""
        with _translated():
            found = (self._folder / sha256).read_bytes() if await self.has(sha256) else None
        return checked(sha256, found)

    async def has(self, sha256: str) -> bool:
        """Whether there is such a file."""
        return is_key(sha256) and (self._folder / sha256).is_file()

    async def remove(self, sha256: str) -> None:
        """Delete the file."""
        if is_key(sha256):
            with _translated():
                (self._folder / sha256).unlink(missing_ok=True)

    async def list(self) -> list[str]:
        """The keys of the files that are whole; what a kill left half written is swept away."""
        with _translated():
            names = [path.name for path in self._folder.iterdir()] if self._folder.is_dir() else []
            for name in names:
                if name.endswith(".part"):
                    (self._folder / name).unlink(missing_ok=True)
        await asyncio.sleep(0)
        return sorted(filter(is_key, names))


class PickedBytes:
    """A chosen file that is in memory."""

    def __init__(self, name: str, data: bytes) -> None:
        self.name, self._data = name, data

    async def head(self) -> bytes:
        """The start of it."""
        return self._data[:HEAD]

    async def shrunk(self, side: int = SIDE, most: int = MOST_BYTES) -> Shrunk:
        """Made smaller here."""
        return shrink(self._data, side, most)


def shrink(data: bytes, side: int, most: int) -> Shrunk:
    """The photo upright, at most `side` px long and about `most` bytes large. Raises NoPhoto."""
    picture = _opened(data)
    scale = min(1.0, side / max(picture.size))
    made, size = b"", picture.size
    for part, quality in STEPS:
        size = (max(1, round(picture.width * scale * part)), max(1, round(picture.height * scale * part)))
        out = io.BytesIO()
        picture.resize(size).save(out, "JPEG", quality=round(100 * quality))
        made = out.getvalue()
        if len(made) <= most:
            break
    return Shrunk(made, *size)


def rgba(data: bytes, side: int) -> bytes:
    """Four bytes for each pixel of the photo made at most `side` px long."""
    picture = _opened(data)
    picture.thumbnail((side, side))
    return bytes(picture.convert("RGBA").tobytes())


def _opened(data: bytes) -> Any:
    """The picture upright, on white where it is clear."""
    from PIL import Image, ImageOps

    if len(data) > LARGEST:
        raise HugePhoto
    try:
        picture = Image.open(io.BytesIO(data))
        if picture.width * picture.height > MOST_PIXELS:
            raise HugePhoto
        clear = ImageOps.exif_transpose(picture).convert("RGBA")
    except HugePhoto:
        raise
    except Exception as error:  # a spoilt picture raises nearly anything
        raise NoPhoto from error
    white = Image.new("RGBA", clear.size, "white")
    return Image.alpha_composite(white, clear).convert("RGB")


@contextmanager
def _translated() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        if error.errno in _FULL:
            raise StorageFull from error
        raise StorageError(f"The photos could not be used ({error.strerror or error}).") from error
