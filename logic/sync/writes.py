"""What a user's change means for the fields of a record: a delta, written over what the user saw."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from logic.records.leaves import leaves_of, normal
from logic.records.types import Json
from logic.sync.registers import WHOLE, Fields, Register, Vector, join_record, joined_vectors, seen, seen_of
from logic.sync.shown import ABSENT, Shown, choices
from logic.sync.text import text_of


@dataclass(frozen=True)
class Target:
    """How the user left a record.

    binned: what the bin says of it; added: that is new to the bin; back: it was taken out of the bin.
    """

    where: Literal["live", "bin", "gone"]
    doc: Json | None = None
    binned: Json | None = None
    back: bool = False
    added: bool = False


def delta(state: Mapping[str, Any], was: Shown, target: Target, device: str, n: int) -> dict[str, Any] | None:
    """What to send so that the record is as the user left it; None when nothing differs.

    state: of the record before, and what it shows; device, n: the dot of what is written.
    """
    fields: Fields = {}
    made: dict[str, Any] = {"table": state["table"], "id": state["id"], "fields": fields}
    if target.where == "live" and target.doc is not None:
        now = leaves_of(state["table"], target.doc)
        before = normal(state["table"], was.leaves)
        for path in {**before, **now}:
            if path not in before or path not in now or not _equal(before[path], now[path]):
                fields[path] = written(state, path, device, n, now.get(path, ABSENT))
        if was.deleted is not None and (target.back or was.where == "gone"):
            fields[WHOLE] = written(state, WHOLE, device, n, ABSENT, over_all=True)
    elif target.where == "bin" and was.where == "live":
        fields[WHOLE] = deletion(state, device, n, target.binned or {})
    elif target.where == "gone" and state["fields"] and (was.where != "gone" or not was.deleted):
        fields[WHOLE] = deletion(state, device, n, {})
        made["erased"] = seen_of(state["fields"].values())
    return made if fields else None


def written(
    state: Mapping[str, Any], path: str, device: str, n: int, value: Any, over_all: bool = False
) -> Register:
    """A value for a field, over the one that is shown there; over_all: over whatever stands there.

    A value that stands unseen beside the one shown is not written over: it stays for a person to decide on.
    What the device itself wrote before needs no word: of one device only the last value of a field stands.
    """
    fields: Fields = state["fields"]
    # Over what was erased too, for a phone that has not heard of that yet.
    at: Vector = dict(state.get("erased", {}))
    register = fields.get(path)
    if register:
        at = joined_vectors(at, seen(register) if over_all else _seen_as_shown(register, device))
    at.pop(device, None)
    return {"at": at, "is": {device: [n] if value is ABSENT else [n, value]}}


def deletion(state: Mapping[str, Any], device: str, n: int, binned: Json) -> Register:
    """The deletion of a record with everything that is known of it."""
    said = {
        "deleted": str(binned.get("deleted", "")),
        "root": str(binned.get("id", state["id"])),
        "noun": str(binned.get("noun", "record")),
        "label": str(binned.get("label", "")),
        "covers": seen_of(state["fields"].values()),
    }
    return written(state, WHOLE, device, n, said, over_all=True)


def resolved(state: Mapping[str, Any], path: str, value: Any, device: str, n: int) -> dict[str, Any]:
    """A person's decision on a field: this value over all that stand there, and over what lies below it."""
    fields = {path: written(state, path, device, n, value, over_all=True)}
    if value is not ABSENT:
        for other in state["fields"]:
            if other.startswith(f"{path}/"):
                fields[other] = written(state, other, device, n, ABSENT, over_all=True)
    return {"table": state["table"], "id": state["id"], "fields": fields}


def with_delta(state: Mapping[str, Any], change: Mapping[str, Any]) -> dict[str, Any]:
    """The state with a delta joined into it, sharing nothing that is changed later."""
    return join_record(state, change)


def _seen_as_shown(register: Register, me: str) -> Vector:
    at = dict(register["at"])
    shown = choices(register, me)[0].value if register["is"] else ABSENT
    for device, value in register["is"].items():
        if _equal(value[1] if len(value) > 1 else ABSENT, shown):
            at[device] = max(at.get(device, 0), value[0])
    return at


def _equal(a: Any, b: Any) -> bool:
    if a is ABSENT or b is ABSENT:
        return a is b
    return (type(a) is str and a == b) or text_of(a) == text_of(b)
