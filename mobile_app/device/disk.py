"""Ordinary files as the journal's folder: on a computer, and in a packaged phone app."""

import errno
import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from logic.errors import StorageBusy, StorageError, StorageFull
from logic.records.folder import Blob, Folder

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}


class DiskBlob:
    """One file, held open and unbuffered. Every failure comes out as a StorageError."""

    def __init__(self, path: Path) -> None:
        with _translated():
            descriptor = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o600)
            self._file = io.FileIO(descriptor, "r+")

    def size(self) -> int:
        with _translated():
            return os.fstat(self._file.fileno()).st_size

    def read(self, at: int, n: int) -> bytes:
        pieces = []
        with _translated():
            self._file.seek(at)
            while n > 0 and (piece := self._file.read(n)):
                pieces.append(piece)
                n -= len(piece)
        return b"".join(pieces)

    def write(self, at: int, data: bytes) -> int:
        done = 0
        with _translated():
            self._file.seek(at)
            while done < len(data) and (count := self._file.write(memoryview(data)[done:])):
                done += count
        return done

    def truncate(self, n: int) -> None:
        with _translated():
            self._file.truncate(n)

    def flush(self) -> None:
        with _translated():
            os.fsync(self._file.fileno())

    def close(self) -> None:
        """Close the file."""
        with _translated():
            self._file.close()


class DiskFolder:
    """A folder on disk, locked for this process until `close`."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._blobs: dict[str, DiskBlob] = {}
        with _translated():
            path.mkdir(parents=True, exist_ok=True)
            self._lock = open(path / "lock", "w")  # noqa: SIM115 - held as long as the folder
            try:
                _lock(self._lock.fileno())
            except OSError as error:
                self._lock.close()
                raise StorageBusy from error

    def open(self, name: str) -> Blob:
        if name not in self._blobs:
            is_new = not (self._path / name).exists()
            self._blobs[name] = DiskBlob(self._path / name)
            if is_new:
                self._flush_names()
        return self._blobs[name]

    def close(self) -> None:
        for blob in self._blobs.values():
            blob.close()
        self._blobs.clear()
        self._lock.close()

    def _flush_names(self) -> None:
        """Make a new file's name as lasting as its bytes."""
        if sys.platform == "win32":
            return  # directories cannot be flushed there
        with _translated():
            descriptor = os.open(self._path, os.O_RDONLY)
            try:
                os.fsync(descriptor)
            finally:
                os.close(descriptor)


def open_folder(path: Path) -> Folder:
    """The folder at `path`, made when missing. Raises StorageBusy when another process holds it."""
    return DiskFolder(path)


@contextmanager
def _translated() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        if error.errno in _FULL:
            raise StorageFull from error
        raise StorageError(
            f"The store could not be used ({error.strerror or error}). What was saved before is safe."
        ) from error


if sys.platform == "win32":
    import msvcrt

    def _lock(descriptor: int) -> None:
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
else:

    def _lock(descriptor: int) -> None:
        # Not there in the browser's Python, which never comes here.
        import fcntl

        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
