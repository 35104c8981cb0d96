"""Readings in the job file: "readings": [{"kind", "at", "x", "y", "note", field: text, …}, …].

at: ISO time; x, y: place on the sketch [m]. The rest are the fields of the kind, as in a work.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from logic.errors import BadValue
from logic.field import Form, is_empty
from logic.measure.outline import Outline
from logic.survey import stored
from logic.survey.kind import Spot
from logic.survey.kinds import kind_named
from logic.survey.surface import surface_of

#: What an entry holds beside the values of its kind.
_BESIDE = ("kind", "at", "x", "y", "note")


def spot_of(
    kind: str, outline: Outline | None, day: date | None = None, climate: Mapping[str, Any] | None = None
) -> Spot:
    """Where readings are taken. kind: the sward's; climate: its own, as typed, with its latitude if known."""
    place = climate or {}
    spot = Spot(
        surface=surface_of(kind),
        day=day,
        latitude=_degrees(place.get("latitude")),
        longitude=_degrees(place.get("longitude")),
    )
    if outline is None:
        return spot
    return replace(
        spot,
        area=outline.area.value.magnitude,
        perimeter=outline.perimeter.value.magnitude,
        polygon=outline.polygon,
    )


def _degrees(written: Any) -> float | None:
    try:
        return float(str(written).replace(",", "."))
    except ValueError:
        return None


def given(readings: Any) -> list[dict[str, Any]]:
    """The job file's "readings" of stored ones; what was begun and left empty is left out."""
    found = []
    for entry in stored.entries(readings):
        values = stored.given(entry)
        if all(is_empty(value) for key, value in values.items() if key not in ("kind", "way")):
            continue
        beside = {k: entry.get(k) for k in _BESIDE[1:] if entry.get(k) not in (None, "")}
        found.append({"kind": values.pop("kind"), **beside, **values})
    return found


def readings_of(written: Any) -> tuple[dict[str, Any], ...]:
    """Stored readings from a job file's "readings". Raises BadValue for what can't be a reading."""
    found = []
    for entry in written or []:
        kind = kind_named(entry.get("kind"))
        at = _when(entry.get("at"))
        new = dict(stored.added((), entry["kind"], datetime.now().astimezone())[0])
        new |= {"at": at.isoformat() if at else "", "note": str(entry.get("note") or "")}
        new |= {"x": _metres(entry, "x"), "y": _metres(entry, "y")}
        new["values"] = {k: _typed(kind.form, k, as_text(v)) for k, v in entry.items() if k not in _BESIDE}
        found.append(new)
    return tuple(found)


def _typed(form: Form, key: str, value: Any) -> Any:
    """A value of the job file as the screen types it: lists as lists, rows by their keys."""
    item = next((f for f in form.fields if f.key == key), None)
    if item is None or item.kind not in ("list", "rows"):
        return value
    if item.kind == "list" and isinstance(value, str):
        return [part.strip() for part in value.replace("\n", ";").split(";") if part.strip()]
    if item.kind == "rows" and isinstance(value, list):
        keys = Form(item.row).keys()
        return [dict(zip(keys, row, strict=False)) if isinstance(row, list) else row for row in value]
    return value


def place_of(entry: Mapping[str, Any], spot: Spot) -> Spot:
    """The spot of one entry of a job file's "readings". Raises BadValue."""
    at = _when(entry.get("at"))
    return replace(spot, x=_metres(entry, "x"), y=_metres(entry, "y"), day=at.date() if at else spot.day)


def values_given(entry: Mapping[str, Any]) -> dict[str, Any]:
    """What an entry of a job file's "readings" says of its kind, without time, place and note."""
    return {k: v for k, v in entry.items() if k == "kind" or k not in _BESIDE}


def _when(written: Any) -> datetime | None:
    if not written:
        return None
    try:
        return datetime.fromisoformat(written).astimezone()
    except (TypeError, ValueError, OverflowError):
        raise BadValue("at", "Write a date like 2026-05-01, or 2026-05-01T09:30+01:00.") from None


def _metres(entry: Mapping[str, Any], key: str) -> float | None:
    value = entry.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadValue(key, f"The place {key} must be a number of metres.")
    return float(value)


def as_text(value: Any) -> Any:
    """Numbers of a job file become text as typed; lists and objects keep their shape."""
    if isinstance(value, list):
        return [as_text(item) for item in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    return repr(value)
