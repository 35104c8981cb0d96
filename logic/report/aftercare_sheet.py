"""The aftercare sheet: what the customer does and when, a strip of the calendar and the sentences in large
type."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, Spacer

from logic.report import style
from logic.report.content import Cover
from logic.report.paper import Progress, Text, Watch
from logic.report.strip import Bar, StripFlowable
from logic.report.writer import PLAIN, Writer


@dataclass(frozen=True)
class Care:
    """One thing to do: a sentence, a few words for the strip, and when; start None: at all times."""

    sentence: str
    name: str = ""
    start: date | None = None
    end: date | None = None


@dataclass(frozen=True, kw_only=True)
class AftercareData(Cover):
    """An aftercare sheet. cautions: sentences; notes: a word of the contractor's own."""

    care: tuple[Care, ...]
    cautions: tuple[str, ...] = ()
    notes: str = ""

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that a person typed."""
        return (
            *super().texts,
            *(t for c in self.care for t in (c.sentence, c.name)),
            *self.cautions,
            self.notes,
        )


def aftercare_sheet(
    data: AftercareData, progress: Progress | None = None, watch: Watch | None = None
) -> bytes:
    """The aftercare sheet as a PDF file."""
    return AftercareWriter(data).file(progress, watch)


class AftercareWriter(Writer):
    """The story of the aftercare sheet."""

    def __init__(self, data: AftercareData) -> None:
        super().__init__(data)
        self.data = data
        self.title = self.words.aftercare_title

    def body(self) -> Iterator[Flowable]:
        """What has its days first, by day, then what holds at all times."""
        words, data = self.words, self.data
        yield Spacer(0, 8)
        yield self.p(words.aftercare_intro, style.BIG)
        dated = sorted((c for c in data.care if c.start), key=lambda c: c.start or date.min)
        named = [c for c in dated if c.name.strip()]
        if named:
            bars = [Bar(self.ink.line(c.name), c.start, c.end or c.start, "care") for c in named if c.start]
            yield Spacer(0, 6)
            yield StripFlowable(bars, self.page.measure, words)
            yield Spacer(0, 6)
        for care in dated:
            yield self._dated(care)
        always = [c.sentence for c in data.care if not c.start]
        yield from self.bullets(words.always if dated else words.aftercare, always, style.BIG_BULLET)
        if data.notes.strip():
            yield from self.heading(words.notes)
            yield self.p(data.notes, style.BIG)
        yield from self.bullets(words.cautions, [*data.cautions, words.cautions_general])

    def _dated(self, care: Care) -> Flowable:
        wide = self.page.measure
        assert care.start
        when = Text(self.ink.markup(self.words.days(care.start, care.end, short=True)), style.STRONG)
        row = [[when, self.p(care.sentence, style.BIG)]]
        pad = [
            ("TOPPADDING", (0, 0), (-1, -1), 5),
            ("RIGHTPADDING", (0, 0), (0, 0), 8),
            ("LINEABOVE", (0, 0), (-1, 0), 0.4, style.RULE),
        ]
        return self.rows(row, [wide * 0.3, wide * 0.7], [*PLAIN, *pad])
