"""Pictures that belong to a work: the strips of its passes on the outline, the grading curve of a sand."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import flet as ft
import flet.canvas as cv

from logic.measure.outline import Outline
from logic.records.reckon import ground_of
from logic.units import nominal
from logic.works import going_over, sand_grading
from logic.works.operation import Worked
from mobile_app.parts import look

_WIDTH, _HEIGHT, _EDGE = 250.0, 190.0, 8.0  # of the narrowest screen
#: One pen for each pass, told apart by dashes too, so that it reads without colour.
_PENS: tuple[list[float] | None, ...] = (None, [9, 5], [2, 5], [9, 4, 2, 4])
_SIEVES = (0.05, 0.15, 0.25, 0.5, 1.0, 2.0, 3.4)


def picture(worked: Worked, outline: Outline, done: int | None = None) -> ft.Control | None:
    """The picture of a work, None for one that has none. done: passes made so far, drawn strong."""
    if worked.operation.key == "sand_grading":
        return _curve(sand_grading.curve_of(worked.values, "sieves").points)
    if worked.values.has("working_width") and worked.values.has("passes"):
        return _strips(worked, outline, done)
    return None


def _strips(worked: Worked, outline: Outline, done: int | None) -> ft.Control | None:
    passes = round(nominal(worked.values.passes))
    drawn = going_over.patterns(worked.values, ground_of(outline), passes)
    if not drawn:
        return None
    rings = (outline.polygon, *outline.pieces)
    xs, ys = zip(*(point for ring in rings for point in ring), strict=True)
    room = min(
        (_WIDTH - 2 * _EDGE) / max(max(xs) - min(xs), 1e-6),
        (_HEIGHT - 2 * _EDGE) / max(max(ys) - min(ys), 1e-6),
    )
    left = (_WIDTH - (max(xs) - min(xs)) * room) / 2

    def at(point: tuple[float, float]) -> tuple[float, float]:
        return left + (point[0] - min(xs)) * room, _EDGE + (max(ys) - point[1]) * room

    shapes: list[cv.Shape] = [_ring([at(p) for p in ring]) for ring in (*rings, *outline.holes)]
    for number, one in ((place // len(rings), one) for place, one in enumerate(drawn)):
        made = done is not None and number < done
        pen = ft.Paint(
            style=ft.PaintingStyle.STROKE,
            stroke_width=4 if made else 1.5,
            color=ft.Colors.PRIMARY
            if made
            else ft.Colors.ON_SURFACE_VARIANT
            if number % 2 == 0
            else ft.Colors.TERTIARY,
            stroke_dash_pattern=_PENS[number % len(_PENS)],
        )
        shapes += [cv.Line(*at(start), *at(end), paint=pen) for start, end in one.segments]
    said = f"{passes} pass" if passes == 1 else f"{passes} passes"
    words = f"Strips of {said}: the lines are the middle of each strip."
    if done is not None:
        words = f"{min(done, passes)} of {said} made: strong lines are done."
    return _canvas(shapes, words)


def _ring(points: Sequence[tuple[float, float]]) -> cv.Shape:
    first, *rest = points
    elements: list[cv.Path.PathElement] = [cv.Path.MoveTo(*first), *(cv.Path.LineTo(*p) for p in rest)]
    paint = ft.Paint(style=ft.PaintingStyle.STROKE, stroke_width=3, color=ft.Colors.PRIMARY)
    return cv.Path([*elements, cv.Path.Close()], paint=paint)


def _curve(points: Sequence[tuple[float, float]]) -> ft.Control:
    """Per cent finer against sieve size, the size on a log scale."""
    left, bottom, top, right = 40.0, _HEIGHT - 34, 12.0, _WIDTH - 10
    low, high = math.log10(_SIEVES[0]), math.log10(_SIEVES[-1])

    def at(size: float, percent: float) -> tuple[float, float]:
        x = left + (math.log10(max(size, 1e-3)) - low) / (high - low) * (right - left)
        return min(max(x, left), right), bottom - percent / 100 * (bottom - top)

    thin = ft.Paint(style=ft.PaintingStyle.STROKE, stroke_width=1, color=ft.Colors.OUTLINE_VARIANT)
    thick = ft.Paint(style=ft.PaintingStyle.STROKE, stroke_width=3, color=ft.Colors.PRIMARY)
    shapes: list[cv.Shape] = []
    for percent in (0, 50, 100):
        shapes.append(cv.Line(*at(_SIEVES[0], percent), *at(_SIEVES[-1], percent), paint=thin))
        shapes.append(_letter(f"{percent}", left - 20, at(1, percent)[1]))
    for size in _SIEVES[1:-1]:
        shapes.append(cv.Line(*at(size, 0), *at(size, 100), paint=thin))
        shapes.append(_letter(f"{size:g}", at(size, 0)[0], bottom + 16))
    ordered = sorted(points)
    shapes += [cv.Line(*at(*p), *at(*q), paint=thick) for p, q in pairwise(ordered)]
    return _canvas(shapes, "Per cent finer (up) against sieve in mm (across).")


def _letter(text: str, x: float, y: float) -> cv.Shape:
    style = ft.TextStyle(size=13, color=ft.Colors.ON_SURFACE, font_family=look.FAMILY)
    return cv.Text(x, y, text, style=style, alignment=ft.Alignment.CENTER)


def _canvas(shapes: list[cv.Shape], words: str) -> ft.Control:
    drawing = ft.Semantics(image=True, label=words, content=cv.Canvas(shapes, width=_WIDTH, height=_HEIGHT))
    row = ft.Row([drawing], alignment=ft.MainAxisAlignment.CENTER)
    return look.stack(row, look.quiet(words), spacing=4)
