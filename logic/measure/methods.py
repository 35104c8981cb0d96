"""The ways of measuring, found by themselves: every module here with a METHOD is one."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache, partial
from typing import Any

import logic.measure
from logic.errors import BadValue, ImpossibleShape
from logic.field import PaceLike, Reading, Values
from logic.measure.outline import Context, Method, Outline, outline_from
from logic.measure.slope import on_slope
from logic.numbers import said

#: How many outlines may lie within one another (a compound of compounds, measured twice).
DEEPEST = 4


@cache
def methods() -> Mapping[str, Method]:
    """All ways of measuring by key, in the order in which they are offered."""
    found = []
    for module in pkgutil.iter_modules(logic.measure.__path__):
        method = getattr(importlib.import_module(f"logic.measure.{module.name}"), "METHOD", None)
        if method is not None:
            found.append(method)
    return {m.key: m for m in sorted(found, key=lambda m: (m.order, m.key))}


def method_named(key: Any) -> Method:
    """The method with that key. Raises BadValue."""
    method = methods().get(key) if isinstance(key, str) else None
    if method is None:
        known = ", ".join(methods())
        raise BadValue("method", f"“{said(str(key))}” is not a way of measuring known here: {known}.")
    return method


def measure(given: Mapping[str, Any], pace: PaceLike | None = None) -> tuple[Outline | None, Reading]:
    """Read an outline as the screen needs it: the Outline, or None with a sentence for each bad field."""
    method = method_named(given.get("method"))
    reading = method.form.read(given, pace)
    if reading.values is None:
        return None, reading
    try:
        return _traced(method, reading.values, given, pace, 0), reading
    except (ImpossibleShape, BadValue) as bad:
        problems = {bad.field_key or "": bad.sentence}
        return None, Reading(None, reading.way, problems, reading.warnings)


def outline_of(given: Mapping[str, Any], pace: PaceLike | None = None, depth: int = 0) -> Outline:
    """The Outline of a job file's "outline" part. Raises BadValue or ImpossibleShape with one sentence.

    depth: how many outlines this one lies within.
    """
    if not isinstance(given, Mapping):
        raise BadValue("outline", "The outline must say how it was measured.")
    if depth > DEEPEST:
        raise BadValue("outline", "Outlines within outlines go too deep here. Take them apart.")
    method = method_named(given.get("method"))
    reading = method.form.read(given, pace)
    if reading.values is None:
        key, sentence = next(iter(reading.problems.items()))
        raise BadValue(key, sentence)
    return _traced(method, reading.values, given, pace, depth)


def _traced(
    method: Method, values: Values, given: Mapping[str, Any], pace: PaceLike | None, depth: int
) -> Outline:
    within = partial(outline_of, depth=depth + 1)
    return on_slope(outline_from(method, method.trace(values, Context(pace, within))), given.get("slope"))
