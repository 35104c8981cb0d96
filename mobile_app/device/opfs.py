"""The browser's origin private file system as the journal's folder. Runs in the app's worker only.

The handles are opened once at the start, asynchronously; everything after that is a plain call. A handle is
exclusive, which is also the guard against a second tab: that one cannot open its handles and says so. What
the browser does when it is over its quota depends on the profile: it raises QuotaExceededError, or it
writes a part and returns an odd count.
"""

import asyncio
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import js
from pyodide.ffi import JsException, to_js

from logic.errors import StorageBusy, StorageError, StorageFull, StorageMissing
from logic.records.folder import BLOB_NAMES, Blob, Folder

DIRECTORY = "swardwright"
# Right after a reload the old page may still hold the handles for a moment, longer on Safari.
TRIES = 20
PAUSE = 0.05  # s

_BUSY = ("NoModificationAllowedError", "InvalidStateError")


class OpfsBlob:
    """One file through its synchronous access handle."""

    def __init__(self, handle: Any) -> None:
        self._handle = handle

    def size(self) -> int:
        with _translated():
            return int(self._handle.getSize())

    def read(self, at: int, n: int) -> bytes:
        n = min(n, self.size() - at)
        if n <= 0:
            return b""
        with _translated():
            buffer = js.Uint8Array.new(n)
            count = int(self._handle.read(buffer, _at(at)))
            data: bytes = buffer.to_bytes()
        return data[:count]

    def write(self, at: int, data: bytes) -> int:
        with _translated():
            buffer = to_js(data)
            count = int(self._handle.write(buffer, _at(at)))
        return count

    def truncate(self, n: int) -> None:
        with _translated():
            self._handle.truncate(n)

    def flush(self) -> None:
        with _translated():
            self._handle.flush()

    def close(self) -> None:
        """Give the handle back."""
        with _translated():
            self._handle.close()


class OpfsFolder:
    """The opened handles by name."""

    def __init__(self, blobs: Mapping[str, OpfsBlob]) -> None:
        self._blobs = blobs

    def open(self, name: str) -> Blob:
        return self._blobs[name]

    def close(self) -> None:
        for blob in self._blobs.values():
            blob.close()


async def open_folder(directory: str = DIRECTORY) -> Folder:
    """Open all blobs of the journal in this directory of the origin.

    Raises StorageBusy when another tab holds them, StorageMissing when the browser offers no such storage,
    as in some private windows.
    """
    home = await _home(directory)
    blobs: dict[str, OpfsBlob] = {}
    try:
        for name in BLOB_NAMES:
            blobs[name] = OpfsBlob(await _handle(home, name))
    except StorageError:
        OpfsFolder(blobs).close()
        raise
    return OpfsFolder(blobs)


async def _home(directory: str) -> Any:
    try:
        root = await js.navigator.storage.getDirectory()
        return await root.getDirectoryHandle(directory, _options(create=True))
    except (AttributeError, JsException) as error:
        raise StorageMissing from error


async def _handle(home: Any, name: str) -> Any:
    with _translated():
        file = await home.getFileHandle(name, _options(create=True))
    if not hasattr(file, "createSyncAccessHandle"):
        raise StorageMissing
    for _ in range(TRIES):
        try:
            return await file.createSyncAccessHandle()
        except JsException as error:
            if error.name not in _BUSY:
                raise StorageError(_sentence(error)) from error
        await asyncio.sleep(PAUSE)
    raise StorageBusy


def _at(position: int) -> Any:
    return _options(at=position)


def _options(**members: Any) -> Any:
    make: Callable[..., Any] = js.Object.fromEntries
    return to_js(members, dict_converter=make)


def _sentence(error: JsException) -> str:
    return f"The browser's storage could not be used ({error.name}). What was saved before is safe."


@contextmanager
def _translated() -> Iterator[None]:
    try:
        yield
    except JsException as error:
        if error.name == "QuotaExceededError":
            raise StorageFull from error
        raise StorageError(_sentence(error)) from error
