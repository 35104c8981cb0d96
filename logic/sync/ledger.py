"""The phone's side of sync, kept in the book's own journal: what is not yet sent, and who wrote what.

Nothing is noted before the phone is paired. From then on every change of the user's carries, in the same
journal entry, the change for the office (table "unsent", one document for each, its number the id) and the
state of each record that it touched (table "dots"). Table "sync" holds one document: which office, which
device, how far the reading of the others' changes has come. So kills, compaction and undo need nothing more.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from logic.records.book import Book
from logic.records.documents import from_doc
from logic.records.journal import stamp
from logic.records.leaves import BESIDE, all_leaves
from logic.records.privacy import PURGING
from logic.records.types import KINDS, Json, utc_now
from logic.sync.packing import DOTS, dots_id, key_in, pack, unpack
from logic.sync.placing import BIN, Docs, Placing, document
from logic.sync.registers import BUCKETS, Key, bucket, join_record, key_of, record_hash
from logic.sync.shown import show
from logic.sync.text import text_of
from logic.sync.wire import OFFICE, Change, Page, Result, Snapshot
from logic.sync.writes import Target, delta

SYNC, UNSENT, STATE = "sync", "unsent", "state"
#: Tables of the store that are never sent.
RESERVED = frozenset({BIN, PURGING, *BESIDE})

_CHANGE_BYTES = 400_000  # a step that is larger goes out as several changes
_CHANGE_RECORDS = 200
_AT_ONCE = 200  # records taken up in one journal entry when a book is paired


@dataclass(frozen=True)
class Waiting:
    """A change that the office refused: it stays here, and the others go on."""

    number: int
    at: str
    why: str
    reason: str


class Ledger:
    """What sync keeps in a book. Make one as soon as the book is open: it notes what the user changes."""

    def __init__(self, book: Book, now: Callable[[], datetime] = utc_now) -> None:
        self._book = book
        self._now = now
        #: Called when a change of the user's was noted.
        self.noted: Callable[[], None] = lambda: None
        book.follow(self)

    # -- pairing

    @property
    def info(self) -> Mapping[str, Any]:
        """Office, device and progress; empty while not paired."""
        return self._book.table(SYNC).get(STATE, {})

    @property
    def paired(self) -> bool:
        """True once the phone belongs to an office."""
        return bool(self.info)

    @property
    def device(self) -> str:
        """The phone's id at the office."""
        return str(self.info.get("device", ""))

    def pair(self, office: Json) -> None:
        """Belong to an office from now on. office: {"url", "token", "device", "business", "name", "epoch"}.

        What the book holds goes out as changes of this phone: call `enlist` until it has no more to do.
        """
        self._book.take_in({(SYNC, STATE): _blank(office)}, "paired with the office")

    def unpair(self) -> None:
        """Belong to no office; every record stays, nothing more is noted."""
        docs: Docs = {(table, doc_id): None for table in BESIDE for doc_id in self._book.table(table)}
        if docs:
            self._book.take_in(docs, "unpaired")

    def note(self, **values: Any) -> None:
        """Keep something about the office beside the rest."""
        info = {**self.info, **values}
        if info != self.info:
            self._book.take_in({(SYNC, STATE): info}, "office")

    def enlist(self) -> bool:
        """Take some records that no change tells of into new changes; True while there are more of them."""
        if not self.info.get("enlisting"):
            return False
        left: list[Key] = []
        for table in self._tables():
            for doc_id in self._book.table(table):
                if dots_id((table, doc_id)) not in self._book.table(DOTS):
                    left.append((table, doc_id))
                    if len(left) > _AT_ONCE:
                        break
        docs = self._made({key: self._book.table(key[0])[key[1]] for key in left[:_AT_ONCE]}, "first sent")
        if len(left) <= _AT_ONCE:
            docs[SYNC, STATE] = {**self.info, **(docs.get((SYNC, STATE)) or {}), "enlisting": False}
        self._book.take_in(docs, "first sent")
        return len(left) > _AT_ONCE

    # -- what the user changes

    def beside(self, docs: Mapping[Key, Json | None], why: str) -> Docs:
        """What goes into the journal together with these documents of the user's (see Follower)."""
        if not self.paired:
            return {}
        made = self._made(docs, why)
        if made:
            self.noted()
        return made

    def state(self, key: Key) -> dict[str, Any]:
        """The state of a record."""
        doc = document(self._book.table, key)
        leaves = all_leaves(key[0], doc) if doc else {}
        return unpack(key, self._book.table(DOTS).get(dots_id(key)), leaves)

    def _made(self, docs: Mapping[Key, Json | None], why: str) -> Docs:
        made: Docs = {}
        out = self._outgoing(why)
        for key, target in self._targets(docs).items():
            if target.added:
                made[BIN, key[1]] = target.binned
            state = self.state(key)
            written = delta(state, show(state, self.device), target, self.device, out.next_number)
            if written is None:
                continue
            out.add(written)
            after = join_record(state, written)
            doc = target.doc
            made[DOTS, dots_id(key)] = pack(
                after, show(after, self.device), all_leaves(key[0], doc) if doc else {}
            )
            if target.where == "gone":
                made.update(self._without(key, made))
        made.update(out.docs())
        if out.changes:
            made[SYNC, STATE] = {**self.info, "number": out.number}
        return made

    def _targets(self, docs: Mapping[Key, Json | None]) -> dict[Key, Target]:
        """How each record that these documents touch is with them."""
        bins: dict[str, Json] = dict(self._book.table(BIN).items())
        touched = {key: None for key in docs if key[0] not in RESERVED}
        taken_out: set[Key] = set()
        for (table, doc_id), doc in docs.items():
            if table == BIN:
                before, after = _keys_in(bins.get(doc_id)), _keys_in(doc)
                taken_out |= before - after
                touched.update(dict.fromkeys([*sorted(before), *sorted(after)]))
                bins[doc_id] = doc or {}
        for_good = any(table == PURGING for table, _ in docs)
        found = {key: self._target(docs, key, bins, key in taken_out) for key in touched}
        for key, target in found.items():
            doc = self._book.table(key[0]).get(key[1])
            if target.where == "gone" and doc is not None and not for_good:
                found[key] = self._into_bin(key, doc)
        return found

    def _into_bin(self, key: Key, doc: Json) -> Target:
        """What the undoing of a new record would make vanish: somebody else may have worked on it by now."""
        kind = KINDS.get(key[0])
        noun, label = (kind.noun, from_doc(kind, doc).label) if kind else ("record", key[1])
        moment = stamp(self._now())
        records = [{"table": key[0], "doc": doc}]
        said = {"noun": noun, "label": label, "deleted": moment, "changed": moment, "records": records}
        return Target("bin", doc, {"id": key[1], **said}, added=True)

    def _target(
        self, docs: Mapping[Key, Json | None], key: Key, bins: Mapping[str, Json], back: bool
    ) -> Target:
        doc = docs[key] if key in docs else self._book.table(key[0]).get(key[1])
        if doc is not None:
            return Target("live", doc, back=back)
        for binned in bins.values():
            for item in binned.get("records", ()):
                if (item["table"], item["doc"]["id"]) == key:
                    return Target("bin", item["doc"], binned)
        return Target("gone")

    def _without(self, key: Key, made: Mapping[Key, Any]) -> Docs:
        """Unsent changes without what they say of a record that is let go for good."""
        docs: Docs = {}
        for doc_id, doc in self._book.table(UNSENT).items():
            doc = made.get((UNSENT, doc_id), doc)
            left = [record for record in doc["change"]["records"] if key_of(record) != key]
            if len(left) < len(doc["change"]["records"]):
                docs[UNSENT, doc_id] = {**doc, "change": {**doc["change"], "records": left}, "cut": True}
        return docs

    # -- sending

    def unsent(self) -> list[Change]:
        """Changes that the office has not answered, in order."""
        return [Change.from_json(doc["change"]) for doc in self._unsent() if "refused" not in doc]

    def waiting(self) -> list[Waiting]:
        """Changes that the office refused, with its reason."""
        found = [
            (Change.from_json(doc["change"]), doc["refused"]) for doc in self._unsent() if "refused" in doc
        ]
        return [Waiting(change.number, change.at, change.why, said["reason"]) for change, said in found]

    def try_again(self) -> None:
        """Send what was refused once more."""
        docs: Docs = {
            (UNSENT, doc["id"]): {name: value for name, value in doc.items() if name != "refused"}
            for doc in self._unsent()
            if "refused" in doc
        }
        if docs:
            self._book.take_in(docs, "office")

    def answered(self, results: Iterable[Result]) -> None:
        """Take the office's word on changes: accepted ones are let go, refused ones wait with the reason."""
        docs: Docs = {}
        for result in results:
            doc = self._book.table(UNSENT).get(str(result.number))
            if doc is None:
                continue
            # What was cut after it had been sent is known to the office by its first form.
            if result.accepted or (doc.get("cut") and result.code == "taken"):
                docs[UNSENT, doc["id"]] = None
            else:
                docs[UNSENT, doc["id"]] = {**doc, "refused": {"code": result.code, "reason": result.reason}}
        if docs:
            self._book.take_in(docs, "office")

    def _unsent(self) -> list[Json]:
        return sorted(self._book.table(UNSENT).values(), key=lambda doc: int(doc["id"]))

    # -- receiving

    def take_page(self, page: Page) -> None:
        """The others' changes and how far the reading has come, in one entry."""
        deltas = [(record, change.at) for change in page.changes for record in change.records]
        whys = [change.why for change in page.changes if change.why]
        info = {**self.info, "cursor": page.cursor, "epoch": page.epoch}
        why = whys[0] if len(whys) == 1 else "from the office"
        self._take(deltas, info, why, self._names(change.device for change in page.changes))

    def begin_again(self) -> None:
        """Read the office's whole state anew, from the next `take_snapshot` on; nothing is thrown away."""
        self.note(cursor="", joining={"after": "", "cursor": ""})

    def take_snapshot(self, part: Snapshot) -> None:
        """Records of a snapshot and how far it has come, in one entry; after the last, changes follow."""
        info = {**self.info, "epoch": part.epoch, "joining": {"after": part.after, "cursor": part.cursor}}
        if not part.more:
            info |= {"joining": None, "cursor": part.cursor}
        self._take([(record, "") for record in part.records], info, "from the office", "the office")

    def differing(self, sums: Sequence[int]) -> list[int]:
        """The buckets of which the office's sum is another than mine, but for those with changes unsent."""
        mine = [0] * BUCKETS
        for doc_id, doc in self._book.table(DOTS).items():
            at = bucket(*key_in(doc_id))
            mine[at] = (mine[at] + int(doc["sum"], 16)) % (1 << 64)
        busy = {bucket(*key_of(record)) for doc in self._unsent() for record in doc["change"]["records"]}
        return [at for at in range(BUCKETS) if mine[at] != sums[at] and at not in busy]

    def mend(self, buckets: Sequence[int], theirs: Sequence[Json]) -> int:
        """Join all that the office has in these buckets with all that is here; what it lacks goes out again.

        Returns how many records differed.
        """
        states = {key_of(state): state for state in theirs}
        here = {key_in(doc_id) for doc_id in self._book.table(DOTS)}
        placing = Placing(self._book.table, self.device)
        out = self._outgoing("put right", again=True)
        differing = 0
        for key in sorted({*states, *(key for key in here if bucket(*key) in buckets)}):
            mine = self.state(key)
            both = join_record(mine, states[key]) if key in states else mine
            lacks_nothing = key in states and record_hash(both) == record_hash(states[key])
            fresh = dots_id(key) not in self._book.table(DOTS) or self._differs(key, both)
            if not lacks_nothing:
                out.add(both)
            if fresh:
                placing.place(both, "")
            differing += fresh or not lacks_nothing
        docs = {**placing.docs, **out.docs(), (SYNC, STATE): {**self.info, "number": out.number}}
        self._book.take_in(docs, "put right with the office")
        return differing

    def _differs(self, key: Key, state: Mapping[str, Any]) -> bool:
        """True when what is kept of a record is another state."""
        return bool(f"{record_hash(state):016x}" != self._book.table(DOTS)[dots_id(key)]["sum"])

    def _names(self, devices: Iterable[str]) -> str:
        """Who made these changes, by the names of their phones."""
        names = {OFFICE: "the office", **(self.info.get("names") or {})}
        return ", ".join(sorted({str(names.get(device) or "another phone") for device in devices}))

    def _take(self, deltas: Sequence[tuple[Json, str]], info: Json, why: str, who: str) -> None:
        states: dict[Key, dict[str, Any]] = {}
        moments: dict[Key, str] = {}
        for record, at in deltas:
            key = key_of(record)
            if key[0] not in RESERVED:
                states[key] = join_record(states.get(key) or self.state(key), record)
                moments[key] = max(at, moments.get(key, ""))
        placing = Placing(self._book.table, self.device)
        for key, state in states.items():
            dots = self._book.table(DOTS).get(dots_id(key))
            if dots is None or self._differs(key, state):
                placing.place(state, moments[key])
        if info != self.info or placing.docs:
            self._book.take_in({**placing.docs, (SYNC, STATE): info}, why, who)

    # -- deciding

    def decide(self, key: Key, written: Mapping[str, Any], why: str) -> None:
        """Write a decision on what stands side by side (see conflicts): a change like any other."""
        out = self._outgoing(why)
        out.add(written)
        placing = Placing(self._book.table, self.device)
        placing.place(join_record(self.state(key), written), stamp(self._now()))
        docs = {**placing.docs, **out.docs(), (SYNC, STATE): {**self.info, "number": out.number}}
        self._book.take_in(docs, why)
        self.noted()

    def next_number(self) -> int:
        """Number of the change to come."""
        return int(self.info["number"]) + 1

    def _outgoing(self, why: str, again: bool = False) -> "_Outgoing":
        return _Outgoing(int(self.info["number"]), why, stamp(self._now()), again)

    def _tables(self) -> list[str]:
        return [name for name in self._book.tables() if name not in RESERVED]


