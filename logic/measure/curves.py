"""Points along curved edges, so that a round outline has a polygon too. Metres and radians."""

from __future__ import annotations

import math
from collections.abc import Sequence

from logic.measure.geometry import Point, Polygon

#: Corners of a full turn. The polygon of a circle is then 0.05 % smaller than the circle.
TURN = 120


def arc(
    centre: Point, radii: Point, start: float = 0.0, end: float = 2 * math.pi, least: int = TURN
) -> Polygon:
    """Points of an ellipse's arc from angle `start` to `end`, both ends included unless it is a full turn.

    radii: half axes along x and y [m]. least: corners for a full turn; an arc gets at least 36.
    """
    sweep = end - start
    full = math.isclose(abs(sweep), 2 * math.pi)
    count = max(36, math.ceil(least * abs(sweep) / (2 * math.pi)))
    return tuple(
        (
            centre[0] + radii[0] * math.cos(start + sweep * i / count),
            centre[1] + radii[1] * math.sin(start + sweep * i / count),
        )
        for i in range(count if full else count + 1)
    )


def without_repeats(points: Sequence[Point], tolerance: float = 1e-9) -> Polygon:
    """The corners without those that stand on the one before (the last counts as before the first)."""
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(point, kept[-1]) > tolerance:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= tolerance:
        kept.pop()
    return tuple(kept)
