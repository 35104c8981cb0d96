"""The sketch on screen: the same strokes and labels as on paper, drawn on a canvas."""

from __future__ import annotations

import flet as ft
import flet.canvas as cv

from logic.measure.outline import Outline
from logic.report.drawing import Label, Stroke, draw_sketch
from mobile_app.parts import look

_WIDTH, _HEIGHT, _TEXT = 300.0, 270.0, 15.0
_PENS = {"edge": (ft.Colors.PRIMARY, 4.0), "hole": (ft.Colors.PRIMARY, 2.5)}


def sketch(outline: Outline, system: str) -> ft.Control:
    """The outline with its dimensions, a scale bar, and north where known."""
    drawn = draw_sketch(outline, _WIDTH, _HEIGHT, system=system, text_size=_TEXT)
    shapes: list[cv.Shape] = []
    for mark in drawn.marks:
        shapes += _stroke(mark) if isinstance(mark, Stroke) else _label(mark)
    return ft.Semantics(
        image=True,
        label=f"Sketch to scale: {outline.area.text_with_margin(system)}",
        content=ft.Row(
            [cv.Canvas(shapes, width=_WIDTH, height=_HEIGHT)], alignment=ft.MainAxisAlignment.CENTER
        ),
    )


def _stroke(mark: Stroke) -> list[cv.Shape]:
    colour, width = _PENS.get(mark.role, (ft.Colors.ON_SURFACE_VARIANT, 1.5))
    first, *rest = mark.points
    elements: list[cv.Path.PathElement] = [cv.Path.MoveTo(*first), *(cv.Path.LineTo(*p) for p in rest)]
    if mark.closed:
        elements.append(cv.Path.Close())
    shapes: list[cv.Shape] = []
    if mark.role in ("edge", "hole"):
        filling = ft.Colors.PRIMARY_CONTAINER if mark.role == "edge" else ft.Colors.SURFACE_CONTAINER
        shapes.append(cv.Path(elements, paint=ft.Paint(style=ft.PaintingStyle.FILL, color=filling)))
    paint = ft.Paint(style=ft.PaintingStyle.STROKE, color=colour, stroke_width=width)
    shapes.append(cv.Path(list(elements), paint=paint))
    return shapes


def _label(mark: Label) -> list[cv.Shape]:
    left, top, right, bottom = mark.box
    middle = ((left + right) / 2, (top + bottom) / 2)
    under = cv.Rect(
        left,
        top,
        right - left,
        bottom - top,
        border_radius=3,
        paint=ft.Paint(
            style=ft.PaintingStyle.FILL,
            color=ft.Colors.PRIMARY_CONTAINER if mark.inside else ft.Colors.SURFACE_CONTAINER,
        ),
    )
    style = ft.TextStyle(size=mark.size, color=ft.Colors.ON_SURFACE, font_family=look.FAMILY)
    return [under, cv.Text(*middle, mark.text, style=style, alignment=ft.Alignment.CENTER)]
