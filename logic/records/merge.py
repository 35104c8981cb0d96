"""Two records that are one: which look alike, where they differ, and the one that comes of them.

Nothing is lost: what is empty in the one that stays is filled from the other, notes and lists are put
together, values that differ are asked for side by side, and the other goes to the bin as it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Literal, NamedTuple

from logic.errors import BadValue, NewerFormat
from logic.records.documents import to_doc
from logic.records.search import fold
from logic.records.types import Client, Record, RecordT, Site, Sward, Visit
from logic.records.words import label_of, text_of

Pick = Literal["mine", "theirs", "both"]

#: What can be merged, with what hangs on it and the field that says so.
CHILDREN: Mapping[type[Record], tuple[tuple[type[Record], str], ...]] = {
    Client: ((Sward, "client_id"), (Site, "client_id")),
    Site: ((Sward, "site_id"),),
    Sward: ((Visit, "sward_id"),),
}
#: Longer texts, of which both may stand.
_TOGETHER = frozenset(("note", "access", "water_point", "hazards", "buried", "address", "profile"))
_OWN = frozenset(("id", "changed", "extra", "read_only", "v"))
_DIGITS = 7  # of a telephone number that two share when it is one and the same


class Difference(NamedTuple):
    """A field with two values. both: whether the two can stand together, which then is what is proposed."""

    field: str
    label: str
    mine: str
    theirs: str
    both: bool

    @property
    def proposed(self) -> Pick:
        """What is taken when nobody says otherwise."""
        return "both" if self.both else "mine"


def alike(records: Sequence[RecordT]) -> list[tuple[RecordT, RecordT]]:
    """Pairs that may be one and the same: of one parent, with the same name, telephone or e-mail address."""
    seen: dict[tuple[str, ...], RecordT] = {}
    found: dict[tuple[str, str], tuple[RecordT, RecordT]] = {}
    for record in records:
        for key in _marks(record):
            first = seen.setdefault(key, record)
            if first.id != record.id:
                found.setdefault((first.id, record.id), (first, record))
    return list(found.values())


def differences(keep: RecordT, other: RecordT) -> list[Difference]:
    """The fields in which both say something, and not the same. Raises what `merged` raises."""
    _check(keep, other)
    mine, theirs = to_doc(keep), to_doc(other)
    return [
        Difference(name, label_of(name), text_of(mine[name]), text_of(theirs[name]), name in _TOGETHER)
        for name in mine
        if name not in _OWN
        and name not in keep.extra
        and not isinstance(mine[name], list)
        and text_of(mine[name])
        and text_of(theirs.get(name))
        and text_of(mine[name]) != text_of(theirs.get(name))
    ]


def merged(keep: RecordT, other: RecordT, picks: Mapping[str, Pick]) -> RecordT:
    """`keep` with all that `other` knows. picks: for each field that differs, whose value stands.

    Raises BadValue for two that can't be one, NewerFormat when one of them was written by a newer version.
    """
    asked = {one.field: picks.get(one.field, one.proposed) for one in differences(keep, other)}
    values: dict[str, Any] = {}
    for name in to_doc(keep):
        if name in _OWN or not hasattr(keep, name):
            continue
        mine, theirs = getattr(keep, name), getattr(other, name)
        if name in asked:
            values[name] = _picked(mine, theirs, asked[name])
        elif isinstance(mine, tuple):
            values[name] = (*mine, *(item for item in theirs if item not in mine))
        else:
            values[name] = mine if text_of(mine) else theirs
    return replace(keep, **values, extra={**other.extra, **keep.extra})


def moved(children: Iterable[Record], keep: Record, other: Record) -> list[Record]:
    """The records of `children` that hang on `other`, hanging on `keep`."""
    fields = dict(CHILDREN[type(keep)])
    to_keep: dict[type[Record], Any] = {kind: {field: keep.id} for kind, field in fields.items()}
    return [
        replace(child, **to_keep[type(child)])
        for child in children
        if type(child) in fields and getattr(child, fields[type(child)]) == other.id
    ]


def _check(keep: Record, other: Record) -> None:
    if type(keep) is not type(other) or type(keep) not in CHILDREN or keep.id == other.id:
        raise BadValue("", "Only two of a kind can become one: two clients, two sites or two greens.")
    if keep.read_only or other.read_only:
        raise NewerFormat


def _picked(mine: Any, theirs: Any, pick: Pick) -> Any:
    if pick == "both":
        lines = str(mine).strip().split("\n")
        return "\n".join([*lines, *(line for line in str(theirs).strip().split("\n") if line not in lines)])
    return mine if pick == "mine" else theirs


def _marks(record: Record) -> list[tuple[str, ...]]:
    """What makes a record one with another that has the same."""
    name, email, phone, parent = (
        str(getattr(record, field, "")) for field in ("name", "email", "phone", "client_id")
    )
    found = [("name", parent, " ".join(fold(name).split())), ("email", parent, fold(email.strip()))]
    digits = re.sub(r"\D", "", phone)
    if len(digits) >= _DIGITS:
        found.append(("phone", parent, digits[-9:]))
    return [mark for mark in found if mark[2]]
