"""The weeks after on paper: a strip of the calendar, then what to do by its days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, Spacer

from logic.report import style
from logic.report.content import Care
from logic.report.strip import Bar, StripFlowable
from logic.report.writer import PLAIN, Writer


def care_block(
    writer: Writer, care: Sequence[Care], day_kind: Any, kind: Any, bullet: Any = style.BULLET
) -> Iterator[Flowable]:
    """What has its days first, by day, then what holds at all times. kinds: paragraph styles."""
    words = writer.words
    dated = sorted((c for c in care if c.start), key=lambda c: (c.start or date.min, c.end or date.max))
    bars = [
        Bar(writer.ink.line(c.name), c.start, c.end or c.start, "care")
        for c in dated
        if c.start and c.name.strip()
    ]
    if bars:
        yield CondPageBreak(120)
        yield Spacer(0, 6)
        yield StripFlowable(bars, writer.page.measure, words)
        yield Spacer(0, 6)
    for one in dated:
        yield _dated(writer, one, day_kind, kind)
    always = [c.sentence for c in care if not c.start]
    yield from writer.bullets(words.always if dated else words.aftercare, always, bullet)


def _dated(writer: Writer, care: Care, day_kind: Any, kind: Any) -> Flowable:
    wide = writer.page.measure
    days = writer.words.days(care.start, care.end, short=True) if care.start else ""
    row = [[writer.p(days, day_kind), writer.p(care.sentence, kind)]]
    pad = [
        ("TOPPADDING", (0, 0), (-1, -1), 5),
        ("RIGHTPADDING", (0, 0), (0, 0), 8),
        ("LINEABOVE", (0, 0), (-1, 0), 0.4, style.RULE),
    ]
    return writer.rows(row, [wide * 0.3, wide * 0.7], [*PLAIN, *pad])
