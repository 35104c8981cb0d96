"""A small drawing of each way of measuring: the shape, and in clay what is measured on it.

Drawn on a field of 12 by 8, y down. A drawing of our own for each; not to be measured from.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import flet as ft
import flet.canvas as cv

Point = tuple[float, float]
Line = Sequence[Point]
_WIDE, _HIGH = 12.0, 8.0


@dataclass(frozen=True)
class Glyph:
    """edge: the outline. lines: what is measured. hole: a second outline cut out of it. open: not closed."""

    edge: Line
    lines: tuple[Line, ...] = ()
    hole: Line = ()


def _arc(
    cx: float, cy: float, rx: float, ry: float, start: float, sweep: float, count: int = 24
) -> list[Point]:
    angles = (math.radians(start + sweep * i / count) for i in range(count + 1))
    return [(cx + rx * math.cos(a), cy + ry * math.sin(a)) for a in angles]


def _round(cx: float, cy: float, rx: float, ry: float) -> list[Point]:
    return _arc(cx, cy, rx, ry, 0, 360)


def _green(angle: float) -> float:
    """The radius of an irregular green, in a direction."""
    return 3.3 + 0.5 * math.cos(2 * angle) + 0.35 * math.sin(3 * angle + 0.6)


def _free(wide: float = 1.35, high: float = 0.95, count: int = 40) -> list[Point]:
    angles = [2 * math.pi * i / count for i in range(count)]
    return [(6 + wide * _green(a) * math.cos(a), 4 + high * _green(a) * math.sin(a)) for a in angles]


def _at(angle: float) -> Point:
    return (6 + 1.35 * _green(angle) * math.cos(angle), 4 + 0.95 * _green(angle) * math.sin(angle))


_HEX = [
    (6 + 3.6 * math.cos(math.radians(60 * i)), 4 + 3.6 * math.sin(math.radians(60 * i))) for i in range(6)
]
_FIVE = [(1.0, 4.6), (4.0, 0.8), (10.6, 1.6), (11.0, 5.6), (5.2, 7.4)]

GLYPHS: Mapping[str, Glyph] = {
    "rectangle": Glyph([(1, 1.2), (11, 1.2), (11, 6.8), (1, 6.8)], ([(1, 4), (11, 4)], [(6, 1.2), (6, 6.8)])),
    "l_shape": Glyph([(1, 1), (6, 1), (6, 4.2), (11, 4.2), (11, 7.2), (1, 7.2)]),
    "circle": Glyph(_round(6, 4, 3.6, 3.6), ([(2.4, 4), (9.6, 4)],)),
    "ellipse": Glyph(_round(6, 4, 5.2, 3.3), ([(0.8, 4), (11.2, 4)], [(6, 0.7), (6, 7.3)])),
    "triangle": Glyph([(1, 7), (11, 7), (4, 1)], ([(4, 1), (4, 7)],)),
    "trapezium": Glyph([(0.8, 7), (11.2, 7), (8.6, 1), (3.2, 1)], ([(5, 1), (5, 7)],)),
    "parallelogram": Glyph([(0.8, 7), (8.6, 7), (11.2, 1), (3.4, 1)], ([(6, 1), (6, 7)],)),
    "quadrilateral": Glyph([(0.8, 5.4), (4, 0.9), (11, 2.2), (9, 7.3)], ([(0.8, 5.4), (11, 2.2)],)),
    "kite": Glyph([(0.8, 4), (4.4, 1), (11.2, 4), (4.4, 7)], ([(0.8, 4), (11.2, 4)], [(4.4, 1), (4.4, 7)])),
    "sector": Glyph([(1.4, 6.6), *_arc(1.4, 6.6, 9.2, 7.4, -52, 52)], ([(1.4, 6.6), (10.6, 6.6)],)),
    "segment": Glyph(_arc(6, 7.6, 5.4, 6.2, 180, 180), ([(0.6, 7.6), (11.4, 7.6)], [(6, 7.6), (6, 1.4)])),
    "ring": Glyph(_round(6, 4, 3.7, 3.7), ([(2.3, 4), (9.7, 4)],), _round(6, 4, 2, 2)),
    "stadium": Glyph(
        [*_arc(8.4, 4, 2.8, 2.8, -90, 180, 12), *_arc(3.6, 4, 2.8, 2.8, 90, 180, 12)],
        ([(0.8, 4), (11.2, 4)],),
    ),
    "regular": Glyph(_HEX, ([(6, 4), _HEX[0]],)),
    "offsets": Glyph(
        _free(),
        (
            [(0.6, 4.4), (11.4, 4.4)],
            *([(x, 4.4), (x, 4.4 - h)] for x, h in ((3, 2.6), (5, 3.4), (7, 3.2), (9, 2.2))),
        ),
    ),
    "kidney": Glyph(
        [
            *_arc(3.6, 3.4, 2.9, 2.7, 100, 170, 16),
            *_arc(8.4, 3.4, 2.9, 2.7, -90, 170, 16),
            (7.2, 5.4),
            (4.8, 5.4),
        ],
        ([(3.4, 0.7), (3.4, 6.1)], [(6, 0.9), (6, 5.4)], [(8.6, 0.7), (8.6, 6.1)]),
    ),
    "radii": Glyph(_free(), tuple([(6.0, 4.0), _at(2 * math.pi * i / 8)] for i in range(8))),
    "ties": Glyph(_FIVE, ([_FIVE[0], _FIVE[2]], [_FIVE[0], _FIVE[3]])),
    "coordinates": Glyph(_FIVE, ([(0.4, 7.8), (11.6, 7.8)], *([(x, y), (x, 7.8)] for x, y in _FIVE[1:4]))),
    "traverse": Glyph(_FIVE, ([(3.4, 2.6), (4.0, 0.8), (2.2, 1.6)], [(8.8, 0.5), (10.6, 1.6), (8.6, 2.3)])),
    "compound": Glyph(
        [(0.8, 3), (6, 3), *_arc(8, 4.9, 3.2, 3.0, -128, 256, 20), (6, 7), (0.8, 7)],
        (),
        _round(8.2, 4.9, 1.2, 1.1),
    ),
    "twice": Glyph(_round(5.2, 4, 4.2, 3.2), (_round(6.8, 4, 4.2, 3.2),)),
}


def glyph(method: str, size: float = 48) -> ft.Control:
    """The drawing of a way of measuring; an irregular green for one that has none."""
    drawn = GLYPHS.get(method) or Glyph(_free())
    scale = size / _WIDE

    def path(points: Line, closed: bool) -> list[cv.Path.PathElement]:
        (x, y), *rest = points
        elements: list[cv.Path.PathElement] = [cv.Path.MoveTo(x * scale, y * scale)]
        elements += [cv.Path.LineTo(a * scale, b * scale) for a, b in rest]
        return [*elements, cv.Path.Close()] if closed else elements

    def pen(colour: str, width: float) -> ft.Paint:
        return ft.Paint(style=ft.PaintingStyle.STROKE, color=colour, stroke_width=width)

    fill = ft.Paint(style=ft.PaintingStyle.FILL, color=ft.Colors.PRIMARY_CONTAINER)
    shapes: list[cv.Shape] = [cv.Path(path(drawn.edge, True), paint=fill)]
    shapes.append(cv.Path(path(drawn.edge, True), paint=pen(ft.Colors.PRIMARY, 2)))
    if drawn.hole:
        paper = ft.Paint(style=ft.PaintingStyle.FILL, color=ft.Colors.SURFACE_CONTAINER)
        shapes += [cv.Path(path(drawn.hole, True), paint=paper)]
        shapes += [cv.Path(path(drawn.hole, True), paint=pen(ft.Colors.PRIMARY, 1.5))]
    shapes += [cv.Path(path(line, False), paint=pen(ft.Colors.TERTIARY, 1.5)) for line in drawn.lines]
    return cv.Canvas(shapes, width=size, height=size * _HIGH / _WIDE)
