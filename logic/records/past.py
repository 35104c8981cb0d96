"""Versions that compaction took out of the live file: kept for history, and never read at the start.

Two files take turns. When the one in use would grow past LIMIT, the other is emptied and goes on from
there; so the newest LIMIT bytes of superseded versions, and up to twice that, can always be looked up. A
version may be there twice after a kill in the middle of a compaction; its number tells.
"""

import contextlib
from collections.abc import Callable, Iterator

from logic.errors import StorageFull
from logic.records.entry import Entry, canonical, entry_from, frame, scan
from logic.records.folder import Blob, Folder, read_all

LIMIT = 16 * 1024 * 1024


class Past:
    """The two files of superseded versions."""

    def __init__(self, folder: Folder, limit: int = LIMIT) -> None:
        self._blobs = (folder.open("past.a"), folder.open("past.b"))
        self._limit = limit

    def add(self, lines: bytes) -> None:
        """Keep these lines, flushed. Raises StorageFull and then keeps what was there before."""
        if not lines:
            return
        blob, other = self._in_use()
        at = blob.size()
        if at + len(lines) >= self._limit:
            # The other one is emptied before this one is full, so that never both are.
            other.truncate(0)
            other.flush()
        if blob.write(at, lines) != len(lines):
            blob.truncate(at)
            blob.flush()
            raise StorageFull
        blob.flush()

    def versions(self, table: str, doc_id: str) -> Iterator[Entry]:
        """Entries that changed this document, in no particular order."""
        for blob in self._blobs:
            yield from _entries_about(read_all(blob), table, doc_id)

    def entries(self) -> Iterator[Entry]:
        """All entries kept here, in no particular order."""
        for blob in self._blobs:
            for found in scan(read_all(blob)).frames:
                with contextlib.suppress(ValueError):
                    yield entry_from(found.value)

    def scrub(self, scrubbed: Callable[[Entry], Entry | None]) -> None:
        """Put in place of every entry what `scrubbed` gives, and nothing in place of None and of damage.

        Each line keeps its place and length, so a kill in the middle costs no other line.
        """
        for blob in self._blobs:
            found = scan(read_all(blob))
            for start, end in found.damage:
                blob.write(start, b"\n" * (end - start))
            for at, size, value in found.frames:
                with contextlib.suppress(ValueError):
                    entry = entry_from(value)
                    kept = scrubbed(entry)
                    if kept != entry:
                        line = frame(kept.payload()) if kept else b""
                        blob.write(at, line.ljust(size, b"\n"))
            blob.flush()

    def _in_use(self) -> tuple[Blob, Blob]:
        first, second = self._blobs
        if 0 < second.size() < self._limit or (first.size() >= self._limit and not second.size()):
            return second, first
        if first.size() >= self._limit:
            first.truncate(0)
        return first, second


def _entries_about(data: bytes, table: str, doc_id: str) -> Iterator[Entry]:
    needle = b'"id":' + canonical(doc_id)
    at = data.find(needle)
    while at >= 0:
        start = data.rfind(b"\n", 0, at) + 1
        end = data.find(b"\n", at)
        end = len(data) if end < 0 else end
        for found in scan(data[start:end]).frames:
            with contextlib.suppress(ValueError):
                entry = entry_from(found.value)
                if any((change.table, change.id) == (table, doc_id) for change in entry.changes):
                    yield entry
        at = data.find(needle, end)
