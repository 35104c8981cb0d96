"""The season plan: the year at a glance as a strip, and work by work when it suits and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from reportlab.platypus import Flowable, KeepTogether, Spacer

from logic.programme.season import GOOD, POSSIBLE, Month, Strip
from logic.report import style
from logic.report.content import Cover
from logic.report.paper import Progress, Watch
from logic.report.strip import Bar, KeyFlowable, StripFlowable, next_month
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
        """The strip, then each work with its times."""
        words, data = self.words, self.data
        by_name: dict[str, list[PlanItem]] = {}
        for item in sorted(data.items, key=lambda item: (item.start, item.end)):
            by_name.setdefault(item.name, []).append(item)
        if by_name:
            bars = [Bar(self.ink.line(i.name) or "–", i.start, i.end, i.kind) for i in data.items]
            yield from self.heading(words.season_strip)
            yield StripFlowable(bars, self.page.measure, words)
            yield KeyFlowable([(k, t) for k, t in words.season_key if any(b.kind == k for b in bars)])
            yield from self.heading(words.season_list)
        for items in by_name.values():
            yield KeepTogether([self._work(items)])
        if data.notes.strip():
            yield from self.heading(words.notes)
            yield self.p(data.notes)
        yield Spacer(0, 1)

    def _work(self, items: Sequence[PlanItem]) -> Flowable:
        """A work: its times by how well they suit, and the reason of the best of them."""
        wide, names = self.page.measure, dict(self.words.season_key)
        lines = []
        for kind in dict.fromkeys(
            item.kind for item in sorted(items, key=lambda i: list(names).index(i.kind))
        ):
            times = ", ".join(self.words.months_of(i.start, i.end) for i in items if i.kind == kind)
            text = f"{names[kind]}: {times}"
            lines.append(self.p(text[:1].upper() + text[1:], style.FACT))
        best = min(items, key=lambda i: list(names).index(i.kind))
        if best.note.strip():
            lines.append(self.p(best.note, style.SMALL))
        pad = [("TOPPADDING", (0, 0), (-1, -1), 4), ("BOTTOMPADDING", (0, 0), (-1, -1), 4)]
        over = ("LINEABOVE", (0, 0), (-1, 0), 0.4, style.RULE)
        row = [[self.p(items[0].name, style.STRONG), lines]]
        return self.rows(row, [wide * 0.3, wide * 0.7], [*PLAIN, *pad, over])
