"""A tinydb table on the journal: an update touches and journals only the documents that it changes."""

import copy
from collections.abc import Callable, Iterator, Mapping, MutableMapping
from typing import Any

from tinydb import TinyDB
from tinydb.table import Table

from logic.records.journal import Journal
from logic.records.types import new_id

Doc = dict[str, Any]


class Overlay(MutableMapping[str, Doc]):
    """A table to be changed: reads fall through to the stored one, what is taken out or put in is noted."""

    def __init__(self, stored: Mapping[str, Doc]) -> None:
        self._stored = stored
        self._touched: dict[str, Doc | None] = {}

    def changes(self) -> dict[str, Doc | None]:
        """The documents that differ from the stored ones now; None for a deleted one."""
        return {key: doc for key, doc in self._touched.items() if doc != self._stored.get(key)}

    def __getitem__(self, key: str) -> Doc:
        if key not in self._touched:
            # The caller may change what it gets, in place.
            self._touched[key] = copy.deepcopy(self._stored[key])
        doc = self._touched[key]
        if doc is None:
            raise KeyError(key)
        return doc

    def __setitem__(self, key: str, doc: Doc) -> None:
        self._touched[key] = doc

    def __delitem__(self, key: str) -> None:
        if key not in self:
            raise KeyError(key)
        self._touched[key] = None

    def __contains__(self, key: object) -> bool:
        return self._touched[str(key)] is not None if key in self._touched else key in self._stored

    def __iter__(self) -> Iterator[str]:
        yield from (key for key in self._stored if key in self)
        yield from (key for key in list(self._touched) if key not in self._stored and key in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)


class JournalTable(Table):
    """tinydb's table with text ids and updates that cost what they change, not what is stored."""

    document_id_class = str  # type: ignore[assignment]

    def _update_table(self, updater: Callable[[Any], None]) -> None:
        journal = self._storage
        assert isinstance(journal, Journal)
        overlay = Overlay(journal.table(self.name))
        updater(overlay)
        changes = overlay.changes()
        if changes:
            journal.append({(self.name, doc_id): doc for doc_id, doc in changes.items()})
        self.clear_cache()

    def _get_next_id(self) -> str:
        return new_id()


class JournalDB(TinyDB):
    """tinydb on a journal: `JournalDB(journal).table("visits")`."""

    table_class = JournalTable

    def __init__(self, journal: Journal) -> None:
        super().__init__(storage=lambda: journal)
