"""The readings of a visit: begun where the last left off, changed as typed, worked out on their sward."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from logic.field import PaceLike, is_empty
from logic.measure.outline import Outline
from logic.records.drafts import given_of, method_in, put_at
from logic.records.readings_file import spot_of
from logic.records.types import Sward, Visit
from logic.records.visits import levels_of
from logic.survey import stored
from logic.survey.history import Past
from logic.survey.kind import Spot
from logic.survey.kinds import kind_named, look
from logic.survey.stored import Held

_LEVELS = "levels"


def held(
    visit: Visit, sward: Sward, outline: Outline | None, pace: PaceLike | None = None
) -> tuple[Held, ...]:
    """All readings of a visit worked out, levels on a grid last; never raises for what was typed."""
    day = visit.started.astimezone().date()
    spot = spot_of(sward.kind, outline, day, sward.climate)
    return (*stored.worked_out(visit.readings, spot, pace), *_grid(visit, spot, pace))


def _grid(visit: Visit, spot: Spot, pace: PaceLike | None) -> tuple[Held, ...]:
    """The levels that were taken on a grid while measuring, as the reading that they are."""
    levels = levels_of(visit)
    if not levels or method_in(levels) != "grid":
        return ()
    given = {**given_of(levels), "kind": _LEVELS}
    taken, reading = look(given, spot, pace)
    entry = {"id": _LEVELS, "kind": _LEVELS, "at": visit.started.isoformat(), "x": None, "y": None}
    return (Held(entry, taken, reading),)


def begun(visit: Visit, kind: str, at: datetime, before: Iterable[Visit] = ()) -> tuple[Visit, str]:
    """The visit with one more reading of a kind, and its id.

    What makes readings comparable (method, meter, depth) is filled in as it was for the last one of that
    kind, of this visit or of those `before` it. Raises BadValue for an unknown kind.
    """
    entries = stored.added(visit.readings, kind, at)
    entry_id = str(entries[-1]["id"])
    last = _last_of(kind, [visit, *before])
    if last:
        values = last.get("values") or {}
        kept = {k: values[k] for k in ("way", *kind_named(kind).alike) if not is_empty(values.get(k))}
        entries = stored.with_values(entries, entry_id, kept)
    return replace(visit, readings=entries), entry_id


def _last_of(kind: str, visits: Iterable[Visit]) -> Mapping[str, Any] | None:
    for visit in sorted(visits, key=lambda one: one.started, reverse=True):
        for entry in reversed(stored.entries(visit.readings)):
            if entry.get("kind") == kind:
                return entry
    return None


def with_value(visit: Visit, entry_id: str, path: str, value: Any) -> Visit:
    """The visit with one value of a reading as typed. path: "bench", "readings.2", "layers.1.layer_to"."""
    entry = stored.entry_of(visit.readings, entry_id)
    if entry is None:
        return visit
    values = put_at(entry.get("values") or {}, path, value)
    return replace(visit, readings=stored.with_values(visit.readings, entry_id, values))


def past(visit: Visit, readings: Sequence[Held]) -> tuple[Past, ...]:
    """A visit's readings for logic.survey.history: each on the day it was taken, else on the visit's."""
    return tuple(
        Past((one.at or visit.started).astimezone().date(), one.taken) for one in readings if one.taken
    )
