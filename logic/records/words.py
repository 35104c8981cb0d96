"""Records in words: what each field is called, what stands in it, and what a change changed.

The history, the merging of duplicates and the copy of a client's data all read from here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any, NamedTuple

from logic.records.documents import to_doc
from logic.records.types import Json, Record

_LABELS: Mapping[str, str] = {
    "name": "Name",
    "email": "E-mail",
    "phone": "Telephone",
    "address": "Address",
    "note": "Note",
    "contacts": "More contacts",
    "consent": "Consent",
    "access": "Getting in",
    "water_point": "Water point",
    "hazards": "Hazards",
    "buried": "Buried services",
    "kind": "Kind",
    "grass": "Grass",
    "profile": "What it stands on",
    "climate": "Climate",
    "client_id": "Client",
    "site_id": "Site",
    "sward_id": "Green",
    "visit_id": "Visit",
    "pace_id": "Pace",
    "supplier_id": "Supplier",
    "started": "Started",
    "title": "Title",
    "outline": "Measurements",
    "works": "Works",
    "notes": "A word to the customer",
    "closing": "Closing",
    "supply": "Supply and quote",
    "readings": "Readings",
    "programme": "Programme",
    "day": "The day",
    "care": "Aftercare",
    "agreed": "Agreed",
    "signature": "Signature",
    "caption": "Caption",
    "vibration": "Vibration at the handle, m/s²",
    "noise": "Noise at the ear, dB(A)",
    "source": "Where the figures are from",
    "lead_days": "Days from order to delivery",
    "material": "Material",
    "pack": "In a pack",
    "price": "Price",
    "priced": "Price of",
    "stock": "In the store",
    "best_before": "Best before",
}
#: Fields that say nothing to a person: where the app was left, stamps, what other versions wrote.
_SILENT = frozenset(("id", "v", "changed", "where", "extra", "seen"))
#: Members that only hold others together, and those that say what an entry of a list is.
_WRAPPERS = ("drafts", "values")
_KINDS = ("operation", "kind")
_MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d")
_MOST = 6  # parts of a change within one field that are told one by one


class Told(NamedTuple):
    """One field of a record in words, before and after a change."""

    field: str
    label: str
    old: str
    new: str


def label_of(field: str) -> str:
    """What a person calls a field."""
    return _LABELS.get(field, field.replace("_", " ").capitalize())


def lines_of(record: Record) -> list[tuple[str, str]]:
    """Every filled field of a record as (label, text)."""
    return [
        (label_of(name), text)
        for name, value in to_doc(record).items()
        if name not in _SILENT and (text := text_of(value))
    ]


def changes(old: Record | None, new: Record) -> list[Told]:
    """What differs between two versions of a record; against None, what is filled."""
    before: Json = to_doc(old) if old else {}
    return [
        _told(name, before.get(name), value)
        for name, value in to_doc(new).items()
        if name not in _SILENT and text_of(before.get(name)) != text_of(value)
    ]


def text_of(value: Any) -> str:
    """A stored value as one text: lists and mappings part by part."""
    if isinstance(value, Mapping | list | tuple):
        return "; ".join(f"{path}: {text}" if path else text for path, text in _parts(value))
    if isinstance(value, datetime):
        return f"{value.astimezone():%d %b %Y, %H:%M}"
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = "" if value is None else str(value).strip()
    return _moment(text) if _MOMENT.match(text) else text


def _moment(text: str) -> str:
    try:
        return f"{datetime.fromisoformat(text).astimezone():%d %b %Y, %H:%M}"
    except (OverflowError, ValueError):
        return text


def _told(name: str, old: Any, new: Any) -> Told:
    """The change of one field; of one with many parts only the parts that differ."""
    if isinstance(old or new, Mapping | list | tuple):
        before, after = dict(_parts(old)), dict(_parts(new))
        paths = [path for path in {**before, **after} if before.get(path) != after.get(path)]
        more = f"; and {len(paths) - _MOST} more" if len(paths) > _MOST else ""
        was, now = (
            "; ".join(f"{at}: {side[at]}" if at else side[at] for at in paths[:_MOST] if at in side)
            for side in (before, after)
        )
        return Told(name, label_of(name), was + (more if was else ""), now + (more if now else ""))
    return Told(name, label_of(name), text_of(old), text_of(new))


def _parts(value: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """The leaves of a JSON value with their paths in words; a drawn signature is not spelt out."""
    if isinstance(value, Mapping):
        for key, item in value.items():
            if key == "strokes" and isinstance(item, list | tuple):
                yield _below(path, "drawn"), f"{len(item)} strokes"
            elif key in _WRAPPERS:
                yield from _parts(item, path)
            elif key != "id":
                yield from _parts(item, _below(path, str(key).replace("_", " ")))
    elif isinstance(value, list | tuple):
        if all(not isinstance(item, Mapping | list | tuple) for item in value):
            if value:
                yield path, ", ".join(text_of(item) for item in value)
            return
        for number, item in enumerate(value, start=1):
            yield from _entry(item, number, path)
    elif text := text_of(value):
        yield path, text.replace("^2", "²").replace("^3", "³")


def _entry(item: Any, number: int, path: str) -> Iterator[tuple[str, str]]:
    """An entry of a list: by its number, and by what it is where it says so (a work, a reading)."""
    kinds = [key for key in _KINDS if isinstance(item, Mapping) and isinstance(item.get(key), str)]
    if not kinds:
        yield from _parts(item, _below(path, str(number)))
        return
    name = _below(path, f"{number} {item[kinds[0]].replace('_', ' ')}")
    rest = list(_parts({key: inner for key, inner in item.items() if key != kinds[0]}, name))
    yield from rest or [(name, "chosen")]


def _below(path: str, word: str) -> str:
    return f"{path} {word}" if path else word
