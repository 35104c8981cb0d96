"""The day as it went, on paper: each step with its hours, what was planned and what was used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from reportlab.platypus import Flowable, KeepTogether

from logic.report import style
from logic.report.content import Agreed, Done
from logic.report.writer import RULED, Writer


def done_block(writer: Writer, done: Sequence[Done]) -> Iterator[Flowable]:
    """The steps in order."""
    for number, one in enumerate(done, start=1):
        parts: list[Flowable] = writer.heading(writer.words.done) if number == 1 else []
        parts += writer.heading(f"{number}  {one.name}", 1)
        parts += [writer.p(text, style.SMALL) for text in (one.facts, *one.notes[:2]) if text.strip()]
        yield KeepTogether([*parts, *_amounts(writer, one)])
        yield from (writer.p(text, style.SMALL) for text in one.notes[2:] if text.strip())


def _amounts(writer: Writer, one: Done) -> Iterator[Flowable]:
    """Name, plan and use of every amount that was written down; what was planned stands with the work."""
    words, wide = writer.words, writer.page.measure
    noted = [amount for amount in one.amounts if amount.used]
    if not noted:
        return
    head = ["", writer.p(words.planned, style.LABEL), writer.p(words.used, style.LABEL)]
    rows: list[list[Any]] = [head]
    for amount in noted:
        used: list[Flowable] = [writer.p(amount.used, style.VALUE)]
        if amount.reason.strip():
            used.append(writer.p(amount.reason, style.SMALL))
        rows.append([writer.p(amount.name, style.NAME), writer.p(amount.planned, style.NAME), used])
    lines = ("LINEBELOW", (0, 0), (-1, -1), 0.4, style.RULE)
    yield writer.rows(rows, [wide * 0.44, wide * 0.22, wide * 0.34], [*RULED, lines], repeatRows=1)


def agreed_block(writer: Writer, agreed: Sequence[Agreed]) -> Iterator[Flowable]:
    """What was agreed besides, with who and when."""
    words = writer.words
    for number, one in enumerate(agreed):
        who = ", ".join(t for t in (one.name, words.day(one.day) if one.day else "") if t.strip())
        head = writer.heading(words.agreed) if number == 0 else []
        lines = [writer.p(one.words, style.BODY)]
        if who:
            lines.append(writer.p(words.agreed_by.format(who=who), style.SMALL))
        yield KeepTogether([*head, *lines])
