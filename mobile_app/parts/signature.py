"""A field to sign in with a finger, and the signature drawn again: strokes as shares of the field's width."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import flet as ft
import flet.canvas as cv
from flet.components.hooks.use_ref import MutableRef

from mobile_app.parts import look

HEIGHT = 0.45  # of the field, as a share of its width
_STEP = 0.004  # share of the width that the finger goes before another point is kept

Point = tuple[float, float]
Stroke = tuple[Point, ...]
Strokes = tuple[Stroke, ...]


@ft.component
def SignField(strokes: Strokes, done: Callable[[Strokes], None]) -> ft.Control:
    """The field. strokes: what stands in it; done: called with all strokes each time the finger is lifted."""
    drawn, set_drawn = ft.use_state(strokes)
    width, set_width = ft.use_state(280.0)
    now: MutableRef[list[Stroke]] = ft.use_ref(lambda: list(strokes))
    touched: MutableRef[Point] = ft.use_ref(lambda: (0.0, 0.0))

    def show(all_of_them: list[Stroke], lifted: bool = False) -> None:
        now.current = all_of_them
        set_drawn(tuple(all_of_them))
        if lifted:
            done(tuple(all_of_them))

    def touch(event: ft.DragDownEvent[Any]) -> None:
        touched.current = _share(event.local_position, width)

    def start(event: ft.DragStartEvent[Any]) -> None:
        first = touched.current or (0.0, 0.0)
        show([*(now.current or ()), (first, _share(event.local_position, width))])

    def go_on(event: ft.DragUpdateEvent[Any]) -> None:
        if not now.current:
            return
        *others, stroke = now.current
        point = _share(event.local_position, width)
        if abs(point[0] - stroke[-1][0]) + abs(point[1] - stroke[-1][1]) >= _STEP:
            show([*others, (*stroke, point)])

    def lift(_: Any) -> None:
        show(list(now.current or ()), lifted=True)

    def dot(event: ft.TapEvent[Any]) -> None:
        if event.local_position is not None:
            show([*(now.current or ()), (_share(event.local_position, width),)], lifted=True)

    pad = ft.Container(
        cv.Canvas(_shapes(drawn, width, ft.Colors.ON_SURFACE), width=width, height=width * HEIGHT),
        height=width * HEIGHT,
        bgcolor=ft.Colors.SURFACE_CONTAINER,
        border=ft.Border.all(2, ft.Colors.OUTLINE),
        border_radius=8,
        on_size_change=lambda e: set_width(max(120.0, float(round(e.width)))),
    )
    return ft.Semantics(
        label="Sign here with a finger",
        identifier="sign-here",
        # Drags of both directions, not a pan: a pan would lose upright strokes to the page, which scrolls.
        content=ft.GestureDetector(
            pad,
            drag_interval=15,
            on_tap_up=dot,
            on_horizontal_drag_down=touch,
            on_horizontal_drag_start=start,
            on_horizontal_drag_update=go_on,
            on_horizontal_drag_end=lift,
            on_vertical_drag_down=touch,
            on_vertical_drag_start=start,
            on_vertical_drag_update=go_on,
            on_vertical_drag_end=lift,
        ),
    )


@ft.component
def Signed(strokes: Sequence[Any], name: str) -> ft.Control:
    """A signature as it was drawn."""
    width, set_width = ft.use_state(240.0)
    kept = tuple(tuple((float(x), float(y)) for x, y in stroke) for stroke in strokes)
    return ft.Semantics(
        image=True,
        label=f"Signature of {name}",
        content=ft.Container(
            cv.Canvas(_shapes(kept, width, ft.Colors.ON_SURFACE), width=width, height=width * HEIGHT),
            height=width * HEIGHT,
            on_size_change=lambda e: set_width(max(120.0, float(round(e.width)))),
        ),
    )


def sign_field(key: str, strokes: Strokes, done: Callable[[Strokes], None]) -> ft.Control:
    """A SignField under a key of its own."""
    return look.keyed(f"sign-{key}", SignField, strokes, done)


def _share(place: Any, width: float) -> Point:
    """A place in the field as shares of its width, within the field."""
    x, y = place.x / width, place.y / width
    return round(min(1.0, max(0.0, x)), 4), round(min(HEIGHT, max(0.0, y)), 4)


def _shapes(strokes: Sequence[Sequence[Point]], width: float, colour: str) -> list[cv.Shape]:
    pen = ft.Paint(
        style=ft.PaintingStyle.STROKE,
        color=colour,
        stroke_width=3,
        stroke_cap=ft.StrokeCap.ROUND,
        stroke_join=ft.StrokeJoin.ROUND,
    )
    base = cv.Line(
        width * 0.06,
        width * HEIGHT * 0.78,
        width * 0.94,
        width * HEIGHT * 0.78,
        paint=ft.Paint(color=ft.Colors.OUTLINE_VARIANT, stroke_width=1.5),
    )
    shapes: list[cv.Shape] = [base]
    for stroke in strokes:
        (x, y), *rest = [(px * width, py * width) for px, py in stroke]
        rest = rest or [(x + 0.5, y)]
        elements: list[cv.Path.PathElement] = [
            cv.Path.MoveTo(x, y),
            *(cv.Path.LineTo(*point) for point in rest),
        ]
        shapes.append(cv.Path(elements, paint=pen))
    return shapes
