"""A day as JSON can hold it, and back: interrupted by a call or a dead battery it is where it was."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from logic.programme.day import ACTIONS, Day, DayStep, Event, Planned


def to_json(day: Day) -> dict[str, Any]:
    """The day as JSON can hold it."""
    return {
        "steps": [
            {
                "id": one.id,
                "operation": one.operation,
                "name": one.name,
                "passes": one.passes,
                "machine": one.machine,
                "items": [list(item) for item in one.items],
                "planned": [[p.key, p.name, p.value] for p in one.planned],
                "cautions": list(one.cautions),
            }
            for one in day.steps
        ],
        "log": [_event_json(event) for event in day.log],
        "undone": [_event_json(event) for event in day.undone],
    }


def _event_json(event: Event) -> dict[str, Any]:
    return {"do": event.do, "step": event.step, "at": event.at.isoformat(), **event.more}


def from_json(raw: Any) -> Day:
    """The day in what was stored. What can't be read is left out; a day is never lost for one bad entry."""
    if not isinstance(raw, Mapping):
        return Day()
    steps = tuple(filter(None, (_step_of(one) for one in _list(raw.get("steps")))))
    log, undone = (
        tuple(filter(None, (_event_of(one) for one in _list(raw.get(key))))) for key in ("log", "undone")
    )
    return Day(steps, log, undone)


def _list(raw: Any) -> Sequence[Any]:
    return raw if isinstance(raw, list | tuple) else ()


def _step_of(raw: Any) -> DayStep | None:
    try:
        return DayStep(
            str(raw["id"]),
            str(raw.get("operation", "")),
            str(raw.get("name", "")),
            int(raw.get("passes", 1)),
            str(raw.get("machine", "")),
            tuple((str(key), str(words)) for key, words in raw.get("items", ())),
            tuple(Planned(str(key), str(name), str(value)) for key, name, value in raw.get("planned", ())),
            tuple(str(key) for key in raw.get("cautions", ())),
        )
    except (AttributeError, KeyError, TypeError, ValueError):
        return None


def _event_of(raw: Any) -> Event | None:
    try:
        at = datetime.fromisoformat(raw["at"])
        more = {key: raw[key] for key in ACTIONS[raw["do"]]}
        if "by" in more:
            more["by"] = int(more["by"])
    except (AttributeError, KeyError, TypeError, ValueError):
        return None
    return Event(raw["do"], str(raw.get("step", "")), at, more) if at.tzinfo else None
