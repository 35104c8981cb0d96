"""The lines that a machine follows over an outline: parallel strips at an angle, clipped to the turf.

Pure geometry, metres and degrees; the sketch draws what this gives.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from logic.errors import BadValue
from logic.measure.geometry import Point, Polygon

Segment = tuple[Point, Point]

#: More strips than this are a slip in the width, not a plan.
MOST_STRIPS = 2000


@dataclass(frozen=True)
class Pattern:
    """One pass over the outline. angle [degrees], anticlockwise from the x axis of the outline.

    segments: middle lines of the strips in the order they are walked, to and fro; a strip that a bed or
    pond cuts is two segments. strips: how many; length: all segments together [m]; longest: the longest.
    """

    angle: float
    width: float
    segments: tuple[Segment, ...]
    strips: int

    @property
    def length(self) -> float:
        """Metres walked at work, turns left out."""
        return sum(math.dist(a, b) for a, b in self.segments)

    @property
    def longest(self) -> float:
        """The longest unbroken run [m]."""
        return max((math.dist(a, b) for a, b in self.segments), default=0.0)

    @property
    def turns(self) -> int:
        """Times the machine is turned or lifted over: between one segment and the next."""
        return max(0, len(self.segments) - 1)


def long_way(polygon: Polygon) -> float:
    """The direction with the fewest strips [degrees, 0 to under 180]: the long way of the outline.

    Source: the least width of a convex shape lies across one of its sides (rotating calipers).
    """
    corners = _hull(polygon)
    sides = zip(corners, (*corners[1:], corners[0]), strict=True)
    angles = [math.degrees(math.atan2(y2 - y1, x2 - x1)) % 180 for (x1, y1), (x2, y2) in sides]
    return min(angles, key=partial(_across, corners))


def _hull(polygon: Polygon) -> Polygon:
    """The corners of a string pulled tight round the outline, anticlockwise (Andrew's monotone chain)."""

    def chain(points: Sequence[Point]) -> list[Point]:
        kept: list[Point] = []
        for x, y in points:
            while len(kept) > 1:
                (x1, y1), (x2, y2) = kept[-2:]
                if (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) > 0:
                    break
                kept.pop()
            kept.append((x, y))
        return kept[:-1]

    ordered = sorted(set(polygon))
    return (*chain(ordered), *chain(ordered[::-1]))


def _across(polygon: Polygon, angle: float) -> float:
    heights = [y for _, y in _turn(polygon, -angle)]
    return round(max(heights) - min(heights), 9)


def pattern(polygon: Polygon, holes: Sequence[Polygon], angle: float, width: float) -> Pattern:
    """The strips of one pass.

    polygon, holes: corners [m]; angle [degrees] of the strips from the x axis; width: between the middles
    of neighbouring strips [m], that is the working width less the overlap. The strips are centred, so
    that what overhangs is shared by both sides. Raises BadValue when width is not above 0 or far too small.
    """
    if width <= 0:
        raise BadValue("working_width", "The working width must be more than the overlap.")
    turned = [_turn(ring, -angle) for ring in (polygon, *holes)]
    low, high = min(y for _, y in turned[0]), max(y for _, y in turned[0])
    strips = max(1, math.ceil((high - low) / width - 1e-9))
    if strips > MOST_STRIPS:
        raise BadValue("working_width", f"That width would take {strips} strips. Check the working width.")
    first = (low + high) / 2 - (strips - 1) / 2 * width
    segments: list[Segment] = []
    for number in range(strips):
        y = first + number * width
        runs = [((a, y), (b, y)) for a, b in _inside(turned, y)]
        segments += runs if number % 2 == 0 else [(b, a) for a, b in reversed(runs)]
    back = tuple((_turn_point(a, angle), _turn_point(b, angle)) for a, b in segments)
    return Pattern(angle, width, back, strips)


def _inside(rings: Sequence[Polygon], y: float) -> list[tuple[float, float]]:
    """Stretches of the line at height y that lie on the turf: between odd and even crossings of all edges.

    A side counts from its lower end up to, but without, its upper end, so a corner counts once.
    """
    crossings: list[float] = []
    for ring in rings:
        for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (y1 <= y) != (y2 <= y):
                crossings.append(x1 + (y - y1) / (y2 - y1) * (x2 - x1))
    crossings.sort()
    return [(a, b) for a, b in zip(crossings[::2], crossings[1::2], strict=True) if b > a]


def _turn_point(point: Point, degrees: float) -> Point:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (point[0] * c - point[1] * s, point[0] * s + point[1] * c)


def _turn(ring: Polygon, degrees: float) -> Polygon:
    return tuple(_turn_point(p, degrees) for p in ring)
