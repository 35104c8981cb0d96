"""The season plan: the year at a glance as a strip, and month by month what is done and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, KeepTogether, Spacer

from logic.report import style
from logic.report.content import Cover
from logic.report.paper import Progress, Watch
from logic.report.strip import Bar, StripFlowable
from logic.report.writer import PLAIN, Writer


@dataclass(frozen=True)
class PlanItem:
    """Something in the season, from day to day. kind: "work", "care" or "possible"; note: a sentence."""

    name: str
    start: date
    end: date
    kind: str = "work"
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class SeasonData(Cover):
    """A season plan."""

    items: tuple[PlanItem, ...]
    notes: str = ""

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that a person typed."""
        return (*super().texts, *(t for item in self.items for t in (item.name, item.note)), self.notes)


def season_plan(data: SeasonData, progress: Progress | None = None, watch: Watch | None = None) -> bytes:
    """The season plan as a PDF file."""
    return SeasonWriter(data).file(progress, watch)


class SeasonWriter(Writer):
    """The story of the season plan."""

    def __init__(self, data: SeasonData) -> None:
        super().__init__(data)
        self.data = data
        self.title = self.words.season

    def body(self) -> Iterator[Flowable]:
        """The strip, then the months in order."""
        words, data = self.words, self.data
        items = sorted(data.items, key=lambda item: (item.start, item.end))
        if items:
            bars = [Bar(self.ink.line(i.name) or "–", i.start, i.end, i.kind) for i in items]
            yield from self.heading(words.season_strip)
            yield StripFlowable(bars, self.page.measure, words)
            yield from self.heading(words.season_list)
        month = None
        for item in items:
            parts: list[Flowable] = []
            if (item.start.year, item.start.month) != month:
                month = (item.start.year, item.start.month)
                parts += self.heading(f"{words.months[month[1] - 1]} {month[0]}", 1)
            yield KeepTogether([*parts, self._item(item)])
        if data.notes.strip():
            yield from self.heading(words.notes)
            yield self.p(data.notes)
        yield Spacer(0, 1)

    def _item(self, item: PlanItem) -> Flowable:
        wide = self.page.measure
        what = [self.p(item.name, style.STRONG)]
        if item.note.strip():
            what.append(self.p(item.note, style.FACT))
        row = [[self.p(self.words.days(item.start, item.end), style.FACT), what]]
        pad = [("TOPPADDING", (0, 0), (-1, -1), 3), ("BOTTOMPADDING", (0, 0), (-1, -1), 3)]
        return self.rows(row, [wide * 0.36, wide * 0.64], [*PLAIN, *pad])
