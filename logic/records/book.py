"""The book: the one store of a business's records. Everything that a screen needs from the store is here.

    book = Book.open(folder, known=False)       raises StorageError or NewerFormat only, never on damage;
                                                known: this device has had a book, so an empty store is a loss
    book.recovery.sentence, running_low         what was damaged; that the reserve had to be used

    save(record, why), save_all(records, why)   one journal entry, flushed: all or none; records as stored
    get, has, all, find, settings, counts       by kind and id, all of a kind, by a tinydb query
    last_changed                                the record of a kind that was saved last
    swards_of, visits_of, latest_visit          what hangs on what
    search, search_clients, look_up(kind, text) as the user types
    delete, bin, restore, empty_bin             into the bin with what hangs on it, and out again
    undoable, undo, history                     take back; every version that is kept
    forget(client_id)                           a client and all of its own, for good (see privacy.py)
    export_all, import_all, raw, tidy, close    the whole book

Every method that writes raises StorageFull, StorageTorn or another StorageError and then has changed nothing.
Records are frozen: change one with `dataclasses.replace` and save it.
"""

import contextlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Protocol, cast

from tinydb.queries import QueryLike

from logic.errors import NewerFormat, NotFound, StorageError
from logic.records import backup, privacy
from logic.records.backup import Imported, raw_copy
from logic.records.binning import BIN, Binned, binned, in_bin, restoring, with_children
from logic.records.documents import from_doc, to_doc
from logic.records.folder import Folder
from logic.records.journal import Journal, stamp
from logic.records.leaves import BESIDE
from logic.records.recovery import Recovery
from logic.records.search import Finder
from logic.records.state import Key
from logic.records.table import JournalDB
from logic.records.types import (
    KINDS,
    Client,
    Json,
    Photo,
    Record,
    RecordT,
    Settings,
    Sward,
    Visit,
    utc_now,
)
from logic.records.undoing import last_done, undoing

#: Tables that no export holds: what is being forgotten, and the key to the office.
_NOT_GIVEN = (privacy.PURGING, "sync")


class Follower(Protocol):
    """Who has to note what the user changes, for the office."""

    def beside(self, docs: Mapping[Key, Json | None], why: str) -> Mapping[Key, Json | None]:
        """Documents to be written together with these, about which the tables do not yet tell."""


@dataclass(frozen=True)
class Version:
    """One version of a record: the number and time of the save that made it, what for, and the record."""

    number: int
    at: datetime
    why: str
    #: None: that save deleted the record
    record: Record | None
    #: who saved it, when that was on another phone
    who: str = ""


