"""A chart on screen: one figure over the visits, each day a square, its range a bar through it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import flet as ft
import flet.canvas as cv

from logic.report.axis import ticks
from logic.survey.history import Trend
from logic.units import plain_number, quantity, shown_unit, unit_of
from mobile_app.parts import look

_HIGH, _NARROWEST, _BELOW, _ABOVE = 190.0, 240.0, 28.0, 10.0
_LETTER = 9.5  # width of a letter of the axis, near enough


@ft.component
def TrendChart(trend: Trend, system: str) -> ft.Control:
    """The trend as wide as there is room."""
    width, set_width = ft.use_state(_NARROWEST)
    unit, label = shown_unit(trend.unit, system)

    def shown(value: float) -> float:
        return float(quantity(value, trend.unit).to(unit_of(unit)).magnitude)

    days = [point.day.toordinal() for point in trend.points]
    spans = [(shown(p.low), shown(p.value), shown(p.high)) for p in trend.points]
    marks = ticks(min(low for low, _, _ in spans), max(high for *_, high in spans), 3)
    texts = [f"{plain_number(mark)} {label}".strip() for mark in marks]
    left = max(len(text) for text in texts) * _LETTER + 6
    frame = (left, _ABOVE, width - left - 14, _HIGH - _ABOVE - _BELOW)

    def at(day: int, value: float) -> tuple[float, float]:
        share = (day - days[0]) / (days[-1] - days[0]) if days[-1] > days[0] else 0.5
        up = (value - marks[0]) / (marks[-1] - marks[0])
        return frame[0] + 8 + share * (frame[2] - 16), frame[1] + (1 - up) * frame[3]

    shapes: list[cv.Shape] = []
    for mark, text in zip(marks, texts, strict=True):
        y = at(days[0], mark)[1]
        shapes.append(cv.Line(left, y, left + frame[2], y, paint=_pen(ft.Colors.OUTLINE_VARIANT, 1)))
        shapes.append(_letters(text, left - 6, y, ft.Alignment.CENTER_RIGHT))
    shapes += _dates(trend, frame)
    places = [at(day, value) for day, (_, value, _) in zip(days, spans, strict=True)]
    for before, after in pairwise(places):
        shapes.append(cv.Line(*before, *after, paint=_pen(ft.Colors.PRIMARY, 3)))
    for day, (low, _, high), (x, y) in zip(days, spans, places, strict=True):
        shapes.append(cv.Line(x, at(day, low)[1], x, at(day, high)[1], paint=_pen(ft.Colors.PRIMARY, 2)))
        ink = ft.Paint(style=ft.PaintingStyle.FILL, color=ft.Colors.ON_SURFACE)
        shapes.append(cv.Rect(x - 5, y - 5, 10, 10, paint=ink))
    said = ", ".join(f"{p.day:%d %b %Y}: {plain_number(shown(p.value))} {label}" for p in trend.points)
    canvas = cv.Canvas(
        shapes, height=_HIGH, expand=True, on_resize=lambda e: set_width(max(_NARROWEST, round(e.width)))
    )
    return ft.Semantics(
        image=True,
        label=f"Chart of {trend.name}: {said}",
        identifier=f"chart-{trend.key}",
        content=ft.Row([canvas], height=_HIGH),
    )


def _dates(trend: Trend, frame: Sequence[float]) -> list[cv.Shape]:
    """The first day and the last below the ends of the line."""
    y = _HIGH - _BELOW / 2 + 2
    first, last = (f"{trend.points[place].day:%d %b %y}" for place in (0, -1))
    shapes = [_letters(last, frame[0] + frame[2] + 10, y, ft.Alignment.CENTER_RIGHT)]
    if first != last:
        shapes.append(_letters(first, frame[0] - 8, y, ft.Alignment.CENTER_LEFT))
    return shapes


def _letters(text: str, x: float, y: float, alignment: ft.Alignment) -> cv.Shape:
    style = ft.TextStyle(size=look.LABEL, color=ft.Colors.ON_SURFACE_VARIANT, font_family=look.FAMILY)
    return cv.Text(x, y, text, style=style, alignment=alignment)


def _pen(colour: str, width: float) -> ft.Paint:
    return ft.Paint(style=ft.PaintingStyle.STROKE, color=colour, stroke_width=width)
