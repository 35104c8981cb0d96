"""Finds room for lettering on a drawing, and answers where a point lies."""

from __future__ import annotations

import math
from collections.abc import Sequence

from logic.measure.geometry import Point, inside

__all__ = ["Box", "Placer", "box_at", "distance_to", "inside", "on_edge", "overlap"]

Box = tuple[float, float, float, float]


class Placer:
    """Gives out boxes inside a frame so that no two overlap; first come, first served."""

    def __init__(self, frame: Box) -> None:
        self._frame = frame
        self._taken: list[Box] = []

    def take(self, box: Box) -> bool:
        """True when `box` was free; it is then taken."""
        left, top, right, bottom = self._frame
        if box[0] < left or box[1] < top or box[2] > right or box[3] > bottom:
            return False
        if any(overlap(box, other) for other in self._taken):
            return False
        self._taken.append(box)
        return True


def box_at(centre: Point, width: float, height: float) -> Box:
    """The box of that size about `centre` (left, top, right, bottom)."""
    x, y = centre
    return (x - width / 2, y - height / 2, x + width / 2, y + height / 2)


def overlap(a: Box, b: Box) -> bool:
    """True when the boxes share more than an edge."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def on_edge(point: Point, polygon: Sequence[Point]) -> bool:
    """True when `point` lies on a side of `polygon`, to a ten-thousandth of its extent."""
    xs, ys = zip(*polygon, strict=True)
    close = 1e-4 * math.hypot(max(xs) - min(xs), max(ys) - min(ys))
    x, y = point
    return any(
        min(a[0], b[0]) - close <= x <= max(a[0], b[0]) + close  # most sides are nowhere near
        and min(a[1], b[1]) - close <= y <= max(a[1], b[1]) + close
        and distance_to(point, a, b) <= close
        for a, b in zip(polygon, [*polygon[1:], polygon[0]], strict=True)
    )


def distance_to(point: Point, a: Point, b: Point) -> float:
    """Distance from `point` to the straight piece from `a` to `b`."""
    length = math.dist(a, b)
    if length == 0:
        return math.dist(point, a)
    share = ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / length**2
    share = min(1.0, max(0.0, share))
    return math.dist(point, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))


def thinned(points: Sequence[Point], close: float) -> list[Point]:
    """A line with fewer points: those left out lie within `close` of it. First and last stay."""
    kept, place = [points[0]], 0
    for ahead in range(2, len(points)):
        if any(distance_to(points[i], points[place], points[ahead]) > close for i in range(place + 1, ahead)):
            place = ahead - 1
            kept.append(points[place])
    return [*kept, *points[len(points) - 1 :]] if len(points) > 1 else kept