class Book:
    """The store API (see the module). Open it with `Book.open`."""

    def __init__(self, folder: Folder, journal: Journal, now: Callable[[], datetime]) -> None:
        self._folder = folder
        self._journal = journal
        self._now = now
        self._db = JournalDB(journal)
        self._records: dict[Key, Record] = {}
        self._finder = Finder({table: journal.table(table) for table in KINDS})
        self._follower: Follower | None = None

    @classmethod
    def open(cls, folder: Folder, known: bool = False, now: Callable[[], datetime] = utc_now) -> "Book":
        """Open the book in `folder`, making one when there is none.

        known: True when this device has had one, so that an empty store is reported in `recovery`.
        now: the clock, for tests. Raises StorageError or NewerFormat.
        """
        journal = Journal(folder, known, now)
        with contextlib.suppress(StorageError):  # no room to scrub in: what was to be forgotten is deleted
            privacy.finish(journal)
        return cls(folder, journal, now)

    @property
    def id(self) -> str:
        """Random id of this book."""
        return self._journal.book

    @property
    def recovery(self) -> Recovery:
        """What the opening found; its `sentence` is "" when all was well."""
        return self._journal.recovery

    @property
    def running_low(self) -> bool:
        """True once there was not room enough for everything, the reserve included."""
        return self._journal.running_low

    # -- reading

    def has(self, kind: type[Record], record_id: str) -> bool:
        """True when there is such a record."""
        return record_id in self._journal.table(kind.table)

    def get(self, kind: type[RecordT], record_id: str) -> RecordT:
        """The record with this id. Raises NotFound."""
        key = (kind.table, record_id)
        if key not in self._records:
            doc = self._journal.table(kind.table).get(record_id)
            if doc is None:
                raise NotFound(f"This {kind.noun} is no longer in the book.")
            self._records[key] = from_doc(kind, doc)
        return cast(RecordT, self._records[key])

    def all(self, kind: type[RecordT]) -> list[RecordT]:
        """All records of a kind, in the order they were first saved."""
        return [self.get(kind, record_id) for record_id in self._journal.table(kind.table)]

    def last_changed(self, kind: type[RecordT]) -> RecordT | None:
        """The record of a kind that was saved last; read from the documents, for the start waits for it."""
        docs = self._journal.table(kind.table).values()
        newest = max(docs, key=lambda doc: str(doc.get("changed", "")), default=None)
        return self.get(kind, newest["id"]) if newest else None

    def find(self, kind: type[RecordT], query: QueryLike) -> list[RecordT]:
        """Records whose documents answer a tinydb query, such as `where("surface") == "mown"`."""
        return [self.get(kind, doc["id"]) for doc in self._db.table(kind.table).search(query)]

    @property
    def settings(self) -> Settings:
        """The stored settings, or the defaults."""
        return self.get(Settings, "settings") if self.has(Settings, "settings") else Settings()

    def counts(self) -> Mapping[str, int]:
        """How many records there are, by table, the bin included."""
        return {table: len(self._journal.table(table)) for table in (*KINDS, BIN)}

    def swards_of(self, client_id: str) -> list[Sward]:
        """A client's swards by name."""
        swards = [self.get(Sward, sward_id) for sward_id in self._finder.children("swards", client_id)]
        return sorted(swards, key=lambda sward: (sward.name.casefold(), sward.id))

    def visits_of(self, sward_id: str) -> list[Visit]:
        """The visits to a sward, newest first."""
        visits = [self.get(Visit, visit_id) for visit_id in self._finder.children("visits", sward_id)]
        return sorted(visits, key=lambda visit: (visit.started, visit.id), reverse=True)

    def latest_visit(self, sward_id: str) -> Visit | None:
        """The visit to a sward that started last."""
        visit_id = self._finder.latest(sward_id)
        return self.get(Visit, visit_id) if visit_id else None

    def search(self, text: str, limit: int | None = None) -> list[Sward]:
        """Swards with every word of `text` in their own, their client's or their visits' texts."""
        return [self.get(Sward, sward_id) for sward_id in self._finder.swards(text, limit)]

    def search_clients(self, text: str, limit: int | None = None) -> list[Client]:
        """Clients with every word of `text` in name, contacts, address or note, by name."""
        return [self.get(Client, client_id) for client_id in self._finder.clients(text, limit)]

    def look_up(self, kind: type[RecordT], text: str, limit: int | None = None) -> list[RecordT]:
        """Records of a kind with every word of `text`, by name, visits newest first (see search.py)."""
        return [self.get(kind, found) for found in self._finder.records(kind.table, text, limit)]

    def get_ready(self) -> None:
        """Make what searching needs, so that the first search takes no longer than the next."""
        self._finder.swards("", 0)
        for kind in (Client, Sward, Visit):
            self._finder.records(kind.table, "", 0)

    # -- writing

    def save(self, record: RecordT, why: str = "", quiet: bool = False) -> RecordT:
        """Save a record as one journal entry. why: a few words for undo and history. Returns it as stored.

        quiet: for what nobody thinks of as a change (the screen that was open): `undo` passes it over.

        Raises NewerFormat for a record of a newer version, StorageError when it could not be saved.
        """
        return cast(RecordT, self.save_all([record], why, quiet)[0])

    def save_all(self, records: Sequence[Record], why: str = "", quiet: bool = False) -> list[Record]:
        """Save several records as one entry: all of them or none."""
        docs = self._docs_of(records)
        if docs:
            self._put(docs, why or self._describe(docs, records), {"quiet": True} if quiet else None)
        return [self.get(type(record), record.id) for record in records]

    def _docs_of(self, records: Sequence[Record]) -> dict[Key, Json | None]:
        """The documents of those records that differ from what is stored. Raises NewerFormat."""
        docs: dict[Key, Json | None] = {}
        moment = self._now().astimezone(UTC).isoformat()
        for record in records:
            if record.read_only:
                raise NewerFormat(
                    f"This {record.noun} was saved by a newer version of Swardwright. "
                    "Update the app to change it."
                )
            doc = {**to_doc(record), "changed": moment}
            stored = self._journal.table(record.table).get(record.id)
            if stored is None or {**stored, "changed": ""} != {**doc, "changed": ""}:
                docs[record.table, record.id] = doc
        return docs

    def delete(self, record: Record, why: str = "", saved: Sequence[Record] = ()) -> None:
        """Move a record, with all that hangs on it, to the bin. Raises NotFound.

        saved: records saved in the same step; those of them that hung on it stay, with what hangs on them.
        """
        stored = self.get(type(record), record.id)
        docs = self._docs_of(saved)
        keys = with_children(self._finder, (record.table, record.id), docs)
        docs.update(dict.fromkeys(keys))
        docs[BIN, record.id] = binned(self._journal, keys, record.noun, stored.label, stamp(self._now()))
        self._put(docs, why or f"{record.noun} {stored.label} deleted")

    def bin(self) -> list[Binned]:
        """What can be restored, newest first."""
        return in_bin(self._journal)

    def restore(self, record_id: str) -> None:
        """Take a record and what hung on it out of the bin. Raises NotFound, Conflict (parent gone)."""
        self._put(*restoring(self._journal, record_id))

    def empty_bin(self, record_id: str | None = None) -> None:
        """Let go of one thing in the bin, or of all."""
        ids = list(self._journal.table(BIN)) if record_id is None else [record_id]
        docs: dict[Key, Json | None] = {(BIN, item): None for item in ids if item in self._journal.table(BIN)}
        if docs:
            self._put(docs, "bin emptied")

    def forget(self, client_id: str) -> set[str]:
        """Delete a client and all of its own for good: records, bin, history (see privacy.py).

        Returns the hashes of photos and papers that nothing uses any more. Raises NotFound, StorageError.
        """
        kept = privacy.kept_of(self._journal, client_id)
        self._put(privacy.forgetting(self._journal, kept), "a client forgotten", {"quiet": True})
        privacy.finish(self._journal)
        return kept.hashes() - {photo.sha256 for photo in self.all(Photo)}

    def kept_of(self, client_id: str) -> privacy.Kept:
        """All that is kept of a client, in whatever version. Raises NotFound."""
        return privacy.kept_of(self._journal, client_id)

    # -- undo and history

    @property
    def undoable(self) -> str:
        """In a few words what `undo` would take back; "" when there is nothing."""
        entry = last_done(self._journal)
        return entry.why if entry else ""

    def undo(self) -> str:
        """Take the last save, delete or restore back, as a change of its own. Returns what was taken back.

        Raises NotFound when there is nothing to take back, Conflict when it was changed elsewhere since.
        """
        entry = last_done(self._journal)
        if entry is None:
            raise NotFound("There is nothing to undo.")
        docs = undoing(self._journal, entry)
        self._put(docs, f"undone: {entry.why}", {"undoes": entry.number})
        return entry.why

    def history(self, kind: type[Record], record_id: str) -> list[Version]:
        """Every version of a record that is still kept, newest first."""
        return [
            Version(
                entry.number,
                _moment(entry.at),
                entry.why,
                None if doc is None else from_doc(kind, doc),
                str(entry.marks.get("who", "")),
            )
            for entry, doc in self._journal.versions(kind.table, record_id)
        ]

    # -- the whole book

    def hashes(self) -> set[str]:
        """The hash of every photo or paper that a record names, those in the bin included."""
        return backup.hashes_in(self._journal.read())

    def export_all(self, photos: Iterable[bytes] = ()) -> bytes:
        """Everything in one zip (see backup.py). photos: the bytes of each, which lie beside the book."""
        return backup.pack(self._tables(), self.id, stamp(self._now()), photos)

    def import_all(self, data: bytes) -> Imported:
        """Take a backup in. Raises BrokenFile, NewerFormat, StorageError, and then nothing has changed."""
        tables = backup.unpack(data)
        for name in (privacy.PURGING, *BESIDE):  # nobody else says what is forgotten or sent here
            tables.pop(name, None)
        docs, result = backup.differences(self._tables(), tables)
        if docs:
            self._put(dict(docs), "backup taken in")
        return result

    def follow(self, follower: Follower | None) -> None:
        """Have whatever the user changes noted by this follower, in the same journal entries."""
        self._follower = follower

    def table(self, name: str) -> Mapping[str, dict[str, Any]]:
        """The documents of a table by id, now and later on: for followers; not to be changed through."""
        return self._journal.table(name)

    def tables(self) -> list[str]:
        """Names of all tables of the store."""
        return list(self._journal.read())

    def take_in(self, docs: Mapping[Key, Json | None], why: str, who: str = "") -> None:
        """Write documents that come from elsewhere, as one entry that nobody undoes. Raises StorageError.

        who: who made the change, for the history.
        """
        self._write(docs, why, {"quiet": True, "who": who} if who else {"quiet": True})

    def raw(self) -> bytes:
        """A zip of the store's own files."""
        return raw_copy(self._folder)

    def tidy(self) -> bool:
        """Compact the journal when that is worth it. Takes a while: call it when nobody waits."""
        return self._journal.tidy()

    def close(self) -> None:
        """Give the store back."""
        self._journal.close()

    # -- inside

    def _put(self, docs: Mapping[Key, Json | None], why: str, marks: Json | None = None) -> None:
        """What the user changes: into the journal together with what the follower has to note of it."""
        if self._follower:
            docs = {**docs, **self._follower.beside(docs, why)}
        elif self._journal.table("sync"):
            raise StorageError("The changes for the office can't be noted, so nothing was changed.")
        self._write(docs, why, marks)

    def _write(self, docs: Mapping[Key, Json | None], why: str, marks: Json | None = None) -> None:
        """The one way into the journal; everything derived from the documents follows here."""
        old = {(table, doc_id): self._journal.table(table).get(doc_id) for table, doc_id in docs}
        self._journal.append(docs, why, marks)
        for key, before in old.items():
            table, doc_id = key
            self._records.pop(key, None)
            self._finder.changed(table, doc_id, before, self._journal.table(table).get(doc_id))
        for table in {table for table, _ in docs}:
            self._db.table(table).clear_cache()

    def _describe(self, docs: Mapping[Key, Json | None], records: Sequence[Record]) -> str:
        changed = [record for record in records if (record.table, record.id) in docs]
        if len(changed) > 1:
            return f"{len(changed)} records changed"
        record = changed[0]
        words = record.noun if record.label == record.noun else f"{record.noun} {record.label}"
        return f"{words} changed" if self.has(type(record), record.id) else f"new {words}"

    def _tables(self) -> dict[str, dict[str, Any]]:
        tables = self._journal.read().items()
        return {name: dict(table) for name, table in tables if name not in _NOT_GIVEN}


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


__all__ = ["Binned", "Book", "Imported", "Version", "raw_copy"]
