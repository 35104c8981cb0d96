"""The sketch of a green to scale, as strokes and labels that screen and paper both know how to draw.

Coordinates are in the units of the frame (points on paper, pixels on screen), x to the right, y down.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from logic.measure.geometry import Point, Polygon
from logic.measure.outline import Dimension, Outline
from logic.report.places import Box, Placer, box_at, inside, on_edge
from logic.units import convert, quantity, text_of

Measure = Callable[[str, float], float]

#: Denominators of the scales that a paper drawing may have, times any power of ten.
_SCALES = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.5)


@dataclass(frozen=True)
class Stroke:
    """A line through `points`. role: "edge" or "hole" (closed), "dimension", "leader", "scale" or "north"."""

    points: tuple[Point, ...]
    role: str
    closed: bool = False


@dataclass(frozen=True)
class Label:
    """`text` centred in `box` (left, top, right, bottom), `size` high. A dimension's box is painted first, in
    the colour of the turf when it is `inside` the outline, else of the paper. field: whence its length.
    """

    text: str
    box: Box
    size: float
    role: str = "dimension"
    inside: bool = False
    field: str = ""


@dataclass(frozen=True)
class Sketch:
    """A finished drawing. metre: frame units to a metre; ratio: N of the scale 1:N, None when it is not on
    paper; left_off: measured lengths that found no room for their lettering."""

    width: float
    height: float
    marks: tuple[Stroke | Label, ...]
    metre: float
    ratio: float | None
    left_off: int


def rough_width(text: str, size: float) -> float:
    """The width of `text` to within a tenth or so, for those who have no font to ask."""
    return 0.58 * size * len(text)


def draw_sketch(
    outline: Outline,
    width: float,
    height: float,
    *,
    system: str = "metric",
    text_size: float = 8.0,
    measure: Measure = rough_width,
    unit_length: float | None = None,
) -> Sketch:
    """The outline fitted into width × height with its measured lengths, a scale bar and north where known.

    system: units of the lettering. measure: (text, size) → width. unit_length: the real length of one frame
    unit [m] (a point is 0.0254/72); given, the scale is a round one; None fills the frame.
    """
    view = _view(outline, width, height, system, text_size, measure, unit_length)
    placer = Placer((0.0, 0.0, width, height - 3 * text_size))
    marks: list[Stroke | Label] = [Stroke(view.all(ring), "edge", closed=True) for ring in _rings(outline)]
    marks += [Stroke(view.all(hole), "hole", closed=True) for hole in outline.holes]
    marks += _north(outline.north, width, text_size, placer)
    left_off = 0
    for dimension in sorted(outline.dimensions, key=lambda d: -math.dist(d.start, d.end)):
        if math.dist(dimension.start, dimension.end) == 0:
            continue
        found = _dimension(dimension, outline, view, placer)
        left_off += not any(isinstance(mark, Label) for mark in found)
        marks += [replace(mark, field=dimension.field) if isinstance(mark, Label) else mark for mark in found]
    marks += _scale_bar(view, width, height)
    ratio = 1 / (view.metre * unit_length) if unit_length else None
    return Sketch(width, height, tuple(marks), view.metre, ratio, left_off)


@dataclass(frozen=True)
class _View:
    """Where metres fall in the frame, and how lettering is measured."""

    metre: float
    left: float
    top: float
    corner: Point  # least x and greatest y of the outline [m]
    system: str
    size: float
    measure: Measure

    def at(self, point: Point) -> Point:
        x, y = point
        return (self.left + (x - self.corner[0]) * self.metre, self.top + (self.corner[1] - y) * self.metre)

    def all(self, points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple(self.at(p) for p in points)

    def box(self, text: str, centre: Point) -> Box:
        return box_at(centre, self.measure(text, self.size) + 0.6 * self.size, 1.25 * self.size)


def _view(
    outline: Outline,
    width: float,
    height: float,
    system: str,
    size: float,
    measure: Measure,
    unit_length: float | None,
) -> _View:
    outside = [text_of(d.value, system) for d in outline.dimensions if _along_edge(d, outline)]
    across = max((1.7 * size + measure(t, size) for t in outside), default=size)
    down = 2.9 * size if outside else size
    xs, ys = zip(*(point for ring in _rings(outline) for point in ring), strict=True)
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    room = (max(width - 2 * across, width / 3), max(height - 2 * down - 3 * size, height / 3))
    metre = min(room[0] / max(wide, 1e-9), room[1] / max(deep, 1e-9))
    if unit_length:
        metre = 1 / (unit_length * round_scale(1 / (metre * unit_length)))
    left = (width - wide * metre) / 2
    top = (height - 3 * size - deep * metre) / 2
    return _View(metre, left, top, (min(xs), max(ys)), system, size, measure)


def round_scale(least: float) -> float:
    """The smallest round denominator that is not below `least` (1:N): 87 → 100, 101 → 125, 160 → 200."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(s * power for s in (*_SCALES, 10.0) if s * power >= least * (1 - 1e-9))


def _dimension(dimension: Dimension, outline: Outline, view: _View, placer: Placer) -> list[Stroke | Label]:
    text = text_of(dimension.value, view.system)
    start, end = view.at(dimension.start), view.at(dimension.end)
    edge = _along_edge(dimension, outline)
    if edge:
        return _beside(text, start, end, view.all(edge), view, placer)
    return _across(text, start, end, view, placer)


