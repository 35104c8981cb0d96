"""A world of phones and an office, deterministic from a seed: real books, real engines, a network that lies.

A phone's sync is a coroutine that stops at every request, so that a test can edit, kill or cut in between.
What a request meets is chosen by `fates`: it arrives, is lost on the way, is carried out while the answer is
lost ("cut"), is carried out twice, arrives late (after others), or the office is busy.

The oracle is independent of the code under test: it notes with each value written what the user saw in that
field on the screen, and from that alone says which values must still stand in the end.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Generator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from typing import Any

from logic.errors import Conflict, NotFound
from logic.records.book import Book
from logic.records.leaves import leaves_of, normal
from logic.records.types import KINDS, Client, Record, Sward, Visit
from logic.sync.calls import Office, Request, Response, Transport, Unreachable
from logic.sync.conflicts import conflicts, decide
from logic.sync.engine import Engine
from logic.sync.ledger import Ledger
from logic.sync.packing import DOTS, key_in
from logic.sync.registers import Key
from logic.sync.shown import ABSENT, choices, show
from logic.sync.text import text_of
from tests.logic.records.memory import MemoryFolder
from tests.logic.sync.memory_hub import MemoryHub

FATES = ("arrives", "lost", "cut", "twice", "late", "busy")
#: (table, field) that users write unique values into, for the oracle.
FIELDS: dict[type[Record], tuple[str, ...]] = {
    Client: ("note", "address"),
    Sward: ("note", "grass"),
    Visit: ("notes", "title"),
}


@dataclass
class Written:
    """One value that a user typed: where, what, and what stood there on that user's screen."""

    phone: str
    key: Key
    path: str
    value: str
    saw: frozenset[str]
    decided: bool = False


class _Step:
    """Awaited before every request: the simulator goes on from there when it wants to."""

    def __await__(self) -> Generator[None, None, None]:
        yield


@dataclass
class World:
    """The office, the phones, the time, and what the network does."""

    seed: int = 0
    hub: Any = None
    now: datetime = datetime(2026, 5, 1, 8, 0, tzinfo=UTC)
    fates: Callable[[], str] = lambda: "arrives"
    late: list[tuple[str, Request]] = field(default_factory=list)
    phones: dict[str, Phone] = field(default_factory=dict)
    written: list[Written] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.chance = random.Random(self.seed)
        self.hub = self.hub or MemoryHub(self.clock)
        self.loose: set[tuple[Key, str]] = set()
        self.seen: Counter[str] = Counter()
        self.kept: Any = None
        self._values = 0

    def clock(self) -> datetime:
        """The office's time."""
        return self.now

    def phone(self, name: str, skew: float = 0.0, paired: bool = True) -> Phone:
        """A new phone. skew: seconds that its clock is ahead."""
        made = self.phones[name] = Phone(self, name, skew)
        if paired:
            made.pair()
        return made

    def value(self) -> str:
        """A text that nobody has typed before."""
        self._values += 1
        return f"value {self._values}"

    def id(self) -> str:
        """A record id that follows from the seed."""
        return f"{self.chance.getrandbits(64):016x}"

    def carry(self, phone: str, request: Request) -> Response:
        """What the network makes of a request."""
        fate = self.fates()
        self.seen[fate] += 1
        if fate == "lost":
            raise Unreachable
        if fate == "late":
            self.late.append((phone, request))
            raise Unreachable
        if fate == "busy":
            return Response(503, b"{}", {"retry-after": "7"})
        answer = self.hub.answer(request)
        if fate == "twice":
            answer = self.hub.answer(request)
        if fate == "cut":
            raise Unreachable
        return answer

    def deliver_late(self) -> None:
        """What was held up arrives now, the last first."""
        while self.late:
            self.hub.answer(self.late.pop()[1])

    def settle(self) -> None:
        """Signal for everybody, until nothing is left to exchange."""
        self.fates = lambda: "arrives"
        self.deliver_late()
        for phone in self.phones.values():
            phone.finish()
        for _ in range(6):
            before = self.picture()
            for phone in self.phones.values():
                self.now += timedelta(seconds=400)
                assert phone.sync(), phone.engine.line.trouble
            if self.picture() == before:
                return
        raise AssertionError("the phones never come to rest")

    def picture(self) -> list[Any]:
        """All states, for comparing."""
        return [self.hub.log.state_hashes(), *(phone.states() for phone in self.phones.values())]

    def check(self) -> None:
        """After `settle`: all agree, nothing is lost, every conflict that must be there is there."""
        office = self.hub.log.state_hashes()
        for phone in self.phones.values():
            phone.check()
            mine = phone.states()
            differing = {key for key in {*mine, *office} if mine.get(key) != office.get(key)}
            assert not differing, (phone.name, [(mine.get(key), office.get(key)) for key in differing])
            assert not phone.ledger.unsent()
            assert phone.engine.line.mended == 0
        for key, path in {(one.key, one.path) for one in self.written}:
            self._check_field(key, path)

    def _check_field(self, key: Key, path: str) -> None:
        writes = [one for one in self.written if (one.key, one.path) == (key, path)]
        overwritten = set().union(*(one.saw for one in writes))
        for number, one in enumerate(writes):  # a phone's own earlier value is its own to replace
            overwritten |= {two.value for two in writes[:number] if two.phone == one.phone} - {one.value}
        stands = {one.value for one in writes} - overwritten
        # A value that was decided for was written twice: overwritten once, it may stand still.
        decided = {one.value for one in writes if one.decided}
        for phone in self.phones.values():
            state = phone.ledger.state(key)
            if not state["fields"] or show(state).where == "gone":
                continue
            register = state["fields"].get(path)
            found = {choice.value for choice in choices(register)} if register else set()
            if "erased" in state:  # what the bin was emptied of is gone, what was not known then stands
                stands &= found
            right = stands <= found <= stands | decided
            assert right or (key, path) in self.loose, (phone.name, key, path, found, stands)
            if len(found) > 1 and show(state).where == "live":
                assert any(c.key == key and c.path == path for c in conflicts(phone.book, phone.ledger))


