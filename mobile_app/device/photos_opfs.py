"""Photos in the browser: its private file system to keep them, its own picture code to make them smaller.

Runs in the app's worker. A file is written beside its place through a synchronous handle, flushed, and only
then moved to its name, so that a kill leaves a photo whole or not at all.
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import js
from pyodide.ffi import JsException, to_js

from logic.errors import StorageError, StorageFull
from mobile_app.device.choose import choose, read
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

_FOLDERS = ("swardwright", "photos")
_BUSY = ("NoModificationAllowedError", "InvalidStateError")


class OpfsPhotos:
    """Photos as files named by their key, in a folder beside the book's."""

    def __init__(self, folders: tuple[str, ...] = _FOLDERS) -> None:
        self._folders = folders
        self._home: Any = None

    async def put(self, data: bytes) -> str:
        """Written beside its place, flushed, and only then given its name."""
        key, home = key_of(data), await self._at()
        if await self._read(key) == data:
            return key
        part = f"{key}.part"
        with _translated():
            file = await home.getFileHandle(part, _options(create=True))
            handle = await _handle(file)
            try:
                handle.truncate(0)
                written = int(handle.write(to_js(data)))
                handle.flush()
                size = int(handle.getSize())
            except BaseException:
                handle.close()
                await home.removeEntry(part)
                raise
            handle.close()
            if written != len(data) or size != len(data):  # over quota some profiles only write less
                await home.removeEntry(part)
                raise StorageFull
            await file.move(key)
        return key

    async def get(self, sha256: str) -> bytes:
        """The file's bytes, checked."""
        return checked(sha256, await self._read(sha256))

    async def has(self, sha256: str) -> bool:
        """Whether there is such a file."""
        return await self._file(sha256) is not None

    async def remove(self, sha256: str) -> None:
        """Delete the file."""
        if await self.has(sha256):
            with _translated():
                await (await self._at()).removeEntry(sha256)

    async def list(self) -> list[str]:
        """The keys of the files that are whole; what a kill left half written is swept away."""
        names: list[str] = []
        with _translated():
            home = await self._at()
            entries = home.keys()
            while not (step := await entries.next()).done:
                names.append(str(step.value))
            for name in names:
                if name.endswith(".part"):
                    await home.removeEntry(name)
        return sorted(filter(is_key, names))

    async def _at(self) -> Any:
        if self._home is None:
            with _translated():
                home = await js.navigator.storage.getDirectory()
                for name in self._folders:
                    home = await home.getDirectoryHandle(name, _options(create=True))
            self._home = home
        return self._home

    async def _file(self, sha256: str) -> Any:
        if not is_key(sha256):
            return None
        try:
            return await (await self._at()).getFileHandle(sha256)
        except JsException as error:
            if error.name == "NotFoundError":
                return None
            raise StorageError(f"The photos could not be used ({error.name}).") from error

    async def _read(self, sha256: str) -> bytes | None:
        found = await self._file(sha256)
        if found is None:
            return None
        with _translated():
            return await read(await found.getFile())


class PickedFile:
    """A file that the window has handed on; its bytes stay with the browser until they are asked for."""

    def __init__(self, file: Any) -> None:
        self.name, self._file = str(file.name), file

    async def head(self) -> bytes:
        """The start of it."""
        try:
            return await read(self._file.slice(0, HEAD))
        except JsException as error:
            raise NoPhoto from error

    async def shrunk(self, side: int = SIDE, most: int = MOST_BYTES) -> Shrunk:
        """Made smaller by the browser."""
        if int(self._file.size) > LARGEST:
            raise HugePhoto
        return await _shrink(self._file, side, most)


async def pick(camera: bool) -> list[PickedFile]:
    """The photos that the person takes or chooses."""
    words = "Open the camera" if camera else "Choose photos"
    return [PickedFile(file) for file in await choose("image/*", words, camera=camera, many=not camera)]


async def shrink_bytes(data: bytes, side: int, most: int) -> Shrunk:
    """As PickedFile.shrunk, for bytes."""
    return await _shrink(_blob(data), side, most)


async def rgba(data: bytes, side: int) -> bytes:
    """Four bytes for each pixel of the photo made at most `side` px long."""
    bitmap = await _decoded(_blob(data))
    scale = min(1.0, side / max(bitmap.width, bitmap.height))
    size = (max(1, round(bitmap.width * scale)), max(1, round(bitmap.height * scale)))
    painted = _painted(bitmap, *size)
    bitmap.close()
    raw: bytes = painted.getContext("2d").getImageData(0, 0, *size).data.to_bytes()
    return raw


async def _shrink(blob: Any, side: int, most: int) -> Shrunk:
    bitmap = await _decoded(blob)
    try:
        wide, high = int(bitmap.width), int(bitmap.height)
        scale = min(1.0, side / max(wide, high))
        made, size, last = b"", (wide, high), 0.0
        for part, quality in STEPS:
            if part != last:
                size = (max(1, round(wide * scale * part)), max(1, round(high * scale * part)))
                painted, last = _painted(bitmap, *size), part
            out = await painted.convertToBlob(_options(type="image/jpeg", quality=quality))
            made = await read(out)
            if len(made) <= most:
                break
    except JsException as error:
        raise NoPhoto from error
    finally:
        bitmap.close()
    return Shrunk(made, *size)


async def _decoded(blob: Any) -> Any:
    """The picture, the right way up by what its Exif says."""
    try:
        bitmap = await js.createImageBitmap(blob, _options(imageOrientation="from-image"))
    except JsException as error:
        raise NoPhoto from error
    if bitmap.width * bitmap.height > MOST_PIXELS:
        bitmap.close()
        raise HugePhoto
    return bitmap


def _painted(bitmap: Any, wide: int, high: int) -> Any:
    """A canvas with the picture, on white where it is clear."""
    canvas = js.OffscreenCanvas.new(wide, high)
    pen = canvas.getContext("2d")
    pen.imageSmoothingQuality = "high"
    pen.fillStyle = "#FFFFFF"
    pen.fillRect(0, 0, wide, high)
    pen.drawImage(bitmap, 0, 0, wide, high)
    return canvas


def _blob(data: bytes) -> Any:
    return js.Blob.new(to_js([to_js(data)]), _options(type="image/jpeg"))


async def _handle(file: Any) -> Any:
    """A synchronous handle; one that a page just gone still holds is waited for."""
    for _ in range(20):
        try:
            return await file.createSyncAccessHandle()
        except JsException as error:
            if error.name not in _BUSY:
                raise
        await asyncio.sleep(0.05)
    raise StorageError("The photos are in use elsewhere.")


def _options(**members: Any) -> Any:
    return to_js(members, dict_converter=js.Object.fromEntries)


@contextmanager
def _translated() -> Iterator[None]:
    try:
        yield
    except JsException as error:
        if error.name == "QuotaExceededError":
            raise StorageFull from error
        raise StorageError(f"The photos could not be used ({error.name}).") from error
