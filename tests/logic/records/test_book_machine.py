"""Random histories of the book, with reopenings, kills, full devices, compactions, against a dict."""

from dataclasses import replace
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from logic.errors import Conflict, StorageFull
from logic.records.book import Book
from logic.records.search import PARENTS
from logic.records.types import KINDS, Client, Record, Sward, Visit
from tests.logic.records.build import client, sward, ticking, visit
from tests.logic.records.memory import MemoryFolder

WORDS = st.sampled_from(["moss", "Grün", "wet corner", "ÅSE", "x" * 200])
PICK = st.integers(0, 10**6)

Model = dict[str, Record]


class BookMachine(RuleBasedStateMachine):
    """The model: records by id, what is in the bin by id, the states before each change yet to be undone."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = MemoryFolder()
        self.now = ticking()
        self.book = Book.open(self.folder, now=self.now)
        self.records: Model = {}
        self.binned: dict[str, Model] = {}
        self.before: list[tuple[Model, dict[str, Model]]] = []

    def pick(self, kind: type[Record], number: int) -> Any:
        found = [record for record in self.records.values() if isinstance(record, kind)]
        return found[number % len(found)] if found else None

    def remember(self) -> None:
        self.before.append((dict(self.records), dict(self.binned)))

    def store(self, record: Record) -> None:
        self.remember()
        self.records[record.id] = self.book.save(record)

    @rule(name=WORDS)
    def new_client(self, name: str) -> None:
        self.store(client(name=name))

    @rule(number=PICK, name=WORDS)
    def new_sward(self, number: int, name: str) -> None:
        if parent := self.pick(Client, number):
            self.store(sward(parent, name=name))

    @rule(number=PICK, notes=WORDS)
    def new_visit(self, number: int, notes: str) -> None:
        if parent := self.pick(Sward, number):
            self.store(visit(parent, notes=notes))

    @rule(number=PICK, words=WORDS)
    def change(self, number: int, words: str) -> None:
        record = self.pick(Record, number)
        field = {Client: "note", Sward: "note", Visit: "notes"}.get(type(record), "")
        if record and getattr(record, field) != words:
            self.store(replace(record, **{field: words}))

    @rule(number=PICK)
    def delete(self, number: int) -> None:
        if record := self.pick(Record, number):
            self.remember()
            self.book.delete(record)
            gone = self.family(record)
            self.binned[record.id] = {**self.binned.get(record.id, {}), **gone}
            self.records = {key: kept for key, kept in self.records.items() if key not in gone}

    def family(self, record: Record) -> Model:
        found = {record.id: record}
        for other in self.records.values():
            if other.table in PARENTS and getattr(other, PARENTS[other.table][1]) == record.id:
                found |= self.family(other)
        return found

    @rule(number=PICK)
    def restore(self, number: int) -> None:
        if not self.binned:
            return
        key = list(self.binned)[number % len(self.binned)]
        first = self.binned[key][key]
        parent = getattr(first, PARENTS[first.table][1]) if first.table in PARENTS else ""
        try:
            self.book.restore(key)
        except Conflict:
            assert parent not in self.records
        else:
            assert not parent or parent in self.records
            self.remember()
            self.records = {**self.binned.pop(key), **self.records}

    @precondition(lambda self: self.before)
    @rule()
    def undo(self) -> None:
        words = self.book.undoable
        assert self.book.undo() == words != ""
        self.records, self.binned = self.before.pop()

    @rule()
    def tidy(self) -> None:
        self.book._journal.tidy(always=True)

    @rule()
    def reopen(self) -> None:
        self.folder = MemoryFolder(self.folder.contents())
        self.book = Book.open(self.folder, now=self.now)

    @rule(seed=PICK)
    def kill_and_reopen(self, seed: int) -> None:
        self.folder = self.folder.killed(seed)
        self.book = Book.open(self.folder, now=self.now)

    @rule(number=PICK, quota_raises=st.booleans())
    def change_on_a_full_device(self, number: int, quota_raises: bool) -> None:
        if record := self.pick(Record, number):
            self.folder.blobs["ballast"].data.clear()
            self.folder.quota = sum(blob.size() for blob in self.folder.blobs.values()) + number % 50
            self.folder.quota_raises = quota_raises
            try:
                self.book.save(replace(record, extra={"more": "x" * 100}))
            except StorageFull:
                pass
            else:
                raise AssertionError("there was no room")
            self.folder.quota = None

    @rule()
    def export_and_import(self) -> None:
        result = self.book.import_all(self.book.export_all())
        assert (result.added, result.updated, result.kept) == (0, 0, 0)

    @invariant()
    def the_book_is_as_the_model(self) -> None:
        stored = [record for kind in KINDS.values() for record in self.book.all(kind)]
        assert {record.id: record for record in stored} == self.records
        assert {item.id: item.count for item in self.book.bin()} == {
            key: len(records) for key, records in self.binned.items()
        }
        assert bool(self.book.undoable) == bool(self.before)
        for record in self.records.values():
            if isinstance(record, Sward):
                found = {item.id for item in self.book.visits_of(record.id)}
                assert found == {key for key in self.family(record) if key != record.id}
            assert self.book.history(type(record), record.id)[0].record == record

    @invariant()
    def search_finds_what_looking_through_all_finds(self) -> None:
        swards = [record for record in self.records.values() if isinstance(record, Sward)]
        for words in ("moss", "grun", "ase wet"):
            found = {
                record.id for record in swards if all(word in self.text(record) for word in words.split())
            }
            assert {record.id for record in self.book.search(words)} == found

    def text(self, record: Sward) -> str:
        owner = self.records[record.client_id]
        assert isinstance(owner, Client)
        visits = [item for item in self.family(record).values() if isinstance(item, Visit)]
        texts = [record.name, record.note, owner.name, owner.note, *(item.notes for item in visits)]
        return "\n".join(texts).lower().replace("ü", "u").replace("å", "a")


TestBookMachine = BookMachine.TestCase
TestBookMachine.settings = settings(max_examples=100, stateful_step_count=30, deadline=None)
