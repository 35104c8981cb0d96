"""The sketch on screen: the same strokes and labels as on paper; a tap on a length opens it for a change."""

from __future__ import annotations

from collections.abc import Callable

import flet as ft
import flet.canvas as cv

from logic.measure.outline import Outline
from logic.report.drawing import Label, Sketch, Stroke, draw_sketch
from logic.report.places import thinned
from mobile_app.parts import look

_HEIGHT, _TEXT = 290.0, 16.0
_NARROWEST = 240.0
_PENS = {"edge": (ft.Colors.PRIMARY, 4.0), "hole": (ft.Colors.PRIMARY, 2.5)}
_REACH = 48.0  # least size of what is tapped
_FINE = 0.4  # px; a bend flatter than this is drawn straight: nobody sees it, and curves are sent faster


@ft.component
def SketchView(outline: Outline, system: str, pick: Callable[[str], None] | None = None) -> ft.Control:
    """The outline as wide as there is room, with its lengths, a scale bar, and north where known.

    pick(path): a length was tapped.
    """
    width, set_width = ft.use_state(_NARROWEST)
    drawn = draw_sketch(outline, width, _HEIGHT, system=system, text_size=_TEXT)
    shapes = shapes_of(drawn)
    canvas = cv.Canvas(
        shapes, height=_HEIGHT, expand=True, on_resize=lambda e: set_width(max(_NARROWEST, round(e.width)))
    )
    picture = ft.Semantics(
        image=True,
        label=f"Sketch to scale: {outline.area.text_with_margin(system)}",
        identifier="sketch",
        content=ft.Row([canvas], height=_HEIGHT),
    )
    handles = _handles(drawn, pick) if pick else []
    return ft.Stack([picture, *handles], height=_HEIGHT, clip_behavior=ft.ClipBehavior.NONE)


def shapes_of(drawn: Sketch) -> list[cv.Shape]:
    """The strokes and labels of a sketch in the app's colours."""
    shapes: list[cv.Shape] = []
    for mark in drawn.marks:
        shapes += _stroke(mark) if isinstance(mark, Stroke) else _label(mark)
    return shapes


def _handles(drawn: Sketch, pick: Callable[[str], None]) -> list[ft.Control]:
    """What is tapped over each lettered length."""

    def handle(mark: Label) -> ft.Control:
        left, top, right, bottom = mark.box
        wide, high = max(_REACH, right - left), max(_REACH, bottom - top)

        def tapped(_: object) -> None:
            pick(mark.field)

        x = min(max(0.0, (left + right - wide) / 2), drawn.width - wide)
        return ft.Container(
            ft.Semantics(
                button=True,
                label=f"{mark.text}: change it",
                exclude_semantics=True,
                on_tap=tapped,
                content=ft.Container(width=wide, height=high, on_click=tapped),
            ),
            left=x,
            top=max(0.0, (top + bottom - high) / 2),
            key=f"handle-{mark.field}",
        )

    return [handle(m) for m in drawn.marks if isinstance(m, Label) and m.field]


def _stroke(mark: Stroke) -> list[cv.Shape]:
    colour, width = _PENS.get(mark.role, (ft.Colors.ON_SURFACE_VARIANT, 1.5))
    first, *rest = thinned(mark.points, _FINE)
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
    style = ft.TextStyle(
        size=mark.size,
        color=ft.Colors.ON_SURFACE,
        font_family=look.FAMILY,
        weight=ft.FontWeight.BOLD if mark.field else ft.FontWeight.NORMAL,
    )
    return [under, cv.Text(*middle, mark.text, style=style, alignment=ft.Alignment.CENTER)]
