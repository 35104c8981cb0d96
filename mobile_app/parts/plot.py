"""A small plot: a value against depth below the surface, or the sun's path past what stands in its way."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import flet as ft
import flet.canvas as cv

from logic.report.axis import ticks
from logic.survey.kind import Line
from logic.units import plain_number
from mobile_app.parts import look

_HIGH, _NARROWEST, _LEFT, _FOOT, _EDGE = 230.0, 240.0, 52.0, 30.0, 12.0
#: What lies across and down: names of both axes, and whether the value grows downwards.
_AXES = {
    "depth": ("Resistance, kPa, across; depth, mm, down.", True),
    "sky": (
        "Degrees from north, across; degrees above the horizon, up. Filled: what stands in the way.",
        False,
    ),
}


@ft.component
def Plot(lines: Sequence[Line], on: str) -> ft.Control:
    """The lines as wide as there is room. on: as in logic.survey.kind.Line."""
    width, set_width = ft.use_state(_NARROWEST)
    words, down = _AXES[on]
    points = [point for line in lines for point in line.points]
    across = [0.0, 90.0, 180.0, 270.0, 360.0] if on == "sky" else ticks(0.0, max(x for x, _ in points), 3)
    along = [0.0, 30.0, 60.0, 90.0] if on == "sky" else ticks(0.0, max(y for _, y in points), 3)

    def at(x: float, y: float) -> tuple[float, float]:
        px = _LEFT + (x - across[0]) / (across[-1] - across[0]) * (width - _LEFT - 2 * _EDGE)
        share = max(0.0, y - along[0]) / (along[-1] - along[0])
        room = _HIGH - _FOOT - 2 * _EDGE
        return px, _EDGE + (share if down else 1 - share) * room

    shapes: list[cv.Shape] = []
    foot = _HIGH - _FOOT / 2 - 4
    for x in across:
        shapes.append(cv.Line(*at(x, along[0]), *at(x, along[-1]), paint=_pen(ft.Colors.OUTLINE_VARIANT, 1)))
        shapes.append(_letters(plain_number(x), at(x, along[0])[0], foot, ft.Alignment.CENTER))
    for y in along:
        shapes.append(
            cv.Line(*at(across[0], y), *at(across[-1], y), paint=_pen(ft.Colors.OUTLINE_VARIANT, 1))
        )
        shapes.append(_letters(plain_number(y), _LEFT - 8, at(across[0], y)[1], ft.Alignment.CENTER_RIGHT))
    for line in lines:
        if line.name == "obstacle":
            shapes += [_block([at(*point) for point in piece]) for piece in _within(line)]
        else:
            shapes += _line([at(*point) for point in line.points], squares=on == "depth")
    canvas = cv.Canvas(
        shapes, height=_HIGH, expand=True, on_resize=lambda e: set_width(max(_NARROWEST, round(e.width)))
    )
    picture = ft.Semantics(image=True, label=words, content=ft.Row([canvas], height=_HIGH))
    return look.stack(picture, look.quiet(words), spacing=4)


def _within(line: Line) -> list[list[tuple[float, float]]]:
    """An obstacle between north and north again; one that lies across north is two."""
    bearings = [x for x, _ in line.points]
    left, right, high = min(bearings), max(bearings), max(y for _, y in line.points)
    spans = [(left, min(right, 360.0)), *([(0.0, right - 360.0)] if right > 360 else [])]
    return [[(a, 0.0), (a, high), (b, high), (b, 0.0)] for a, b in spans]


def _block(places: Sequence[tuple[float, float]]) -> cv.Shape:
    first, *rest = places
    elements: list[cv.Path.PathElement] = [cv.Path.MoveTo(*first), *(cv.Path.LineTo(*p) for p in rest)]
    fill = ft.Paint(style=ft.PaintingStyle.FILL, color=ft.Colors.OUTLINE)
    return cv.Path([*elements, cv.Path.Close()], paint=fill)


def _line(places: Sequence[tuple[float, float]], squares: bool) -> list[cv.Shape]:
    """A line from point to point, not drawn where it jumps back across north."""
    drawn: list[cv.Shape] = [
        cv.Line(*a, *b, paint=_pen(ft.Colors.PRIMARY, 3))
        for a, b in pairwise(places)
        if squares or b[0] >= a[0]
    ]
    if squares:
        ink = ft.Paint(style=ft.PaintingStyle.FILL, color=ft.Colors.ON_SURFACE)
        drawn += [cv.Rect(x - 5, y - 5, 10, 10, paint=ink) for x, y in places]
    return drawn


def _letters(text: str, x: float, y: float, alignment: ft.Alignment) -> cv.Shape:
    style = ft.TextStyle(size=look.LABEL, color=ft.Colors.ON_SURFACE_VARIANT, font_family=look.FAMILY)
    return cv.Text(x, y, text, style=style, alignment=alignment)


def _pen(colour: str, width: float) -> ft.Paint:
    return ft.Paint(style=ft.PaintingStyle.STROKE, color=colour, stroke_width=width)
