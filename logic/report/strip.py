"""A strip of the calendar: bars for what is to be done when, under their months."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from logic.report.style import FONT, GREEN, INK, PAPER, QUIET, RULE, TINT, text_width
from logic.report.text import fitted
from logic.report.words import Words

_ROW, _HEAD, _SIZE = 15.0, 16.0, 8.0
#: Bars are told apart by their filling: work full, care pale, a time that is merely possible empty.
_FILLS = {"work": GREEN, "care": TINT, "possible": PAPER}


@dataclass(frozen=True)
class Bar:
    """Something from one day to another (both counted). kind: "work", "care" or "possible"."""

    name: str
    start: date
    end: date
    kind: str = "work"


class StripFlowable(Flowable):  # type: ignore[misc]
    """Bars over the months that they touch; those of one name share a row. Breaks between rows when a page is
    full."""

    def __init__(self, bars: Sequence[Bar], width: float, words: Words) -> None:
        super().__init__()
        named: dict[str, list[Bar]] = {}
        for bar in bars:
            named.setdefault(bar.name, []).append(bar)
        self.rows, self.words, self.width = tuple(map(tuple, named.values())), words, width
        self.first = min(bar.start for bar in bars).replace(day=1)
        self.past = next_month(max(bar.end for bar in bars))
        self.names = min(max(text_width(bar.name, _SIZE) for bar in bars) + 8, width * 0.36)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Called by reportlab."""
        self.height = _HEAD + _ROW * len(self.rows)
        return (self.width, self.height)

    def split(self, width: float, height: float) -> list[Flowable]:
        """Called by reportlab when the page is too short."""
        fit = int((height - _HEAD) // _ROW)
        if fit < 1 or fit >= len(self.rows):
            return []
        return [self._of(self.rows[:fit]), self._of(self.rows[fit:])]

    def _of(self, rows: Sequence[Sequence[Bar]]) -> Flowable:
        part = StripFlowable([bar for row in rows for bar in row], self.width, self.words)
        part.first, part.past, part.names = self.first, self.past, self.names
        return part

    def draw(self) -> None:
        """Called by reportlab with the canvas at the lower left corner."""
        canvas = self.canv
        top = self.height - _HEAD
        canvas.setLineWidth(0.4)
        for month in self._months():
            x = self._x(month)
            canvas.setStrokeColor(RULE)
            canvas.line(x, 0, x, self.height)
            room = self._x(next_month(month)) - x - 4
            name = self.words.months[month.month - 1]
            text = next((t for t in (name, name[:3], name[:1]) if text_width(t, _SIZE) <= room), "")
            canvas.setFillColor(QUIET)
            canvas.setFont(FONT, _SIZE)
            canvas.drawString(x + 2, top + 5, text)
        for place, row in enumerate(self.rows):
            self._row(row, top - _ROW * (place + 1))
        canvas.setStrokeColor(RULE)
        canvas.line(0, top, self.width, top)
        canvas.line(self.width, 0, self.width, self.height)

    def _row(self, row: Sequence[Bar], y: float) -> None:
        self.canv.setFillColor(INK)
        self.canv.setFont(FONT, _SIZE)
        self.canv.drawString(0, y + 4.5, fitted(row[0].name, self.names - 4, text_width, _SIZE))
        for bar in row:
            self._bar(bar, y)

    def _bar(self, bar: Bar, y: float) -> None:
        start, end = self._x(bar.start), self._x(bar.end + timedelta(days=1))
        _box(self.canv, bar.kind, start, y + 3, max(end - start, 2.5))

    def _x(self, day: date) -> float:
        share = (day - self.first).days / (self.past - self.first).days
        return self.names + share * (self.width - self.names)

    def _months(self) -> Iterator[date]:
        month = self.first
        while month < self.past:
            yield month
            month = next_month(month)


class KeyFlowable(Flowable):  # type: ignore[misc]
    """What the fillings of the bars mean, in a line. pairs: (kind of bar, words)."""

    def __init__(self, pairs: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self.pairs, self.width, self.height = pairs, 0.0, _ROW + 2

    def draw(self) -> None:
        """Called by reportlab with the canvas at the lower left corner."""
        x = 0.0
        for kind, words in self.pairs:
            _box(self.canv, kind, x, 2, 18.0)
            self.canv.setFillColor(QUIET)
            self.canv.setFont(FONT, _SIZE)
            self.canv.drawString(x + 23, 3.5, words)
            x += 23 + text_width(words, _SIZE) + 16


def _box(canvas: Canvas, kind: str, x: float, y: float, wide: float) -> None:
    """A bar of this kind."""
    canvas.setFillColor(_FILLS[kind])
    canvas.setStrokeColor(GREEN)
    canvas.setLineWidth(0.8)
    canvas.setDash(2, 1.5) if kind == "possible" else canvas.setDash()
    canvas.rect(x, y, wide, _ROW - 6, stroke=1, fill=1)
    canvas.setDash()
    canvas.setLineWidth(0.4)


def next_month(day: date) -> date:
    """The first of the month after."""
    return (day.replace(day=1) + timedelta(days=32)).replace(day=1)