class Phone:
    """One phone: its folder, book, ledger and engine, and the sync that it is in the middle of."""

    def __init__(self, world: World, name: str, skew: float = 0.0) -> None:
        self.world, self.name, self.skew = world, name, skew
        self.folder = MemoryFolder()
        self.token = name
        self.running: Any = None
        self._open()

    def clock(self) -> datetime:
        return self.world.now + timedelta(seconds=self.skew)

    def _open(self) -> None:
        self.book = Book.open(self.folder, now=self.clock)
        self.ledger = Ledger(self.book, self.clock)
        office = Office(self.transport(), self.token)
        self.engine = Engine(self.ledger, office, self.clock, self.world.chance.random, self._pause)

    def transport(self) -> Transport:
        async def carry(request: Request) -> Response:
            await _Step()
            return self.world.carry(self.name, request)

        return carry

    async def _pause(self) -> None:
        """Others have their turn at every request already."""

    def pair(self) -> None:
        self.ledger.pair({"url": "", "token": self.token, "device": self.name, "name": "Fen Turf"})

    # -- sync, in steps

    def begin(self) -> None:
        """Start a sync unless one is running."""
        if self.running is None:
            self.running = self.engine.run()
            self.step()

    def step(self) -> bool:
        """Let the running sync go to its next request; False when it has ended."""
        if self.running is None:
            return False
        try:
            self.running.send(None)
        except StopIteration as end:
            self.running, self.done = None, end.value
            return False
        return True

    def finish(self) -> None:
        """Let the running sync go to its end."""
        while self.step():
            pass

    def sync(self) -> bool:
        """A whole sync; True when it got to its end."""
        self.finish()
        self.done = False
        self.begin()
        self.finish()
        return bool(self.done)

    def kill(self, seed: int = 0) -> None:
        """The process ends here; what was saved is there at the next start."""
        if self.running is not None:
            self.running.close()
            self.running = None
        self.folder = self.folder.killed(seed)
        self._open()

    # -- what the user does

    def add(self, record: Record) -> Any:
        """Save a new record, with values of its own for the oracle."""
        saved = self.book.save(record)
        for name in FIELDS.get(type(record), ()):
            if getattr(record, name):
                self._wrote(saved, name, getattr(record, name), frozenset())
        return saved

    def edit(self, record: Record, name: str) -> None:
        """Type a new value into a field, over what this phone shows there."""
        shown = getattr(self.book.get(type(record), record.id), name)
        value = self.world.value()
        self.book.save(replace(self.book.get(type(record), record.id), **{name: value}))
        self._wrote(record, name, value, frozenset({shown} - {""}))

    def undo(self) -> None:
        """Take the last step back. What that writes is no new value, so the oracle lets those fields be."""
        try:
            self.book.undo()
        except (Conflict, NotFound):
            self.world.seen["nothing to undo"] += 1
            return
        newest = next(self.book._journal.newest(1))
        for change in newest.changes:
            self.world.loose |= {((change.table, change.id), path) for path in ("note", "address", "grass")}
            self.world.loose |= {((change.table, change.id), path) for path in ("notes", "title")}

    def decide(self, number: int) -> None:
        """Settle a conflict of this phone's."""
        found = conflicts(self.book, self.ledger)
        self.world.seen["conflicts"] += len(found)
        if not found:
            return
        conflict = found[number % len(found)]
        choice = conflict.choices[number // 7 % len(conflict.choices)]
        decide(self.book, self.ledger, conflict, choice)
        if conflict.kind == "field" and choice.value is not ABSENT:
            others = frozenset(str(other.value) for other in conflict.choices if other != choice)
            # The value chosen goes on standing: only the others are overwritten.
            self.world.written.append(
                Written(self.name, conflict.key, conflict.path, str(choice.value), others, True)
            )

    def records(self) -> list[Record]:
        return [record for kind in FIELDS for record in self.book.all(kind)]

    def pick(self, number: int) -> Record | None:
        found = self.records()
        return found[number % len(found)] if found else None

    def _wrote(self, record: Record, name: str, value: str, saw: frozenset[str]) -> None:
        self.world.written.append(Written(self.name, (record.table, record.id), name, value, saw))

    # -- looking

    def states(self) -> dict[Key, str]:
        """Every record's state as text."""
        return {
            key_in(doc_id): text_of(self.ledger.state(key_in(doc_id))) for doc_id in self.book.table(DOTS)
        }

    def check(self) -> None:
        """What the tables hold is what the states show, nothing else; the sums are those of the states."""
        for doc_id in self.book.table(DOTS):
            key = key_in(doc_id)
            shown = show(self.ledger.state(key), self.ledger.device)
            doc = self.book.table(key[0]).get(key[1])
            assert (doc is not None) == (shown.where == "live"), (self.name, key, shown)
            if doc is not None:
                assert leaves_of(key[0], doc) == normal(key[0], shown.leaves), (self.name, key)
        for table in KINDS:
            for doc_id in self.book.table(table):
                assert f"{table} {doc_id}" in self.book.table(DOTS), (self.name, table, doc_id)


__all__ = ["FATES", "Phone", "World", "Written"]
