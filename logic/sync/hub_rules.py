"""What the office does with changes: pure rules over a small `Log` that a database (or a dict) implements.

A Log is one business's, used inside one transaction that holds a lock on the business: so positions are given
in the order in which they are committed, and whoever has read up to a position has missed nothing below it.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple, Protocol

from logic.sync.registers import Key, bucket, join_record, key_of, moved, seen
from logic.sync.text import text_of
from logic.sync.wire import CHANGE, OFFICE, PAGE, Change, Json, Page, Result, Snapshot, fitting

#: How many entries are looked at for one page.
_MOST = 500

_TAKEN = "This phone has sent something else under the same number before. Unpair it and pair it again."
_TOO_LARGE = "This change is too large for the office."
_FOREIGN = "This change says that another phone wrote it."
_NOT_JSON = "This change holds something that cannot be kept."


class Logged(NamedTuple):
    """A change as the log keeps it. `hash` tells it from another one under the same number."""

    position: int
    device: str
    number: int
    hash: str
    change: Change


class Log(Protocol):
    """The store of one business, within a transaction (see the module)."""

    #: Names this store; a fresh one at every restore of a backup.
    epoch: str

    def last(self) -> int:
        """Position of the newest change, 0 when there is none."""

    def kept_after(self) -> int:
        """All changes with a greater position are still there; 0 while none was ever dropped."""

    def results(self, device: str, numbers: Collection[int]) -> Mapping[int, tuple[str, int]]:
        """(hash, position) of those of a device's changes that are accepted already."""

    def states(self, keys: Collection[Key]) -> Mapping[Key, Json]:
        """The states of those of the records that there are."""

    def sums(self) -> Sequence[int]:
        """The sum of every bucket (see registers)."""

    def append(self, entries: Sequence[Logged]) -> None:
        """Add changes, whose positions follow on the last one."""

    def put(self, states: Mapping[Key, Json], sums: Mapping[int, int]) -> None:
        """Store the states of records and the sums of buckets."""

    def after(self, position: int, limit: int, but: str) -> Sequence[Logged]:
        """Changes with a greater position, in order, but those of one device."""

    def records(self, after: Key | None, limit: int, buckets: Collection[int] | None) -> Sequence[Json]:
        """States in the order of (table, id), after a key, of some buckets or of all."""


def accept(log: Log, device: str, changes: Sequence[Change]) -> list[Result]:
    """Take in what is new of a device's changes; refuse some, and others go on. One result for each."""
    known = dict(log.results(device, {change.number for change in changes}))
    states: dict[Key, Json] = dict(log.states({key_of(r) for change in changes for r in change.records}))
    before = dict(states)
    fresh: list[Logged] = []
    results: list[Result] = []
    position = log.last()
    for change in changes:
        code, reason = _refusal(device, change)
        if not code:
            if change.number not in known:
                position += 1
                known[change.number] = (change.hash(), position)
                kept = replace(change, position=position, device=device)
                fresh.append(Logged(position, device, change.number, change.hash(), kept))
                _join_into(states, change)
            elif known[change.number][0] != change.hash():
                code, reason = "taken", _TAKEN
        if code:
            results.append(Result(change.number, False, code=code, reason=reason))
        else:
            results.append(Result(change.number, True, position=known[change.number][1]))
    _store(log, fresh, before, states)
    return results


def page(log: Log, cursor: str, limit: int, device: str, now: str) -> Page:
    """The next changes for a device, its own left out; on the last page the sums of the state with them."""
    position = _position(log, cursor)
    if position is None:
        return Page(log.epoch, now, reset=True)
    last = log.last()
    most = max(1, min(limit, PAGE))
    found = log.after(position, most, device)
    taken = fitting(found, lambda logged: logged.change.size(), most)
    more = len(taken) < len(found) or len(found) == most
    end = taken[-1].position if more else last
    sums = () if more else tuple(log.sums())
    changes = tuple(logged.change for logged in taken)
    return Page(log.epoch, now, changes, f"{log.epoch}:{end}", more, sums=sums)


def snapshot(
    log: Log, cursor: str, after: str, limit: int, now: str, buckets: Collection[int] | None = None
) -> Snapshot:
    """Whole records by key. The cursor is of the first page; what changes meanwhile comes by `page` again."""
    cursor = cursor or f"{log.epoch}:{log.last()}"
    if _position(log, cursor) is None:
        return Snapshot(log.epoch, now, reset=True)
    table, _, record_id = after.partition(" ")
    most = max(1, min(limit, PAGE))
    found = log.records((table, record_id) if after else None, most, buckets)
    taken = fitting(found, lambda state: len(text_of(state)), most)
    more = len(taken) < len(found) or len(found) == most
    end = " ".join(key_of(taken[-1])) if more else ""
    return Snapshot(log.epoch, now, tuple(taken), end, more, cursor)


def write(log: Log, table: str, record_id: str, values: Mapping[str, Any], at: str, why: str = "") -> int:
    """A change by the office itself, over what stands in the fields now; returns its position."""
    state = log.states({(table, record_id)}).get((table, record_id), {"fields": {}})
    position = log.last() + 1
    # Numbers of the office only grow: positions do.
    fields = {
        path: {
            "at": seen(state["fields"][path]) if path in state["fields"] else {},
            "is": {OFFICE: [position, value]},
        }
        for path, value in values.items()
    }
    delta = {"table": table, "id": record_id, "fields": fields}
    change = Change(position, at, why, (delta,), position=position, device=OFFICE)
    states: dict[Key, Json] = dict(log.states({(table, record_id)}))
    before = dict(states)
    _join_into(states, change)
    _store(log, [Logged(position, OFFICE, position, change.hash(), change)], before, states)
    return position


def _refusal(device: str, change: Change) -> tuple[str, str]:
    """Code and sentence when a change cannot be taken whatever is in the log; otherwise ("", "")."""
    try:
        if change.size() > CHANGE:
            return "too-large", _TOO_LARGE
    except ValueError:  # NaN, or an infinity
        return "bad-change", _NOT_JSON
    if not change.again:
        for record in change.records:
            for register in record["fields"].values():
                if any(d != device or value[0] != change.number for d, value in register["is"].items()):
                    return "foreign-dot", _FOREIGN
    return "", ""


def _join_into(states: dict[Key, Json], change: Change) -> None:
    for record in change.records:
        key = key_of(record)
        states[key] = join_record(states.get(key, {"fields": {}}), record)


def _store(log: Log, fresh: Sequence[Logged], before: Mapping[Key, Json], states: Mapping[Key, Json]) -> None:
    if not fresh:
        return
    changed = {key: state for key, state in states.items() if state is not before.get(key)}
    totals = log.sums()
    sums: dict[int, int] = {}
    for key, state in changed.items():
        at = bucket(*key)
        sums[at] = moved(sums.get(at, totals[at]), before.get(key), state)
    log.append(fresh)
    log.put(changed, sums)


def _position(log: Log, cursor: str) -> int | None:
    """Position that a cursor of this store means; None when the phone has to begin with a snapshot."""
    epoch, _, digits = cursor.rpartition(":")
    if epoch != log.epoch or not digits.isascii() or not digits.isdigit() or len(digits) > 18:
        return None
    position = int(digits)
    return position if log.kept_after() <= position <= log.last() else None
