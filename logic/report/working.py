"""How we worked this out: every figure with its lines and its source, in two columns at the end of a
paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable, KeepTogether, NextPageTemplate, PageBreak

from logic.figure import Figure
from logic.report import style
from logic.report.paper import Text
from logic.report.writer import Writer
from logic.units import text_of


def working(
    writer: Writer, parts: Sequence[tuple[str, Sequence[Figure]]], confidence: float
) -> Iterator[Flowable]:
    """The appendix. parts: (heading, figures); confidence: how sure an amount to order has to be enough."""
    words = writer.words
    yield NextPageTemplate("columns")
    yield PageBreak()
    yield from writer.heading(words.working)
    yield writer.p(words.working_intro, style.SMALL)
    for title, figures in parts:
        if figures:
            first, *rest = [_calculation(writer, figure, confidence) for figure in figures]
            yield KeepTogether([writer.p(title, style.SUBHEADING), first])
            yield from (KeepTogether([one]) for one in rest)


def _calculation(writer: Writer, figure: Figure, confidence: float) -> Text:
    """A figure with its lines of working and its source, as one paragraph."""
    markup, system = writer.ink.markup, writer.cover.system
    amount = figure.text_with_margin(system)
    lines = [f"<b>{markup(figure.name)}: {markup(amount)}</b>"]
    lines += [markup(line) for line in figure.working(system)]
    if figure.order and figure.plus_minus > 0:
        enough = text_of(figure.at_least(confidence), system)
        lines.append(
            markup(writer.words.at_least.format(confidence=f"{100 * confidence:g} %", amount=enough))
        )
    if str(figure.source):
        source = markup(writer.words.source.format(source=figure.source))
        lines.append(f'<font size="7.5" color="{style.QUIET.hexval()}">{source}</font>')
    return Text("<br/>".join(lines), style.WORKING)
