"""Plane geometry of outlines: shoelace area, perimeter, self-crossing, longest run. Metres throughout."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, starmap
from typing import Any

from uncertainties import umath

from logic.units import nominal

Point = tuple[float, float]
Polygon = tuple[Point, ...]


def shoelace(points: Sequence[tuple[Any, Any]]) -> Any:
    """Signed area of a closed polygon [m²]; positive when the corners run anticlockwise. ± allowed.

    The first corner is moved to the origin before multiplying, which keeps precision far from it.
    Source: J. Mahun, Open Access Surveying Library, area by coordinates.
    """
    x0, y0 = points[0]
    moved = [(x - x0, y - y0) for x, y in points]
    turned = moved[1:] + moved[:1]
    return sum((x * v - u * y) for (x, y), (u, v) in zip(moved, turned, strict=True)) / 2


def perimeter(points: Sequence[tuple[Any, Any]]) -> Any:
    """Length round a closed polygon [m]. ± allowed; zero-length sides add nothing."""
    turned = [*points[1:], points[0]]
    sides = [(u - x, v - y) for (x, y), (u, v) in zip(points, turned, strict=True)]
    long = (side for side in sides if nominal(side[0]) or nominal(side[1]))
    return sum((umath.hypot(dx, dy) for dx, dy in long), 0.0)


def nominal_polygon(points: Sequence[tuple[Any, Any]]) -> Polygon:
    """The corners without their ±, anticlockwise."""
    plain = tuple((nominal(x), nominal(y)) for x, y in points)
    return plain if shoelace(plain) >= 0 else plain[::-1]


def longest_run(points: Sequence[Point]) -> float:
    """The greatest straight distance between two corners [m]: the longest line a machine walks."""
    return max(starmap(math.dist, combinations(points, 2)), default=0.0)


def inside(point: Point, polygon: Sequence[Point]) -> bool:
    """True when `point` lies inside `polygon` (even-odd rule)."""
    x, y = point
    crossings = False
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            crossings = not crossings
    return crossings


def crosses_itself(points: Sequence[Point]) -> bool:
    """True when two sides that are not neighbours touch or cross, so that the corners enclose no outline."""
    count = len(points)
    sides = [(points[i], points[(i + 1) % count]) for i in range(count)]
    for i in range(count):
        for j in range(i + 1, count):
            neighbours = j == i + 1 or (i == 0 and j == count - 1)
            if not neighbours and _meet(*sides[i], *sides[j]):
                return True
    return False


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    d1, d2, d3, d4 = _side(c, d, a), _side(c, d, b), _side(a, b, c), _side(a, b, d)
    if d1 * d2 < 0 and d3 * d4 < 0:
        return True
    return any(
        turn == 0 and _within(p, q, r)
        for turn, p, q, r in ((d1, c, d, a), (d2, c, d, b), (d3, a, b, c), (d4, a, b, d))
    )


def _side(p: Point, q: Point, r: Point) -> float:
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])


def _within(p: Point, q: Point, r: Point) -> bool:
    return min(p[0], q[0]) <= r[0] <= max(p[0], q[0]) and min(p[1], q[1]) <= r[1] <= max(p[1], q[1])
