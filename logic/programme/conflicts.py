"""What speaks against a programme, each in one sentence: order, season, soil too cold, works that clash."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logic import tables
from logic.figure import Source
from logic.programme.germination import GO, sowing
from logic.programme.order import name, out_of_order
from logic.programme.season import GOOD, POOR, Climate, strip

MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)


@dataclass(frozen=True)
class Conflict:
    """Something that speaks against an operation as planned. kind: "order", "season", "soil" or "clash";
    serious: False for what is possible but not the best."""

    operation: str
    kind: str
    sentence: str
    source: Source
    serious: bool = True


@dataclass(frozen=True)
class Times:
    """What is known of when: the month of the work, the climate, and today's soil temperature [°C]."""

    month: int | None = None
    climate: Climate | None = None
    soil: float | None = None
    soil_falling: bool = False


def conflicts(keys: Sequence[str], times: Times | None = None) -> tuple[Conflict, ...]:
    """Everything that speaks against these operations in this order at this time."""
    when = times or Times()
    return (*_of_order(keys), *_of_soil(keys, when), *_of_season(keys, when), *_clashes(keys))


def _of_order(keys: Sequence[str]) -> tuple[Conflict, ...]:
    return tuple(
        Conflict(
            rule.then,
            "order",
            f"{name(rule.then)} before {name(rule.first).lower()}: {rule.why}.",
            rule.source,
        )
        for rule in out_of_order(keys)
    )


def _of_soil(keys: Sequence[str], when: Times) -> tuple[Conflict, ...]:
    if "overseeding" not in keys or when.soil is None:
        return ()
    found = sowing(when.soil, when.soil_falling)
    if found.state == GO:
        return ()
    return (Conflict("overseeding", "soil", found.sentence, found.source, found.state == "no"),)


def _of_season(keys: Sequence[str], when: Times) -> tuple[Conflict, ...]:
    if when.month is None or when.climate is None:
        return ()
    found = []
    for key in dict.fromkeys(keys):
        year = strip(key, when.climate)
        if year is None:
            continue
        month = year.months[when.month - 1]
        if month.state == GOOD or (key == "overseeding" and when.soil is not None and month.state != POOR):
            continue
        better = ", ".join(MONTH_NAMES[n - 1] for n in year.good()) or "no month is good here"
        said = f"{name(key)} in {MONTH_NAMES[when.month - 1]}: {month.sentence} Better: {better}."
        found.append(Conflict(key, "season", said, year.source, month.state == POOR))
    return tuple(found)


def _clashes(keys: Sequence[str]) -> tuple[Conflict, ...]:
    return tuple(
        Conflict(row["operation"], "clash", row["sentence"], tables.source_of(row))
        for row in tables.rows("programme_clashes")
        if row["operation"] in keys and row["with"] in keys
    )
