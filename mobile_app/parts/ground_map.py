"""The sketch as a map: what was found where, and a tap on it says where something is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import flet as ft
import flet.canvas as cv

from logic.measure.outline import Outline
from logic.report.drawing import Sketch, Stroke, draw_sketch, rough_width
from logic.survey.kind import Line
from mobile_app.parts import look
from mobile_app.parts.sketch import shapes_of

_HEIGHT, _TEXT, _NARROWEST = 270.0, 16.0, 240.0
_DISC = 15.0


@dataclass(frozen=True)
class Pin:
    """Something found at a place [m]. text: what is written there; chosen: the one in hand."""

    x: float
    y: float
    text: str
    chosen: bool = False


@ft.component
def GroundMap(
    outline: Outline,
    system: str,
    pins: Sequence[Pin],
    lines: Sequence[Line] = (),
    put: Callable[[float, float], None] | None = None,
) -> ft.Control:
    """The outline to scale with its pins. lines: stretches on it; put(x, y): it was tapped there [m]."""
    width, set_width = ft.use_state(_NARROWEST)
    drawn = draw_sketch(replace(outline, dimensions=()), width, _HEIGHT, system=system, text_size=_TEXT)
    view = _View.of(outline, drawn)
    shapes = shapes_of(drawn)
    for line in lines:
        shapes.append(_stretch([view.at(*point) for point in line.points]))
    for pin in sorted(pins, key=lambda one: one.chosen):
        shapes += _pin(pin, *view.at(pin.x, pin.y), width)
    said = "; ".join(pin.text for pin in pins) or "nothing placed yet"
    canvas = cv.Canvas(
        shapes, height=_HEIGHT, expand=True, on_resize=lambda e: set_width(max(_NARROWEST, round(e.width)))
    )
    picture = ft.Semantics(
        image=put is None,
        button=put is not None,
        label=f"Map of readings: {said}" if put is None else "Sketch: tap where the reading was taken",
        identifier="ground-map",
        content=ft.Row([canvas], height=_HEIGHT),
    )
    if put is None:
        return picture
    place = put

    def tapped(event: Any) -> None:
        if event.local_position is not None:
            place(*view.back(event.local_position.x, event.local_position.y))

    return ft.GestureDetector(picture, on_tap_up=tapped)


@dataclass(frozen=True)
class _View:
    """Where metres fall on the screen: at (0, 0) lies (left, top), and y goes up."""

    metre: float
    left: float
    top: float

    @staticmethod
    def of(outline: Outline, drawn: Sketch) -> _View:
        edge = next(mark for mark in drawn.marks if isinstance(mark, Stroke) and mark.role == "edge")
        (px, py), (x, y) = edge.points[0], outline.polygon[0]
        return _View(drawn.metre, px - x * drawn.metre, py + y * drawn.metre)

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.left + x * self.metre, self.top - y * self.metre

    def back(self, px: float, py: float) -> tuple[float, float]:
        return (px - self.left) / self.metre, (self.top - py) / self.metre


def _stretch(points: Sequence[tuple[float, float]]) -> cv.Shape:
    first, *rest = points
    elements: list[cv.Path.PathElement] = [cv.Path.MoveTo(*first), *(cv.Path.LineTo(*p) for p in rest)]
    pen = ft.Paint(style=ft.PaintingStyle.STROKE, color=ft.Colors.TERTIARY, stroke_width=7)
    return cv.Path(elements, paint=pen)


def _pin(pin: Pin, x: float, y: float, width: float) -> list[cv.Shape]:
    """A disc with a number, or a slip with what was found, kept on the screen."""
    wide = max(2 * _DISC, rough_width(pin.text, _TEXT) + 12)
    x = min(max(x, wide / 2 + 1), width - wide / 2 - 1)
    y = min(max(y, _DISC + 1), _HEIGHT - _DISC - 1)
    fill = ft.Colors.PRIMARY if pin.chosen else ft.Colors.SURFACE_CONTAINER
    ink = ft.Colors.ON_PRIMARY if pin.chosen else ft.Colors.ON_SURFACE
    box = (x - wide / 2, y - _DISC, wide, 2 * _DISC)
    solid = ft.Paint(style=ft.PaintingStyle.FILL, color=fill)
    edge = ft.Paint(style=ft.PaintingStyle.STROKE, color=ft.Colors.PRIMARY, stroke_width=2)
    style = ft.TextStyle(size=_TEXT, color=ink, font_family=look.FAMILY, weight=ft.FontWeight.BOLD)
    return [
        cv.Rect(*box, border_radius=_DISC, paint=solid),
        cv.Rect(*box, border_radius=_DISC, paint=edge),
        cv.Text(x, y, pin.text, style=style, alignment=ft.Alignment.CENTER),
    ]
