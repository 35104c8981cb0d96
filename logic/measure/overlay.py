"""Parts laid on the ground together: the outline of everything added, less everything taken off.

Every edge is cut where it meets another part's edge; a piece stays if there is ground on one side of it and
none on the other; the pieces that stay are joined into rings. Metres.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from logic.measure.curves import without_repeats
from logic.measure.geometry import Point, Polygon, shoelace

Ring = Sequence[Point]
_CLOSE = 1e-6  # points nearer than this [m] are the same point


@dataclass(frozen=True)
class Part:
    """A piece of ground, added or taken off."""

    polygon: Polygon
    holes: tuple[Polygon, ...] = ()
    added: bool = True

    @property
    def rings(self) -> tuple[Polygon, ...]:
        """Its edges."""
        return (self.polygon, *self.holes)

    def covers(self, point: Point) -> bool:
        """True when the point lies in the part and in none of its holes."""
        return inside(point, self.polygon) and not any(inside(point, hole) for hole in self.holes)


@dataclass(frozen=True)
class Laid:
    """What the parts enclose: pieces (anticlockwise), holes in them (clockwise), and the area [m²]."""

    pieces: tuple[Polygon, ...]
    holes: tuple[Polygon, ...]
    area: float


def inside(point: Point, ring: Ring) -> bool:
    """True when the point lies within the ring (a point on the edge may go either way)."""
    x, y = point
    odd = False
    for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            odd = not odd
    return odd


def lay(parts: Sequence[Part]) -> Laid:
    """The ground that the parts cover together: in at least one that is added, in none that is taken off."""
    kept: dict[tuple[Point, Point], None] = {}
    for start, end in _cut_edges(parts):
        length = math.dist(start, end)
        if length < _CLOSE:
            continue
        normal = ((start[1] - end[1]) / length * 2 * _CLOSE, (end[0] - start[0]) / length * 2 * _CLOSE)
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        left = _covered((middle[0] + normal[0], middle[1] + normal[1]), parts)
        right = _covered((middle[0] - normal[0], middle[1] - normal[1]), parts)
        if left != right:
            kept[(_spot(start), _spot(end)) if left else (_spot(end), _spot(start))] = None
    rings = list(_joined(kept))
    pieces = tuple(r for r in rings if shoelace(r) > 0)
    holes = tuple(r for r in rings if shoelace(r) < 0)
    return Laid(
        tuple(sorted(pieces, key=shoelace, reverse=True)), holes, float(sum(shoelace(r) for r in rings))
    )


def _covered(point: Point, parts: Sequence[Part]) -> bool:
    added = any(part.covers(point) for part in parts if part.added)
    return added and not any(part.covers(point) for part in parts if not part.added)


def _spot(point: Point) -> Point:
    return round(point[0] / _CLOSE / 4) * _CLOSE * 4, round(point[1] / _CLOSE / 4) * _CLOSE * 4


def _edges(part: Part) -> list[tuple[Point, Point]]:
    return [pair for ring in part.rings for pair in zip(ring, [*ring[1:], ring[0]], strict=True)]


def _cut_edges(parts: Sequence[Part]) -> Iterator[tuple[Point, Point]]:
    """All edges, cut where they meet the edges of other parts."""
    all_edges = [_edges(part) for part in parts]
    for i, edges in enumerate(all_edges):
        others = [edge for j, more in enumerate(all_edges) if j != i for edge in more]
        for start, end in edges:
            cuts = sorted({0.0, 1.0, *(t for other in others for t in _meetings(start, end, *other))})
            spots = [(start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1])) for t in cuts]
            yield from pairwise(spots)


def _meetings(a: Point, b: Point, c: Point, d: Point) -> Iterator[float]:
    """Where along a–b (0 to 1) it meets c–d; for edges along one line, where c and d lie on it."""
    if max(c[0], d[0]) < min(a[0], b[0]) - _CLOSE or min(c[0], d[0]) > max(a[0], b[0]) + _CLOSE:
        return
    if max(c[1], d[1]) < min(a[1], b[1]) - _CLOSE or min(c[1], d[1]) > max(a[1], b[1]) + _CLOSE:
        return
    u, v = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    long = math.hypot(*u)
    if long < _CLOSE:
        return
    for end in (c, d):  # a corner of the other edge on this one
        along = ((end[0] - a[0]) * u[0] + (end[1] - a[1]) * u[1]) / (long * long)
        off = abs(u[0] * (end[1] - a[1]) - u[1] * (end[0] - a[0])) / long
        if off < _CLOSE and 0 < along < 1:
            yield along
    turn = u[0] * v[1] - u[1] * v[0]
    if abs(turn) > 1e-12 * long * math.hypot(*v):
        t = ((c[0] - a[0]) * v[1] - (c[1] - a[1]) * v[0]) / turn
        s = ((c[0] - a[0]) * u[1] - (c[1] - a[1]) * u[0]) / turn
        if 0 < t < 1 and 0 <= s <= 1:
            yield t


def _joined(pieces: dict[tuple[Point, Point], None]) -> Iterator[Polygon]:
    """Rings of the pieces, end to start; where several go on from one point, the sharpest turn left, so that
    rings that touch at a point stay apart."""
    leaving: dict[Point, list[Point]] = {}
    for start, end in pieces:
        leaving.setdefault(start, []).append(end)
    while leaving:
        first = next(iter(leaving))
        ring, at = [first], _taken(leaving, first, None)
        while at != first and at in leaving:
            came_from = ring[-1]
            ring.append(at)
            at = _taken(leaving, at, came_from)
        corners = _without_straight(without_repeats(ring))
        if len(corners) >= 3:
            yield corners


def _taken(leaving: dict[Point, list[Point]], at: Point, came_from: Point | None) -> Point:
    ways = leaving[at]
    if came_from is None or len(ways) == 1:
        chosen = ways[0]
    else:
        back = math.atan2(came_from[1] - at[1], came_from[0] - at[0])

        def turn(way: Point) -> float:
            return (back - math.atan2(way[1] - at[1], way[0] - at[0])) % (2 * math.pi)

        chosen = min(ways, key=turn)
    ways.remove(chosen)
    if not ways:
        del leaving[at]
    return chosen


def _without_straight(ring: Polygon) -> Polygon:
    """The ring without corners that lie on the straight line between their neighbours."""
    count = len(ring)

    def bends(i: int) -> bool:
        a, b, c = ring[i - 1], ring[i], ring[(i + 1) % count]
        off = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        return abs(off) > _CLOSE * 4 * max(math.dist(a, c), _CLOSE)

    return tuple(ring[i] for i in range(count) if bends(i))
