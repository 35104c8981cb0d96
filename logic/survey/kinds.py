"""The kinds of reading, found by themselves: every module here with a KIND is one."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from typing import Any

import logic.survey
from logic.errors import BadValue
from logic.field import PaceLike, Reading
from logic.survey.kind import Kind, Spot, Taken


@cache
def kinds() -> Mapping[str, Kind]:
    """All kinds of reading by key, in the order in which they are offered."""
    found = []
    for module in pkgutil.iter_modules(logic.survey.__path__):
        kind = getattr(importlib.import_module(f"logic.survey.{module.name}"), "KIND", None)
        if kind is not None:
            found.append(kind)
    return {k.key: k for k in sorted(found, key=lambda k: (k.order, k.key))}


def kind_named(key: Any) -> Kind:
    """The kind with that key. Raises BadValue."""
    kind = kinds().get(key) if isinstance(key, str) else None
    if kind is None:
        raise BadValue("kind", f"“{key}” is not a reading known here: {', '.join(kinds())}.")
    return kind


def look(given: Mapping[str, Any], spot: Spot, pace: PaceLike | None = None) -> tuple[Taken | None, Reading]:
    """Read as the screen needs it: the Taken, or None with a sentence for each bad field.

    given: {"kind": key, field: text, …}. Raises BadValue only for an unknown kind.
    """
    kind = kind_named(given.get("kind"))
    reading = kind.form.read(given, pace)
    if reading.values is None:
        return None, reading
    try:
        finding = kind.read(reading.values, spot)
    except BadValue as bad:
        return None, Reading(None, reading.way, {bad.field_key: bad.sentence}, reading.warnings)
    return Taken(kind, reading.values, finding, reading.warnings), reading


def take(given: Mapping[str, Any], spot: Spot | None = None, pace: PaceLike | None = None) -> Taken:
    """Work out one reading. Raises BadValue with one sentence."""
    taken, reading = look(given, spot or Spot(), pace)
    if taken is None:
        key, sentence = next(iter(reading.problems.items()))
        raise BadValue(key, sentence)
    return taken
