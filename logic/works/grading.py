"""A sand's grading curve: sieve results in, percent passing and D-values out; plain mm and percent."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from logic.errors import BadValue

#: What shares can mean: key and words. Weights held, with the pan as size 0, are a third kind: "weighed".
KINDS = (("passing", "finer than each sieve"), ("retained", "held on each sieve"))


@dataclass(frozen=True)
class Curve:
    """Points of a grading curve, finest first: size [mm] above 0, and percent passing that sieve."""

    points: tuple[tuple[float, float], ...]

    def passing(self, size: float) -> float | None:
        """Percent finer than `size` [mm]; None outside the sieves unless nothing or all of it passes there.

        Source: log of size against straight percent, as in the US Army Corps of Engineers' filter manual.
        """
        (finest, least), (coarsest, most) = self.points[0], self.points[-1]
        if size <= 0 or (size < finest and least == 0):
            return 0.0
        if size > coarsest and most == 100:
            return 100.0
        for (s1, p1), (s2, p2) in pairwise(self.points):
            if s1 <= size <= s2:
                return p1 + (p2 - p1) * math.log(size / s1) / math.log(s2 / s1)
        return None

    def size_at(self, percent: float) -> float | None:
        """D-value: the size [mm] that `percent` of the sand is finer than; None where no sieve reaches it."""
        for (s1, p1), (s2, p2) in pairwise(self.points):
            if p1 <= percent <= p2 and p2 > p1:
                return float(s1 * (s2 / s1) ** ((percent - p1) / (p2 - p1)))
        return None

    def between(self, low: float | None, high: float | None) -> float | None:
        """Percent coarser than `low` and finer than `high` [mm]; None for an edge means no edge there."""
        above = 100.0 if high is None else self.passing(high)
        below = 0.0 if low is None else self.passing(low)
        return None if above is None or below is None else above - below


def curve(rows: Sequence[tuple[float, float]], kind: str, field: str) -> Curve:
    """The Curve of sieve results.

    rows: size [mm] and amount of each sieve, in any order; kind: of KINDS, or "weighed"; field: key of
    the field that a complaint belongs to. Raises BadValue when they can't be the results of one sieving.
    """
    by_size = sorted(rows)
    if len({size for size, _ in by_size}) < len(by_size):
        raise BadValue(field, "The same sieve stands there twice.")
    if kind != "passing":
        by_size = _passing(by_size, kind, field)
    points = tuple((s, p) for s, p in by_size if s > 0)
    if len(points) < 3:
        raise BadValue(field, "Give at least three sieves.")
    if any(p > 100 + 1e-9 for _, p in points):
        raise BadValue(field, "More than 100 % can't pass a sieve.")
    if any(p2 < p1 for (_, p1), (_, p2) in pairwise(points)):
        raise BadValue(field, "A coarser sieve can't let less through than a finer one. Check the order.")
    return Curve(points)


def _passing(by_size: Sequence[tuple[float, float]], kind: str, field: str) -> list[tuple[float, float]]:
    """Percent passing from what each sieve held: 100 less all that is held there and above."""
    held = sum(amount for _, amount in by_size)
    has_pan = by_size[0][0] == 0
    if held <= 0:
        raise BadValue(field, "Nothing is held on any sieve.")
    if kind == "weighed" and not has_pan:
        raise BadValue(field, "Weigh what is in the pan too, and give it as size 0.")
    if kind == "retained" and held > 100.5:
        raise BadValue(field, "What the sieves hold adds up to more than 100 %.")
    whole = held if has_pan or held > 100 else 100.0
    left, points = whole, []
    for size, amount in reversed(by_size):
        left -= amount
        points.append((size, max(0.0, left / whole * 100)))
    return points[::-1]
