"""The core out of the ground on screen: its layers to scale, told apart by hatching, numbered and named."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import flet as ft
import flet.canvas as cv

from logic.survey.kind import Layer
from logic.units import quantity, text_of
from mobile_app.parts import look

_CORE, _HIGH, _DISC, _LEFT = 84.0, 240.0, 12.0, 2.0
_WIDTH = _LEFT + _CORE + 44.0


def profile(layers: Sequence[Layer], system: str) -> ft.Control:
    """The layers from the surface down, and their names beside or below."""
    ordered = sorted(layers, key=lambda layer: layer.top)
    names = [f"{place}. {layer.name}, {_depths(layer, system)}" for place, layer in enumerate(ordered, 1)]
    core = ft.Semantics(
        image=True,
        label=f"The core from the surface down: {'; '.join(names)}",
        identifier="profile",
        content=cv.Canvas(_core(ordered), width=_WIDTH, height=_HIGH),
    )
    lines: list[ft.Control] = [
        ft.Text(
            spans=[
                ft.TextSpan(f"{place}  {layer.name}\n", ft.TextStyle(weight=ft.FontWeight.BOLD)),
                ft.TextSpan(_depths(layer, system), ft.TextStyle(color=ft.Colors.ON_SURFACE_VARIANT)),
            ],
            size=look.LABEL,
        )
        for place, layer in enumerate(ordered, 1)
    ]
    return ft.Row(
        [core, ft.Column(lines, spacing=10, tight=True)],
        wrap=True,
        spacing=8,
        run_spacing=8,
        vertical_alignment=ft.CrossAxisAlignment.START,
    )


def _depths(layer: Layer, system: str) -> str:
    end = text_of(quantity(layer.bottom, "mm"), system)
    if layer.top <= 0:
        return f"surface to {end}"
    return f"{text_of(quantity(layer.top, 'mm'), system)} to {end}"


def _core(layers: Sequence[Layer]) -> list[cv.Shape]:
    depth = max((layer.bottom for layer in layers), default=1.0) or 1.0
    top, scale = 8.0, (_HIGH - 12) / depth
    shapes: list[cv.Shape] = []
    lowest = top + _DISC - (2 * _DISC + 2)
    for place, layer in enumerate(layers):
        upper, lower = top + layer.top * scale, top + layer.bottom * scale
        shapes += _HATCHES[place % len(_HATCHES)](upper, lower)
        shapes.append(cv.Rect(_LEFT, upper, _CORE, lower - upper, paint=_pen(ft.Colors.ON_SURFACE, 1.5)))
        after = len(layers) - place - 1
        y = max((upper + lower) / 2, lowest + 2 * _DISC + 2)
        lowest = y = min(y, _HIGH - _DISC - 2 - after * (2 * _DISC + 2))
        shapes += _number(place + 1, (upper + lower) / 2, y)
    shapes.append(cv.Line(0, top, _LEFT + _CORE + 6, top, paint=_pen(ft.Colors.PRIMARY, 5)))
    return shapes


def _number(place: int, middle: float, y: float) -> list[cv.Shape]:
    x = _LEFT + _CORE + 28
    style = ft.TextStyle(
        size=look.LABEL, color=ft.Colors.ON_SURFACE, font_family=look.FAMILY, weight=ft.FontWeight.BOLD
    )
    return [
        cv.Line(_LEFT + _CORE + 2, middle, x - 10, y, paint=_pen(ft.Colors.OUTLINE, 1.5)),
        cv.Text(x, y, str(place), style=style, alignment=ft.Alignment.CENTER),
    ]


def _pen(colour: str, width: float) -> ft.Paint:
    return ft.Paint(style=ft.PaintingStyle.STROKE, color=colour, stroke_width=width)


def _fill(colour: str, upper: float, lower: float) -> cv.Shape:
    return cv.Rect(
        _LEFT,
        upper,
        _CORE,
        lower - upper,
        paint=ft.Paint(style=ft.PaintingStyle.FILL, color=colour),
    )


def _slant(lean: float, apart: float, upper: float, lower: float) -> list[cv.Shape]:
    """Lines at 45 degrees, to the right for lean 1 and to the left for -1, cut off at the sides."""
    high = lower - upper
    shapes = [_fill(ft.Colors.PRIMARY_CONTAINER if lean > 0 else ft.Colors.SURFACE_CONTAINER, upper, lower)]
    x = -high if lean > 0 else 0.0
    while x < _CORE + (high if lean < 0 else 0):
        edges = sorted((-x * lean, (_CORE - x) * lean))
        start, end = max(0.0, edges[0]), min(high, edges[1])
        if end > start:
            pen = _pen(ft.Colors.OUTLINE, 1)
            ends = (_LEFT + x + lean * start, lower - start, _LEFT + x + lean * end, lower - end)
            shapes.append(cv.Line(*ends, paint=pen))
        x += apart
    return shapes


def _dots(upper: float, lower: float) -> list[cv.Shape]:
    shapes = [_fill(ft.Colors.SURFACE_CONTAINER, upper, lower)]
    ink = ft.Paint(style=ft.PaintingStyle.FILL, color=ft.Colors.OUTLINE)
    y, odd = upper + 5, False
    while y < lower - 2:
        x = 5.0 + 5 * odd
        while x < _CORE - 2:
            shapes.append(cv.Circle(_LEFT + x, y, 1.3, paint=ink))
            x += 10
        y, odd = y + 8, not odd
    return shapes


def _level(upper: float, lower: float) -> list[cv.Shape]:
    shapes = [_fill(ft.Colors.SURFACE_CONTAINER_HIGH, upper, lower)]
    y = upper + 6
    while y < lower - 1:
        shapes.append(cv.Line(_LEFT, y, _LEFT + _CORE, y, paint=_pen(ft.Colors.OUTLINE, 1)))
        y += 7
    return shapes


_HATCHES: tuple[Callable[[float, float], list[cv.Shape]], ...] = (
    lambda upper, lower: _slant(1, 7, upper, lower),
    _dots,
    _level,
    lambda upper, lower: [_fill(ft.Colors.OUTLINE_VARIANT, upper, lower)],
    lambda upper, lower: _slant(-1, 10, upper, lower),
    lambda upper, lower: [_fill(ft.Colors.SURFACE, upper, lower)],
)
