"""Trends over visits: a sward is held against its own history first, and only like against like.

A change is claimed only when what is known of the two readings does not overlap (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from logic import tables
from logic.figure import Figure, figure, step
from logic.survey.kind import Taken
from logic.survey.proportion import apart
from logic.units import nominal, quantity, text_of

#: Standard uncertainties either way that hold a value at about 95 %.
REACH = 1.96


@dataclass(frozen=True)
class Past:
    """A reading taken on a day."""

    day: date
    taken: Taken


@dataclass(frozen=True)
class Point:
    """One day of a trend: the mean of that day's readings, and the range it is known to lie in."""

    day: date
    value: float
    low: float
    high: float
    count: int = 1


@dataclass(frozen=True)
class Trend:
    """How one figure went. points: by day, only readings that can be compared with the last; left_out: how
    many others there were. changed: since the first, and from the visit before, None where there is none.
    better: "up", "down" or "" where neither is better by itself."""

    key: str
    name: str
    unit: str
    points: tuple[Point, ...]
    better: str
    left_out: int
    changed: bool | None
    since_last: bool | None
    sentence: str

    @property
    def change(self) -> Figure | None:
        """Last less first, with its working; None while there is one day only."""
        if len(self.points) < 2:
            return None
        first, last = self.points[0], self.points[-1]
        line = step(
            "{b} on {e} − {a} on {d} = {c}",
            a=quantity(first.value, self.unit),
            b=quantity(last.value, self.unit),
            c=quantity(last.value - first.value, self.unit),
            d=first.day.isoformat(),
            e=last.day.isoformat(),
        )
        return figure(f"{self.key}_change", f"{self.name}: change", last.value - first.value, self.unit, line)


def trends(past: Iterable[Past]) -> tuple[Trend, ...]:
    """All trends of a sward's readings, in the order of survey_tracks.csv; figures never found are left
    out."""
    history = sorted(past, key=lambda one: one.day)
    found = []
    for row in tables.rows("survey_tracks"):
        of_kind = [p for p in history if p.taken.kind.key == row["kind"] and p.taken.has(row["figure"])]
        if of_kind:
            found.append(_trend(row, of_kind))
    return tuple(found)


def comparable(one: Taken, other: Taken) -> bool:
    """True when two readings of a kind agree in the fields that make them comparable (method, meter,
    depth)."""
    return all(_plain(one.values.get(key)) == _plain(other.values.get(key)) for key in one.kind.alike)


def _plain(value: Any) -> Any:
    """A value without its ±, so that two readings of one number are equal."""
    return value if value is None or isinstance(value, str) else nominal(value)


def _trend(row: Mapping[str, str], past: list[Past]) -> Trend:
    last = past[-1].taken
    alike = [p for p in past if comparable(p.taken, last)]
    points = _points(row["figure"], alike)
    least = float(row["least_change"]) if row["least_change"] else 0.0
    shown = last.figure(row["figure"])
    changed = _changed(points[0], points[-1], least) if len(points) > 1 else None
    since_last = _changed(points[-2], points[-1], least) if len(points) > 1 else None
    left_out = len(past) - len(alike)
    return Trend(
        shown.key,
        shown.name,
        shown.unit,
        points,
        row["better"],
        left_out,
        changed,
        since_last,
        _sentence(shown, points, changed, row["better"], left_out),
    )


def _points(key: str, past: list[Past]) -> tuple[Point, ...]:
    by_day: dict[date, list[Taken]] = {}
    for one in past:
        by_day.setdefault(one.day, []).append(one.taken)
    return tuple(_day(key, day, takens) for day, takens in by_day.items())


def _day(key: str, day: date, takens: list[Taken]) -> Point:
    """The day's mean; its range is the mean of the ranges, which errs on the wide side."""
    values = [one.figure(key).nominal for one in takens]
    ranges = [_range(one, key) for one in takens]
    count = len(takens)
    low, high = (sum(ends) / count for ends in zip(*ranges, strict=True))
    return Point(day, sum(values) / count, low, high, count)


def _range(taken: Taken, key: str) -> tuple[float, float]:
    if taken.has(f"{key}_low"):
        return taken.figure(f"{key}_low").nominal, taken.figure(f"{key}_high").nominal
    found = taken.figure(key)
    reach = REACH * found.plus_minus
    return found.nominal - reach, found.nominal + reach


def _changed(one: Point, other: Point, least: float) -> bool:
    return apart((one.low, one.high), (other.low, other.high)) and abs(other.value - one.value) >= least


def _sentence(
    shown: Figure, points: tuple[Point, ...], changed: bool | None, better: str, left_out: int
) -> str:
    aside = f" {left_out} taken another way are left out." if left_out else ""
    if changed is None:
        return f"{shown.name}: first reading that can be compared.{aside}"
    first, last = points[0], points[-1]
    a, b = (text_of(quantity(p.value, shown.unit)) for p in (first, last))
    if not changed:
        return f"{shown.name}: {a} then, {b} now; no change that these readings can show.{aside}"
    up = last.value > first.value
    verdict = "" if not better else " That is better." if (better == "up") == up else " That is worse."
    return f"{shown.name}: {'up' if up else 'down'} from {a} to {b}.{verdict}{aside}"
