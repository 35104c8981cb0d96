"""A line over the visits: height of cut, cover, organic matter. Told apart by shape, so that it prints in
black."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from reportlab.platypus import Flowable

from logic.figure import Figure
from logic.report.axis import ticks
from logic.report.style import FONT, GREEN, INK, QUIET, RULE, TINT, text_width
from logic.report.words import Words
from logic.units import nominal, plain_number, shown_unit, spread, unit_of

_SIZE = 7.5


@dataclass(frozen=True)
class Chart:
    """One figure over the visits, oldest first. wanted: the figures between which it ought to lie."""

    title: str
    points: tuple[tuple[date, Figure], ...]
    wanted: tuple[Figure, Figure] | None = None
    note: str = ""


def values_text(chart: Chart, system: str, words: Words) -> str:
    """Every point in words, to stand under the chart: "14 Sep 2026: 12 mm"."""
    parts = (
        f"{words.short_day(day)}: {found.text_with_margin(system)}"
        for day, found in sorted(chart.points, key=lambda p: p[0])
    )
    return " · ".join(parts)


class ChartFlowable(Flowable):  # type: ignore[misc]
    """A chart in width × height points, with a value axis at the left and days below."""

    def __init__(self, chart: Chart, width: float, height: float, system: str, words: Words) -> None:
        super().__init__()
        self.width, self.height, self.words = width, height, words
        self.points = sorted(chart.points, key=lambda point: point[0])
        self._unit, self.label = shown_unit(self.points[0][1].unit, system)
        self._band = [self._value(f)[0] for f in chart.wanted] if chart.wanted else []
        self.ticks = ticks(*self._edges())

    def _value(self, found: Figure) -> tuple[float, float]:
        value: Any = found.value.to(unit_of(self._unit)).magnitude
        return nominal(value), spread(value)

    def _edges(self) -> tuple[float, float]:
        found = [self._value(figure) for _, figure in self.points]
        low = min(*(value - margin for value, margin in found), *self._band, found[0][0])
        high = max(*(value + margin for value, margin in found), *self._band, found[0][0])
        return low, high

    def draw(self) -> None:
        """Called by reportlab with the canvas at the lower left corner."""
        texts = [f"{plain_number(tick)} {self.label}".strip() for tick in self.ticks]
        left = max(text_width(text, _SIZE) for text in texts) + 6
        self._frame = (left, 16.0, self.width - left - 8, self.height - 24)
        canvas = self.canv
        if self._band:
            low, high = (self._y(value) for value in sorted(self._band))
            canvas.setFillColor(TINT)
            canvas.rect(left, low, self._frame[2], max(high - low, 1), stroke=0, fill=1)
        canvas.setFont(FONT, _SIZE)
        canvas.setLineWidth(0.4)
        for tick, text in zip(self.ticks, texts, strict=True):
            canvas.setStrokeColor(RULE)
            canvas.line(left, self._y(tick), left + self._frame[2], self._y(tick))
            canvas.setFillColor(QUIET)
            canvas.drawRightString(left - 4, self._y(tick) - 2.5, text)
        self._days()
        self._line()

    def _x(self, day: date) -> float:
        first, last = self.points[0][0], self.points[-1][0]
        share = (day - first).days / (last - first).days if last > first else 0.5
        return self._frame[0] + 8 + share * (self._frame[2] - 16)

    def _y(self, value: float) -> float:
        low, high = self.ticks[0], self.ticks[-1]
        return self._frame[1] + (value - low) / (high - low) * self._frame[3]

    def _days(self) -> None:
        """The days below, those left out that would run into one that stands."""
        canvas = self.canv
        canvas.setFillColor(QUIET)
        ends = [self.points[-1][0], *(day for day, _ in self.points)]
        placed: list[tuple[float, float]] = []
        for day in dict.fromkeys(ends):
            text = self.words.short_day(day)
            wide = text_width(text, _SIZE)
            at = min(max(self._x(day), self._frame[0] + wide / 2), self.width - wide / 2)
            box = (at - wide / 2 - 3, at + wide / 2 + 3)
            if all(box[1] <= low or box[0] >= high for low, high in placed):
                placed.append(box)
                canvas.drawCentredString(at, 4, text)

    def _line(self) -> None:
        canvas = self.canv
        canvas.setStrokeColor(GREEN)
        canvas.setFillColor(INK)
        canvas.setLineWidth(1.3)
        places = [(self._x(day), *self._value(found)) for day, found in self.points]
        path = canvas.beginPath()
        path.moveTo(places[0][0], self._y(places[0][1]))
        for x, value, _ in places[1:]:
            path.lineTo(x, self._y(value))
        canvas.drawPath(path, stroke=1, fill=0)
        for x, value, margin in places:
            if margin:
                canvas.setLineWidth(0.7)
                canvas.line(x, self._y(value - margin), x, self._y(value + margin))
            canvas.rect(x - 2, self._y(value) - 2, 4, 4, stroke=0, fill=1)
