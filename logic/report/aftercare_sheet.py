"""The aftercare sheet: what the customer does and when, a strip of the calendar and the sentences in large
type."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from reportlab.platypus import Flowable, Spacer

from logic.report import style
from logic.report.care import care_block
from logic.report.content import Care, Cover
from logic.report.paper import Progress, Watch
from logic.report.writer import Writer


@dataclass(frozen=True, kw_only=True)
class AftercareData(Cover):
    """An aftercare sheet. normal, ring: what is to be expected, and what is not; cautions: sentences; notes:
    a word of the contractor's own."""

    care: tuple[Care, ...]
    normal: tuple[str, ...] = ()
    ring: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    notes: str = ""

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that a person typed."""
        return (
            *super().texts,
            *(t for c in self.care for t in (c.sentence, c.name)),
            *self.normal,
            *self.ring,
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
        yield from care_block(self, data.care, style.STRONG, style.BIG, style.BIG_BULLET)
        yield from self.bullets(words.normal, data.normal, style.BIG_BULLET)
        yield from self.bullets(words.ring, data.ring, style.BIG_BULLET)
        if data.notes.strip():
            yield from self.heading(words.notes)
            yield self.p(data.notes, style.BIG)
        yield from self.bullets(words.cautions, [*data.cautions, words.cautions_general])
