"""The rules that lead from a reading, a wish or a step to a step: rows of programme_rules.csv."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from logic import tables
from logic.figure import Figure, Source
from logic.survey.kind import Taken


@dataclass(frozen=True)
class Reason:
    """Why: a sentence, where the rule comes from, and the rule's key."""

    sentence: str
    source: Source
    rule: str


@dataclass(frozen=True)
class Fired:
    """A rule that applies: what to do ("" for advice alone), with which values, and why."""

    operation: str
    reason: Reason
    values: Mapping[str, str] = field(default_factory=dict)


def wishes() -> tuple[tuple[str, str], ...]:
    """What a customer may wish for, as (key, label)."""
    return tuple((r["key"], r["wish"]) for r in tables.rows("programme_wishes"))


def by_readings(takens: Iterable[Taken], surface: str) -> tuple[Fired, ...]:
    """The rules that readings set off, in the table's order; the last reading of a kind counts."""
    last = {taken.kind.key: taken for taken in takens}
    found = []
    for row in _rows("reading", surface):
        taken = last.get(row["kind"])
        if taken is None or not taken.has(row["name"]):
            continue
        figure = taken.figure(row["name"])
        if _holds(figure, row):
            found.append(_fired(row, figure, taken))
    return tuple(found)


def by_wishes(wanted: Sequence[str], surface: str) -> tuple[Fired, ...]:
    """The rules that wishes set off."""
    return tuple(_fired(row) for row in _rows("wish", surface) if row["name"] in wanted)


def by_steps(operations: Sequence[str], surface: str) -> tuple[Fired, ...]:
    """The rules that steps already in the plan set off."""
    return tuple(_fired(row) for row in _rows("step", surface) if row["name"] in operations)


def _rows(on: str, surface: str) -> Iterable[Mapping[str, str]]:
    return (r for r in tables.rows("programme_rules") if r["on"] == on and r["surface"] in ("", surface))


def _holds(figure: Figure, row: Mapping[str, str]) -> bool:
    edge = float(row["limit"])
    return figure.nominal > edge if row["test"] == "above" else figure.nominal < edge


def _fired(row: Mapping[str, str], figure: Figure | None = None, taken: Taken | None = None) -> Fired:
    sentence = row["why"].replace("{found}", figure.text() if figure else "")
    values = {}
    for part in filter(None, row["values"].split(";")):
        key, _, value = part.partition("=")
        values[key] = _filled(value, taken)
    return Fired(row["operation"], Reason(sentence, tables.source_of(row), row["rule"]), values)


def _filled(value: str, taken: Taken | None) -> str:
    """A value with each {figure key} replaced by that figure as job-file text."""

    def text(match: re.Match[str]) -> str:
        assert taken is not None
        found = taken.figure(match.group(1))
        return f"{found.nominal:.4g} {found.unit}".strip()

    return re.sub(r"\{(\w+)\}", text, value)
