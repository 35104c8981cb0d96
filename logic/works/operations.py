"""The operations, found by themselves: every module here with an OPERATION is one."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from typing import Any

import logic.works
from logic.errors import BadValue
from logic.field import PaceLike, Reading
from logic.numbers import said
from logic.works.operation import Ground, Operation, Worked, caution


@cache
def operations() -> Mapping[str, Operation]:
    """All operations by key, in the usual order of a day."""
    found = []
    for module in pkgutil.iter_modules(logic.works.__path__):
        operation = getattr(importlib.import_module(f"logic.works.{module.name}"), "OPERATION", None)
        if operation is not None:
            found.append(operation)
    return {o.key: o for o in sorted(found, key=lambda o: (o.order, o.key))}


def operation_named(key: Any) -> Operation:
    """The operation with that key. Raises BadValue."""
    operation = operations().get(key) if isinstance(key, str) else None
    if operation is None:
        known = ", ".join(operations())
        raise BadValue("operation", f"“{said(str(key))}” is not an operation known here: {known}.")
    return operation


def plan(
    given: Mapping[str, Any], ground: Ground, pace: PaceLike | None = None
) -> tuple[Worked | None, Reading]:
    """Work out as the screen needs it: the Worked, or None with a sentence for each bad field."""
    operation = operation_named(given.get("operation"))
    reading = operation.form.read(given, pace)
    if reading.values is None:
        return None, reading
    try:
        work = operation.work(reading.values, ground)
    except BadValue as bad:
        return None, Reading(None, reading.way, {bad.field_key: bad.sentence}, reading.warnings)
    keys = dict.fromkeys((*operation.cautions, *work.cautions))
    cautions = tuple(caution(key) for key in keys)
    worked = Worked(operation, reading.values, work.figures, work.warnings, cautions, reading.warnings)
    return worked, reading


def work_out(given: Mapping[str, Any], ground: Ground, pace: PaceLike | None = None) -> Worked:
    """Work out one entry of a job file's "works". Raises BadValue with one sentence."""
    worked, reading = plan(given, ground, pace)
    if worked is None:
        key, sentence = next(iter(reading.problems.items()))
        raise BadValue(key, sentence)
    return worked
