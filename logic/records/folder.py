"""What the journal asks of a place that keeps bytes: a folder of blobs, alike in a browser and on a disk."""

from typing import Protocol

#: Every blob the book uses. The browser must open them all at the start, so the list is fixed.
BLOB_NAMES = ("book.a", "book.b", "past.a", "past.b", "book.aside", "ballast")


class Blob(Protocol):
    """A run of bytes with a name. An empty blob and one that was never written are the same thing.

    A back end raises `StorageFull` when there is no room and `StorageError` for anything else; it may also
    write fewer bytes than it was given and say so in the count that it returns.
    """

    def size(self) -> int:
        """Length in bytes."""
        ...

    def read(self, at: int, n: int) -> bytes:
        """Up to `n` bytes from position `at`; fewer at the end."""
        ...

    def write(self, at: int, data: bytes) -> int:
        """Put `data` at position `at`; returns how many bytes the store says it took."""
        ...

    def truncate(self, n: int) -> None:
        """Cut to `n` bytes."""
        ...

    def flush(self) -> None:
        """Return only when everything written so far will survive a kill."""
        ...


class Folder(Protocol):
    """A set of blobs that one process holds for itself until `close`."""

    def open(self, name: str) -> Blob:
        """The blob of that name out of `BLOB_NAMES`; always the same object for the same name."""
        ...

    def close(self) -> None:
        """Give the blobs back, so that another tab or process may open them."""
        ...


def read_all(blob: Blob) -> bytes:
    """All bytes of a blob."""
    return blob.read(0, blob.size())