class _Outgoing:
    """Deltas on their way into changes of a size that goes through."""

    def __init__(self, number: int, why: str, at: str, again: bool = False) -> None:
        self.number = number
        self.changes: list[Change] = []
        self._why, self._at, self._again = why, at, again
        self._records: list[Mapping[str, Any]] = []
        self._bytes = 0

    @property
    def next_number(self) -> int:
        """Number of the change that the next delta goes into."""
        return self.number + 1

    def add(self, written: Mapping[str, Any]) -> None:
        """Take a delta in, made for `next_number`."""
        self._records.append(written)
        self._bytes += len(text_of(written))
        if self._bytes >= _CHANGE_BYTES or len(self._records) >= _CHANGE_RECORDS:
            self._close()

    def docs(self) -> Docs:
        """The documents of all changes; nothing can be added after this."""
        self._close()
        return {
            (UNSENT, str(change.number)): {"id": str(change.number), "change": change.to_json()}
            for change in self.changes
        }

    def _close(self) -> None:
        if self._records:
            self.number += 1
            change = Change(self.number, self._at, self._why, tuple(self._records), self._again)
            self.changes.append(change)
            self._records, self._bytes = [], 0


def _blank(office: Json) -> dict[str, Any]:
    progress = {"number": 0, "cursor": "", "joining": {"after": "", "cursor": ""}, "enlisting": True}
    return {**office, "id": STATE, **progress}


def _keys_in(binned: Json | None) -> set[Key]:
    return {(item["table"], item["doc"]["id"]) for item in (binned or {}).get("records", ())}
