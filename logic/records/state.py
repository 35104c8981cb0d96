"""What the entries of the journal add up to: the documents of now, and where each version lies."""

from collections.abc import Mapping
from typing import Any

from logic.records.entry import Entry

Key = tuple[str, str]  # table, document id
Tables = dict[str, dict[str, dict[str, Any]]]


class State:
    """Documents by table and id, with the bookkeeping for history and for finding waste."""

    def __init__(self) -> None:
        self.tables: Tables = {}
        #: entry number -> (position, length) in the live file, in the order of the numbers
        self.places: dict[int, tuple[int, int]] = {}
        #: bytes of entries of which no document is current
        self.waste = 0
        self._versions: dict[Key, list[int]] = {}
        self._holder: dict[Key, int] = {}
        self._standing: dict[int, int] = {}

    @property
    def last(self) -> int:
        """Number of the newest entry, 0 when there is none."""
        return next(reversed(self.places), 0)

    def newest(self, count: int) -> list[int]:
        """Numbers of the newest entries, newest first."""
        numbers = reversed(self.places)
        return [number for _, number in zip(range(count), numbers, strict=False)]

    def version(self, key: Key) -> int:
        """Number of the entry in the live file that last set or deleted this document, or 0."""
        return self._versions[key][-1] if key in self._versions else 0

    def versions(self, key: Key) -> tuple[int, ...]:
        """Numbers of the entries in the live file that set or delete this document, oldest first."""
        return tuple(self._versions.get(key, ()))

    def take(self, entry: Entry, at: int, size: int) -> None:
        """Apply an entry that lies at this place. Entries come in the order of their numbers."""
        number = entry.number
        self.places[number] = (at, size)
        self._standing[number] = 0
        for change in entry.changes:
            key = (change.table, change.id)
            self._versions.setdefault(key, []).append(number)
            self._let_go(self._holder.pop(key, None))
            if change.doc is None:
                self.tables.get(change.table, {}).pop(change.id, None)
            else:
                self.tables.setdefault(change.table, {})[change.id] = dict(change.doc)
                self._holder[key] = number
                self._standing[number] += 1
        if not self._standing[number]:
            self.waste += size

    def is_current(self, number: int) -> bool:
        """True while a document of this entry is the one of now."""
        return self._standing[number] > 0

    def move(self, places: Mapping[int, tuple[int, int]]) -> None:
        """The live file is another one now, with only these entries, at these places."""
        self.places = dict(sorted(places.items()))
        self._standing = {number: self._standing[number] for number in self.places}
        kept = {key: [n for n in numbers if n in self.places] for key, numbers in self._versions.items()}
        self._versions = {key: numbers for key, numbers in kept.items() if numbers}
        self.waste = sum(size for number, (_, size) in self.places.items() if not self.is_current(number))

    def _let_go(self, number: int | None) -> None:
        if number is None:
            return
        self._standing[number] -= 1
        if not self._standing[number]:
            self.waste += self.places[number][1]
