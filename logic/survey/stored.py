"""Readings of a visit as typed: what is kept, changed and worked out. Plain JSON in and out, nothing typed is
lost.

A visit's readings are a list of {"id", "kind", "at" (ISO time), "x", "y" (metres on the sketch, or None),
"photos" [ids], "note", "values" {field: text as typed, "way" included}}.
"""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from logic.errors import BadValue
from logic.field import PaceLike, Reading
from logic.survey.kind import Mark, Spot, Taken
from logic.survey.kinds import kind_named, look

Entry = Mapping[str, Any]
Entries = tuple[Entry, ...]


def entries(raw: Any) -> Entries:
    """The readings in what was stored; what isn't one is passed over, never thrown at the user."""
    if not isinstance(raw, list | tuple):
        return ()
    return tuple(entry for entry in raw if isinstance(entry, Mapping) and isinstance(entry.get("id"), str))


def added(raw: Any, kind: str, at: datetime, x: float | None = None, y: float | None = None) -> Entries:
    """The readings with one more of that kind, taken at an aware time. Raises BadValue for an unknown
    kind."""
    kind_named(kind)
    entry: dict[str, Any] = {
        "id": uuid.uuid4().hex,
        "kind": kind,
        "at": at.isoformat(),
        "x": x,
        "y": y,
        "photos": [],
        "note": "",
        "values": {},
    }
    return (*entries(raw), entry)


def entry_of(raw: Any, entry_id: str) -> Entry | None:
    """The reading with that id, if there is one."""
    return next((entry for entry in entries(raw) if entry["id"] == entry_id), None)


def with_value(raw: Any, entry_id: str, key: str, value: Any) -> Entries:
    """The readings with one value of one of them as typed ("way" is a value like the others)."""
    return _changed(raw, entry_id, lambda entry: {"values": {**_values(entry), key: value}})


def with_values(raw: Any, entry_id: str, values: Mapping[str, Any]) -> Entries:
    """The readings with several values of one of them set at once, as a counted photo gives them."""
    return _changed(raw, entry_id, lambda entry: {"values": {**_values(entry), **values}})


def placed(raw: Any, entry_id: str, x: float | None, y: float | None) -> Entries:
    """The readings with one of them put at a place on the sketch [m], or at none."""
    return _changed(raw, entry_id, lambda entry: {"x": x, "y": y})


def noted(raw: Any, entry_id: str, note: str) -> Entries:
    """The readings with the note of one of them."""
    return _changed(raw, entry_id, lambda entry: {"note": note})


def with_photo(raw: Any, entry_id: str, photo: str) -> Entries:
    """The readings with one more photo, by id, on one of them."""
    return _changed(raw, entry_id, lambda entry: {"photos": [*(entry.get("photos") or []), photo]})


def without(raw: Any, entry_id: str) -> Entries:
    """The readings without one of them."""
    return tuple(entry for entry in entries(raw) if entry["id"] != entry_id)


def _changed(raw: Any, entry_id: str, change: Any) -> Entries:
    return tuple({**entry, **change(entry)} if entry["id"] == entry_id else entry for entry in entries(raw))


def _values(entry: Entry) -> Mapping[str, Any]:
    values = entry.get("values")
    return values if isinstance(values, Mapping) else {}


def given(entry: Entry) -> dict[str, Any]:
    """The job file's form of a stored reading: {"kind": …, field: text, …}."""
    return {**_values(entry), "kind": entry.get("kind")}


@dataclass(frozen=True)
class Held:
    """A stored reading and what it comes to: taken is None while something is missing (`reading` says
    what)."""

    entry: Entry
    taken: Taken | None
    reading: Reading

    @property
    def at(self) -> datetime | None:
        """When it was taken, if that can be read."""
        try:
            moment = datetime.fromisoformat(str(self.entry.get("at")))
        except ValueError:
            return None
        return moment if moment.tzinfo else None


def worked_out(raw: Any, spot: Spot, pace: PaceLike | None = None) -> tuple[Held, ...]:
    """Each stored reading worked out at its own place and day; never raises for what was typed."""
    return tuple(_held(entry, spot, pace) for entry in entries(raw))


def _held(entry: Entry, spot: Spot, pace: PaceLike | None) -> Held:
    start = Held(entry, None, Reading(None))
    at = start.at
    here = replace(
        spot, x=_number(entry.get("x")), y=_number(entry.get("y")), day=at.date() if at else spot.day
    )
    try:
        taken, reading = look(given(entry), here, pace)
    except BadValue as bad:  # a kind that only a newer version knows
        return Held(entry, None, Reading(None, "", {"": bad.sentence}))
    return Held(entry, taken, reading)


def _number(value: Any) -> float | None:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def marks(held: Sequence[Held], kind: str, figure_key: str = "") -> tuple[Mark, ...]:
    """The map of one kind: a Mark for every placed reading, with its headline figure or the one named."""
    found = []
    for one in held:
        if one.taken is None or one.taken.kind.key != kind:
            continue
        x, y = _number(one.entry.get("x")), _number(one.entry.get("y"))
        shown = next(
            (f for f in one.taken.figures if (f.key == figure_key if figure_key else f.headline)), None
        )
        if x is not None and y is not None and shown is not None:
            found.append(Mark(x, y, shown.nominal, shown.text()))
    return tuple(found)
