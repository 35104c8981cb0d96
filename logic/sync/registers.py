"""The state of records as fields that may hold several values at once, and the one operation on it: join.

Every field of every record is a register that remembers which value was written having seen which others:

    {"at": {device: n, …}, "is": {device: [n, value], …}}

A value was written in the n-th change of a device. `is` holds the values that stand, `[n]` when the field was
removed; `at` says for each device up to which of its changes the values are superseded. Two values that did
not know of each other both stand; which clock ran fast plays no part. A record is {path: register}, and
`erased`, the dots whose values are dropped for ever. Joining is commutative, associative and idempotent.
Source: dotted version vector sets, Almeida, Baquero, Gonçalves, Preguiça, Fonte, "Scalable and accurate
causality tracking for eventually consistent stores", DAIS 2014 (the idea; from memory, unverified).
"""

import hashlib
from collections.abc import Iterable, Mapping
from typing import Any

from logic.sync.text import text_of

Vector = dict[str, int]  # device -> number of one of its changes
Register = dict[str, dict[str, Any]]
Fields = dict[str, Register]
Key = tuple[str, str]  # table, record id

BUCKETS = 64
#: Path of the register that says whether the record is deleted.
WHOLE = ""
_SUM = 1 << 64


def join(mine: Register, theirs: Register) -> Register:
    """What both registers say together."""
    at = joined_vectors(mine["at"], theirs["at"])
    standing: dict[str, list[Any]] = {}
    for register in (mine, theirs):
        for device, value in register["is"].items():
            if value[0] > at.get(device, 0) and _is_greater(value, standing.get(device)):
                standing[device] = value
    return {"at": at, "is": standing}


def joined_vectors(mine: Mapping[str, int], theirs: Mapping[str, int]) -> Vector:
    """The greater number of each device."""
    at = dict(mine)
    for device, n in theirs.items():
        if n > at.get(device, 0):
            at[device] = n
    return at


def join_record(mine: Mapping[str, Any], theirs: Mapping[str, Any]) -> dict[str, Any]:
    """What both deltas or states {"table", "id", "fields", "erased"?} of one record say together."""
    fields: Fields = dict(mine["fields"])
    for path, register in theirs["fields"].items():
        fields[path] = join(fields[path], register) if path in fields else _alone(register)
    erased = joined_vectors(mine.get("erased", {}), theirs.get("erased", {}))
    state = {**mine, **theirs, "fields": _without(fields, erased) if erased else fields}
    if erased:
        state["erased"] = erased
    return state


def seen(register: Register) -> Vector:
    """Every value that this register knows of, standing or superseded."""
    return joined_vectors(register["at"], {device: value[0] for device, value in register["is"].items()})


def seen_of(fields: Iterable[Register]) -> Vector:
    """Every value that these registers know of."""
    at: Vector = {}
    for register in fields:
        at = joined_vectors(at, seen(register))
    return at


def is_empty(register: Register) -> bool:
    """True when the register says nothing."""
    return not register["at"] and not register["is"]


def key_of(record: Mapping[str, Any]) -> Key:
    """Table and id of a state or delta."""
    return str(record["table"]), str(record["id"])


def bucket(table: str, record_id: str) -> int:
    """Which of the BUCKETS sums a record counts towards."""
    return hashlib.sha256(f"{table}\n{record_id}".encode("utf-8", "surrogatepass")).digest()[0] % BUCKETS


def record_hash(state: Mapping[str, Any]) -> int:
    """A number of 64 bits that two states share only when they are equal, for all one need fear."""
    said = {"table": state["table"], "id": state["id"], "fields": state["fields"]}
    if state.get("erased"):
        said["erased"] = state["erased"]
    return int.from_bytes(hashlib.sha256(text_of(said).encode()).digest()[:8], "big")


def moved(total: int, before: Mapping[str, Any] | None, after: Mapping[str, Any] | None) -> int:
    """The sum of a bucket when one of its records has gone from one state to another."""
    for state, sign in ((before, -1), (after, 1)):
        if state is not None:
            total = (total + sign * record_hash(state)) % _SUM
    return total


def _alone(register: Register) -> Register:
    """The register, sharing nothing with the message that it came in, without what it supersedes itself."""
    at = register["at"]
    return {
        "at": dict(at),
        "is": {d: value for d, value in register["is"].items() if value[0] > at.get(d, 0)},
    }


def _is_greater(value: list[Any], other: list[Any] | None) -> bool:
    if other is None or value[0] != other[0]:
        return other is None or value[0] > other[0]
    # One dot never has two values, unless a phone's store was copied; then both sides must choose alike.
    return value != other and text_of(value) > text_of(other)


def _without(fields: Fields, erased: Vector) -> Fields:
    """The fields without the values that are erased; the word that the record is deleted stays."""
    kept: Fields = {}
    for path, register in fields.items():
        if path != WHOLE:
            register = {
                "at": {device: n for device, n in register["at"].items() if n > erased.get(device, 0)},
                "is": {d: value for d, value in register["is"].items() if value[0] > erased.get(d, 0)},
            }
        if not is_empty(register):
            kept[path] = register
    return kept
