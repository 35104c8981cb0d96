"""The journal: a tinydb storage on an append-only file of checksummed entries.

A save is one entry, and it has been flushed when `append` returns; nothing in a save grows with the number
of records. Two files, `book.a` and `book.b`, take turns: `compact` writes what is current and the last KEPT
entries into the other one, flushes, seals, and only then empties the old one; every other version goes to
the past files first. A kill at any byte leaves one file that holds everything acknowledged (see
recovery.py).
"""

import json
from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime
from types import MappingProxyType
from typing import Any

from tinydb.storages import Storage

from logic.errors import NotFound, StorageError
from logic.records.entry import HEAD, Change, Entry, entry_from, frame
from logic.records.folder import Folder
from logic.records.past import Past
from logic.records.recovery import Recovery, whole_line
from logic.records.state import Key, State
from logic.records.tape import Tape, open_tape
from logic.records.types import Json, utc_now

KEPT = 120  # newest entries, those of sync among them, that compaction leaves in the live file
WORTHWHILE = 256 * 1024  # less waste than this is not worth a compaction


class Journal(Storage):
    """The store under the book. Open one on a folder; `append` is the only way to change it."""

    def __init__(self, folder: Folder, known: bool = False, now: Callable[[], datetime] = utc_now) -> None:
        """Open the journal in `folder`, making one when there is none.

        known: True when this device is known to have had a journal, so that an empty folder is reported.
        Raises StorageError when the folder cannot be used and NewerFormat when a later version wrote it.
        """
        self._folder = folder
        self._now = now
        self._past = Past(folder)
        opened = open_tape(folder, known, stamp(now()))
        self._tape: Tape = opened.tape
        self.recovery: Recovery = opened.recovery
        self._state = State()
        for entry, at, size in opened.entries:
            self._state.take(entry, at, size)
        self._next = self._state.last + 1 + opened.skip
        if opened.rewrite:
            self.tidy(always=True)
        self._tape.fill_ballast()

    @property
    def book(self) -> str:
        """Random id of this book, made with it and never changed."""
        return self._tape.book

    @property
    def running_low(self) -> bool:
        """True once there was not room enough for everything, the reserve included."""
        return self._tape.running_low

    def read(self) -> dict[str, Any]:
        """The tables of now, as tinydb wants them: not copied, and not to be changed."""
        return {name: MappingProxyType(table) for name, table in self._state.tables.items()}

    def table(self, name: str) -> Mapping[str, dict[str, Any]]:
        """The documents of one table by id, now and later on: a view, not to be changed through."""
        return MappingProxyType(self._state.tables.setdefault(name, {}))

    def entry(self, number: int) -> Entry | None:
        """The entry of this number out of the live file, None when it is not there."""
        if number not in self._state.places:
            return None
        at, size = self._state.places[number]
        return entry_from(json.loads(self._tape.read(at, size)[HEAD:]))

    def document(self, table: str, doc_id: str, number: int) -> Json | None:
        """The document as the entry of this number made it; None for 0 or when that entry deleted it.

        Raises NotFound when that version is no longer kept.
        """
        if not number:
            return None
        entry = self.entry(number)
        entries = [entry] if entry else self._past.versions(table, doc_id)
        for entry in entries:
            for change in entry.changes:
                if (entry.number, change.table, change.id) == (number, table, doc_id):
                    return change.doc
        raise NotFound("The version before this change is no longer kept.")

    def entries(self, after: int = 0) -> Iterator[Entry]:
        """The entries of the live file with a greater number, oldest first."""
        for number in list(self._state.places):
            if number > after and (entry := self.entry(number)):
                yield entry

    def newest(self, count: int = KEPT) -> Iterator[Entry]:
        """The newest entries, newest first."""
        for number in self._state.newest(count):
            if entry := self.entry(number):
                yield entry

    def versions(self, table: str, doc_id: str) -> list[tuple[Entry, Json | None]]:
        """Every version of a document that is still kept, newest first, each with the entry that made it."""
        entries = {entry.number: entry for entry in self._past.versions(table, doc_id)}
        for number in self._state.versions((table, doc_id)):
            if entry := self.entry(number):
                entries[number] = entry
        return [
            (entry, change.doc)
            for _, entry in sorted(entries.items(), reverse=True)
            for change in entry.changes
            if (change.table, change.id) == (table, doc_id)
        ]

    def append(self, docs: Mapping[Key, Json | None], why: str = "", marks: Json | None = None) -> Entry:
        """Save these documents (None deletes) as one entry; it has been flushed when this returns.

        why: what the user did, in a few words; marks: further members for the entry, such as {"undoes": 7}.
        Raises StorageFull or another StorageError, and then nothing has changed, in the file or in memory.
        """
        changes = tuple(
            Change(table, doc_id, doc, self._state.version((table, doc_id)))
            for (table, doc_id), doc in docs.items()
        )
        payload = Entry(self._next, stamp(self._now()), why, changes, marks or {}).payload()
        # JSON's own view of the documents: what a reopening would give, and nothing shared with the caller.
        entry = entry_from(json.loads(payload.decode()))
        line = frame(payload)
        at = self._tape.append(line)
        self._state.take(entry, at, len(line))
        self._next += 1
        return entry

    def everything(self) -> Iterator[Entry]:
        """Every entry that is kept anywhere, in no promised order; one may come twice."""
        yield from self._past.entries()
        yield from self.entries()

    def scrub(self, scrubbed: Callable[[Entry], Entry | None]) -> None:
        """Write every file anew, each entry as `scrubbed` gives it (None: gone); damaged bytes kept go too.

        The live file changes all at once and last, so that what asked for this can stand in it until done.
        Raises StorageError, and then is to be called again.
        """
        self._past.scrub(scrubbed)
        aside = self._folder.open("book.aside")
        aside.truncate(0)
        aside.flush()
        lines = {}
        for entry in list(self.entries()):
            if kept := scrubbed(entry):
                lines[entry.number] = frame(kept.payload())
        self._state.move(self._tape.rewrite(lines))

    def write(self, data: Mapping[str, Mapping[str, Json]]) -> None:
        """Make the tables equal to `data`: tinydb's way to drop tables. Only what differs is journalled."""
        docs: dict[Key, Json | None] = {}
        for name, table in self._state.tables.items():
            docs.update({(name, doc_id): None for doc_id in table if doc_id not in data.get(name, {})})
        for name, wanted in data.items():
            have = self._state.tables.get(name, {})
            docs.update({(name, doc_id): doc for doc_id, doc in wanted.items() if have.get(doc_id) != doc})
        if docs:
            self.append(docs)

    def tidy(self, always: bool = False) -> bool:
        """Compact when more than half of the live file is waste; True when that was done.

        It takes time that grows with the book, so it is called when nobody waits. Without room for it
        everything stays as it is and `running_low` says so.
        """
        if not (always or self._is_worthwhile()):
            return False
        try:
            self._compact()
        except StorageError:
            self._tape.running_low = True
            return False
        return True

    def close(self) -> None:
        """Give the files back; nothing more can be saved."""
        self._tape.stop()
        self._folder.close()

    def _is_worthwhile(self) -> bool:
        places = self._state.places
        staying = sum(places[n][1] for n in self._state.newest(KEPT) if not self._state.is_current(n))
        waste = self._state.waste - staying
        return waste > max(WORTHWHILE, self._tape.size - waste)

    def _compact(self) -> None:
        data = self._tape.read(0, self._tape.size)
        lines = {number: whole_line(data, at, size) for number, (at, size) in self._state.places.items()}
        recent = set(self._state.newest(KEPT))
        stays = {n for n in lines if n in recent or self._state.is_current(n)}
        self._past.add(b"".join(line for n, line in lines.items() if n not in stays))
        self._state.move(self._tape.rewrite({n: line for n, line in lines.items() if n in stays}))


def stamp(moment: datetime) -> str:
    """A moment as written in the journal: UTC, to the microsecond."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")
