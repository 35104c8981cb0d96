"""The aftercare of one visit: its stages from what was done and what was agreed, and what is still due.

A visit's care is {"start": ISO day, "height_kept", "soil": text as typed, "cuts": "customer" or "we",
"done": [keys of lines that are done]}.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from logic import tables
from logic.field import Field, Form
from logic.programme.day import DONE, state
from logic.programme.day_json import from_json
from logic.programme.stages import Line, Sown, Stages, stages
from logic.units import nominal

FORM = Form(
    (
        Field(
            "height_kept",
            "Height of cut it is kept at",
            "mm",
            above=0,
            most=200,
            usual=(2, 60),
            required=False,
            help="Sets the first cut and the steps down. Left empty, they are said in words.",
        ),
        Field(
            "soil",
            "Soil temperature",
            "degC",
            least=-20,
            most=45,
            usual=(0, 30),
            required=False,
            help="Sets when seed should be up. Left empty, the usual time in warm soil is taken.",
        ),
    )
)


def day_read(text: Any) -> date | None:
    """A day as stored, None where there is none."""
    try:
        return date.fromisoformat(str(text))
    except ValueError:
        return None


def operations_done(works: Sequence[Mapping[str, Any]], day: Any) -> tuple[str, ...]:
    """The operations that were done: of the day's steps those that are done; all works when no day was
    kept."""
    kept = from_json(day)
    if kept.log:
        stood = state(kept)
        return tuple(dict.fromkeys(s.operation for s in kept.steps if stood.steps[s.id].status == DONE))
    return tuple(dict.fromkeys(str(entry.get("operation")) for entry in works))


def finished_on(day: Any) -> date | None:
    """The day on which the last step was finished, where the phone is; None while nothing is."""
    kept = from_json(day)
    stood = state(kept)
    ends = [one.ended for one in stood.steps.values() if one.status == DONE and one.ended]
    return max(ends).astimezone().date() if ends else None


def sown_of(works: Sequence[Mapping[str, Any]], soil: float | None = None) -> Sown:
    """What was sown, as far as the stored works say and as it is known how long it takes."""
    known = {row["species"] for row in tables.rows("timing_germination")}
    named: list[str] = []
    for entry in works:
        values = entry.get("values")
        if entry.get("operation") == "overseeding" and isinstance(values, Mapping):
            mixed = values.get("mixture")
            rows = mixed if isinstance(mixed, list | tuple) else ()
            found = [str(row.get("species")) for row in rows if isinstance(row, Mapping)]
            named += found or [str(values.get("species"))]
    return Sown(tuple(dict.fromkeys(name for name in named if name in known)), soil)


def care_of(works: Sequence[Mapping[str, Any]], day: Any, care: Mapping[str, Any], fallback: date) -> Stages:
    """The stages of a visit: from the day set, else the day the last step was finished, else `fallback`.

    What was typed wrongly counts as not said. Where the contractor cuts, the cuts are visits.
    """
    start = day_read(care.get("start")) or finished_on(day) or fallback
    read = {key: FORM.read({key: care.get(key)}).values for key in FORM.keys()}  # noqa: SIM118
    height, soil = (
        None if found is None or not found.has(key) else nominal(found[key]) for key, found in read.items()
    )
    found = stages(operations_done(works, day), start, sown_of(works, soil), height)
    if care.get("cuts") != "we":
        return found
    lines = tuple(
        replace(line, what="visit") if line.key.startswith("cut_") else line for line in found.lines
    )
    return replace(found, lines=lines)


def is_agreed(day: Any, care: Mapping[str, Any]) -> bool:
    """True once the aftercare has begun: its day was set, or every step of the day is done or skipped."""
    if day_read(care.get("start")):
        return True
    kept = from_json(day)
    return bool(kept.log) and bool(kept.steps) and state(kept).finished and finished_on(day) is not None


def still_to_do(found: Stages, care: Mapping[str, Any], seen: Iterable[date] = ()) -> tuple[Line, ...]:
    """The follow-up visits that are neither ticked nor made: `seen` are the days of later visits."""
    raw = care.get("done")
    done = {str(key) for key in raw} if isinstance(raw, list | tuple) else set()
    days = [day for day in seen if day > found.done]
    return tuple(
        line for line in found.visits if line.key not in done and not any(day >= line.first for day in days)
    )
