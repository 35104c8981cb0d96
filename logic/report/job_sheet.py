"""The job sheet: for the day itself, in big type, with boxes to tick and lines to fill in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.platypus import Flowable, KeepTogether, Spacer

from logic.figure import Figure
from logic.report import style
from logic.report.content import Cover
from logic.report.paper import Progress, Watch
from logic.report.writer import PLAIN, Writer, table
from logic.units import text_of

_BOX = 12.0


@dataclass(frozen=True)
class JobStep:
    """One step of the day: what to do, what to weigh out or set, and what to mind."""

    name: str
    figures: tuple[Figure, ...] = ()
    mind: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class JobSheetData(Cover):
    """A job sheet. bring: (what, how much in words); confidence: how sure an amount has to be enough."""

    steps: tuple[JobStep, ...]
    bring: tuple[tuple[str, str], ...] = ()
    notes: str = ""
    area: Figure | None = None
    confidence: float = 0.9

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that a person typed."""
        steps = tuple(text for step in self.steps for text in (step.name, *step.mind))
        return (*super().texts, *steps, *(text for pair in self.bring for text in pair), self.notes)


def job_sheet(data: JobSheetData, progress: Progress | None = None, watch: Watch | None = None) -> bytes:
    """The job sheet as a PDF file."""
    return JobSheetWriter(data).file(progress, watch)


class TickBox(Flowable):  # type: ignore[misc]
    """A box to tick."""

    def __init__(self, size: float = _BOX) -> None:
        super().__init__()
        self.width = self.height = size

    def draw(self) -> None:
        """Called by reportlab."""
        self.canv.setStrokeColor(style.INK)
        self.canv.setLineWidth(1.1)
        self.canv.rect(0, 0, self.width, self.height, stroke=1, fill=0)


class JobSheetWriter(Writer):
    """The story of the job sheet."""

    def __init__(self, data: JobSheetData) -> None:
        super().__init__(data)
        self.data = data
        self.title = self.words.job_sheet

    def body(self) -> Iterator[Flowable]:
        """What to bring, then the steps, then room for notes."""
        words, data = self.words, self.data
        if data.area is not None:
            yield Spacer(0, 6)
            yield from self.tiles([data.area])
        if data.notes.strip():
            yield from self.heading(words.notes)
            yield self.p(data.notes, style.BIG)
        if data.bring:
            yield from self.heading(words.bring)
            yield self._ticked(
                [[self.p(a, style.BIG_NAME), self.p(b, style.BIG_VALUE)] for a, b in data.bring]
            )
        yield from self.heading(words.steps)
        for number, step in enumerate(data.steps, start=1):
            yield from self._step(number, step)
        yield KeepTogether([*self.heading(words.done_notes), *self._blank_lines(4)])

    def _step(self, number: int, step: JobStep) -> Iterator[Flowable]:
        words, wide = self.words, self.page.measure
        title = f"{number}  {step.name}"
        head = table(
            [[TickBox(16), self.p(title, style.STEP)]],
            [26, wide - 26],
            [*PLAIN, ("TOPPADDING", (0, 0), (0, 0), 1.5)],
        )
        parts: list[Flowable] = [self.mark(title, 1), Spacer(0, 8), head]
        rows = [[self.p(f.name, style.BIG_NAME), self._amount(f)] for f in step.figures]
        if rows:
            parts.append(self._ticked(rows[:4]))
        yield KeepTogether(parts)
        if rows[4:]:
            yield self._ticked(rows[4:])
        yield Spacer(0, 4)
        for sentence in step.mind:
            yield self.p(f"{words.watch}: {sentence}", style.SMALL)
        labels = [self.p(text, style.LABEL) for text in (words.started, words.finished, words.people)]
        under = [("LINEBELOW", (column, 0), (column, 0), 0.5, style.RULE) for column in range(3)]
        pad = [("TOPPADDING", (0, 0), (-1, -1), 8), ("BOTTOMPADDING", (0, 0), (-1, -1), 5)]
        yield table([labels], [wide * 0.36, wide * 0.36, wide * 0.28], [*PLAIN, *pad, *under])

    def _amount(self, figure: Figure) -> list[Flowable]:
        system, sure = self.data.system, self.data.confidence
        shown: list[Flowable] = [self.p(figure.text(system), style.BIG_VALUE)]
        if figure.order and figure.plus_minus > 0:
            amount = text_of(figure.at_least(sure), system)
            shown.append(self.p(self.words.allow.format(amount=amount), style.SMALL))
        return shown

    def _ticked(self, rows: Sequence[Sequence[Any]]) -> Flowable:
        wide = self.page.measure
        cells = [[*row, TickBox()] for row in rows]
        commands = [
            *PLAIN,
            ("TOPPADDING", (0, 0), (-1, -1), 4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
            ("LEFTPADDING", (0, 0), (0, -1), 26),
            ("RIGHTPADDING", (0, 0), (-2, -1), 6),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
            ("LINEBELOW", (0, 0), (-1, -1), 0.4, style.RULE),
        ]
        return self.rows(cells, [wide * 0.52, wide * 0.48 - 20, 20], commands)

    def _blank_lines(self, count: int) -> list[Flowable]:
        rows = [[""]] * count
        under = ("LINEBELOW", (0, 0), (-1, -1), 0.5, style.RULE)
        return [table(rows, [self.page.measure], [*PLAIN, under], rowHeights=[24] * count)]