def _rings(outline: Outline) -> tuple[Polygon, ...]:
    """The edges of all pieces of the ground."""
    return (outline.polygon, *outline.pieces)


def _along_edge(dimension: Dimension, outline: Outline) -> Polygon:
    """The edge that a length lies along, () for one across the ground."""
    middle = _between(dimension.start, dimension.end, 0.5)
    return next((ring for ring in _rings(outline) if on_edge(middle, ring)), ())


def _across(text: str, start: Point, end: Point, view: _View, placer: Placer) -> list[Stroke | Label]:
    """A length inside the outline: a line with a tick at each end, lettered on it where there is room."""
    lines = [Stroke((start, end), "dimension"), *_ticks(start, end, view.size)]
    if math.dist(start, end) < 1.2 * view.size:
        return list(lines)
    for share in (0.5, 0.35, 0.65, 0.2, 0.8):
        box = view.box(text, _between(start, end, share))
        if placer.take(box):
            return [*lines, Label(text, box, view.size, inside=True)]
    return list(lines)


def _beside(
    text: str, start: Point, end: Point, edge: Polygon, view: _View, placer: Placer
) -> list[Stroke | Label]:
    """A length along the edge: a dimension line outside it, or a leader to the lettering when it is short."""
    out = _outward(start, end, edge)
    wide, high = (view.box(text, (0, 0))[side] * 2 for side in (2, 3))
    step = max(1.5 * view.size, (abs(out[0]) * wide + abs(out[1]) * high) / 2 + 0.3 * view.size)
    shift = (out[0] * step, out[1] * step)
    near, far = _add(start, shift), _add(end, shift)
    lines: list[Stroke | Label] = [
        Stroke((near, far), "dimension"),
        *_ticks(near, far, view.size),
        Stroke((_add(start, shift, 0.25), _add(start, shift, 1.2)), "leader"),
        Stroke((_add(end, shift, 0.25), _add(end, shift, 1.2)), "leader"),
    ]
    box = view.box(text, _between(near, far, 0.5))
    length = math.dist(start, end)
    covered = abs(out[1]) * wide + abs(out[0]) * high
    if covered < 0.8 * length:
        if placer.take(box):
            return [*lines, Label(text, box, view.size)]
        return lines
    middle = _between(start, end, 0.5)
    for reach in (0.7, 2.0, 3.5):
        centre = _add(middle, out, step + reach * view.size)
        box = view.box(text, centre)
        if placer.take(box):
            return [Stroke((middle, centre), "leader"), Label(text, box, view.size)]
    return []


def _ticks(start: Point, end: Point, size: float) -> Iterator[Stroke]:
    """The short slanting stroke that ends a dimension line."""
    length = math.dist(start, end)
    u = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    slant = ((u[0] - u[1]) * size / 4, (u[1] + u[0]) * size / 4)
    for p in (start, end):
        yield Stroke((_add(p, slant, -1), _add(p, slant)), "dimension")


def _outward(start: Point, end: Point, edge: Polygon) -> Point:
    length = math.dist(start, end)
    normal = ((end[1] - start[1]) / length, (start[0] - end[0]) / length)
    probe = _add(_between(start, end, 0.5), normal, 1e-3 * length)
    return (-normal[0], -normal[1]) if inside(probe, edge) else normal


def _scale_bar(view: _View, width: float, height: float) -> list[Stroke | Label]:
    """A bar of a round length, about a quarter of the frame, at the foot."""
    factor, label = convert(quantity(1.0, "m"), view.system)
    unit = view.metre / float(factor)
    target = width / 4 / unit
    power = 10.0 ** math.floor(math.log10(target))
    length = next(s * power for s in (5.0, 2.0, 1.0) if s * power <= target)
    text = f"{length:g} {label}"
    left, right, y = view.size, view.size + length * unit, height - view.size
    rise = 0.5 * view.size
    half = (left + right) / 2
    ends = [Stroke(((x, y - rise), (x, y)), "scale") for x in (left, half, right)]
    box = view.box(text, (0, 0))
    wide = box[2] - box[0]
    place = box_at((right + wide / 2 + 0.4 * view.size, y - rise / 2), wide, box[3] - box[1])
    return [Stroke(((left, y), (right, y)), "scale"), *ends, Label(text, place, view.size, "scale")]


def _north(bearing: float | None, width: float, size: float, placer: Placer) -> list[Stroke | Label]:
    """An arrow to north in the upper right corner. bearing: of the drawing's upward direction [degrees]."""
    if bearing is None:
        return []
    turn = math.radians(bearing)
    up = (-math.sin(turn), -math.cos(turn))
    side = (-up[1], up[0])
    centre = (width - 3 * size, 3 * size)
    placer.take(box_at(centre, 6 * size, 6 * size))
    tip, tail = _add(centre, up, 1.6 * size), _add(centre, up, -1.8 * size)
    barbs = [_add(_add(tip, up, -0.9 * size), side, s * 0.45 * size) for s in (1, -1)]
    letter = box_at(_add(centre, up, 2.4 * size), 1.2 * size, 1.2 * size)
    return [
        Stroke((tail, tip), "north"),
        Stroke((barbs[0], tip, barbs[1]), "north"),
        Label("N", letter, size, "north"),
    ]


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


def _add(a: Point, b: Point, times: float = 1.0) -> Point:
    return (a[0] + b[0] * times, a[1] + b[1] * times)
