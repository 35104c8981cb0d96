"""The season plan: the year at a glance as a strip, and month by month what is done and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from reportlab.platypus import Flowable, KeepTogether, Spacer

from logic.programme.season import GOOD, POSSIBLE, Month, Strip
from logic.report import style
from logic.report.content import Cover
from logic.report.paper import Progress, Watch
from logic.report.strip import Bar, StripFlowable, next_month
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


def season_items(found: Sequence[Strip], names: Mapping[str, str], first: date) -> tuple[PlanItem, ...]:
    """The months that suit each operation, for a year from the first of a month on.

    found: a strip for each operation; names: what each is called. Source: each strip's own.
    """
    items: list[PlanItem] = []
    for one in found:
        by_number = {month.number: month for month in one.months}
        run: list[tuple[date, Month]] = []
        start = first.replace(day=1)
        for _ in range(12):
            month = by_number[start.month]
            if run and (run[-1][1].state != month.state):
                items += _item(one, names, run)
                run = []
            run.append((start, month))
            start = next_month(start)
        items += _item(one, names, run)
    return tuple(items)


def _item(one: Strip, names: Mapping[str, str], run: Sequence[tuple[date, Month]]) -> list[PlanItem]:
    """A run of months in one state; nothing for months that don't suit."""
    start, month = run[0]
    kind = {GOOD: "work", POSSIBLE: "possible"}.get(month.state)
    if kind is None:
        return []
    end = next_month(run[-1][0]) - timedelta(days=1)
    return [PlanItem(names.get(one.operation, one.operation), start, end, kind, month.sentence)]


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
