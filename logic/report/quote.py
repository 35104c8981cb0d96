"""The quote as a paper: what is to be done, what it costs, what could be had besides, and how to accept
it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.platypus import Flowable, KeepTogether, Spacer

from logic.figure import Figure
from logic.report import style
from logic.report.content import Cover, Signature
from logic.report.paper import Progress, Watch
from logic.report.signature import signed
from logic.report.writer import PLAIN, RULED, Writer, table
from logic.supply.quote import STATES, Line, Quote, Totals, price_per_area, totals


@dataclass(frozen=True, kw_only=True)
class QuoteData(Cover):
    """A quote for a stretch of turf. area: measured; scope: sentences on what is done; notes: to the
    customer."""

    quote: Quote
    area: Figure
    scope: tuple[str, ...] = ()
    notes: str = ""
    signature: Signature | None = None

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that a person typed."""
        lines = tuple(text for line in self.quote.lines for text in (line.name, line.detail))
        return (*super().texts, *lines, *self.scope, self.notes, self.quote.terms, self.quote.number)


def quote_paper(data: QuoteData, progress: Progress | None = None, watch: Watch | None = None) -> bytes:
    """The quote as a PDF file; in a later state, the agreed or finished work on the same lines."""
    return QuoteWriter(data).file(progress, watch)


class QuoteWriter(Writer):
    """The story of the quote."""

    def __init__(self, data: QuoteData) -> None:
        super().__init__(data)
        self.data, self.quote = data, data.quote
        self.sums: Totals = totals(data.quote)
        self.title = self.words.quote_titles[STATES.index(data.quote.state)]

    def facts(self) -> list[tuple[str, str]]:
        """For whom, where, the number and the days."""
        words, quote = self.words, self.quote
        lines = [f"{words.number} {quote.number}", words.day(quote.day)]
        if quote.state == "quote" and quote.valid_until:
            lines.append(f"{words.valid_until} {words.day(quote.valid_until)}")
        return [*super().facts()[:2], (words.date_label, "\n".join(line for line in lines if line.strip()))]

    def body(self) -> Iterator[Flowable]:
        """Lines and totals first, what to sign last."""
        words, data, quote = self.words, self.data, self.quote
        area = words.for_area.format(area=data.area.text_with_margin(data.system))
        yield from self.heading(words.works)
        yield self.p(f"{area}. {words.rough}", style.SMALL)
        if data.scope:
            yield from (self.p(sentence) for sentence in data.scope)
        yield Spacer(0, 4)
        yield self._lines(quote.counted)
        yield KeepTogether([Spacer(0, 6), self._totals(), Spacer(0, 4), *self._remarks()])
        if quote.options:
            note = words.options_note if self.sums.taxed else words.options_note_no_tax
            yield KeepTogether(
                [*self.heading(words.options), self.p(note, style.SMALL), self._lines(quote.options[:1])]
            )
            if quote.options[1:]:
                yield self._lines(quote.options[1:], head=False)
        if data.notes.strip():
            yield from self.heading(words.notes)
            yield self.p(data.notes)
        if quote.terms.strip():
            yield from self.heading(words.terms)
            yield self.p(quote.terms)
        if quote.state == "quote" or data.signature:
            yield KeepTogether(list(self._acceptance()))

    def _lines(self, lines: Sequence[Line], head: bool = True) -> Flowable:
        words, wide = self.words, self.page.measure
        rows: list[list[Any]] = []
        if head:
            rows.append([self.p(words.item, style.LABEL), self.p(words.price, style.RIGHT_LABEL)])
        for line in lines:
            name = words.variation_mark.format(name=line.name) if line.variation else line.name
            cell = [self.p(name, style.STRONG)]
            if line.detail.strip():
                cell.append(self.p(line.detail, style.SMALL))
            rows.append([cell, self.p(line.net.text(), style.RIGHT)])
        rules = ("LINEBELOW", (0, 0), (-1, -1), 0.4, style.RULE)
        return self.rows(rows, [wide * 0.76, wide * 0.24], [*RULED, rules], repeatRows=int(head))

    def _totals(self) -> Flowable:
        words, wide, sums = self.words, self.page.measure, self.sums
        rows: list[list[Any]] = []
        if sums.taxed:
            rows.append([self.p(words.net, style.FACT), self.p(sums.net.text(), style.RIGHT)])
            rows += [
                [self.p(one.tax.name, style.FACT), self.p(one.tax.text(), style.RIGHT)] for one in sums.taxes
            ]
        total = words.total if sums.taxed else words.total_no_tax
        rows.append([self.p(total, style.AMOUNT), self.p(sums.gross.text(), style.RIGHT_BOLD)])
        last = len(rows) - 1
        rules = [
            ("LINEABOVE", (0, last), (-1, last), 1.2, style.GREEN),
            ("LINEBELOW", (0, last), (-1, last), 1.2, style.GREEN),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ]
        inner = table(rows, [wide * 0.26, wide * 0.24], [*RULED, *rules])
        return table([["", inner]], [wide * 0.5, wide * 0.5], PLAIN)

    def _remarks(self) -> list[Flowable]:
        words, quote = self.words, self.quote
        each = words.per_area if self.sums.taxed else words.per_area_no_tax
        lines = [each.format(price=price_per_area(quote, self.data.area).text())]
        if self.sums.taxed:
            lines.append(words.tax_rounding.format(tax=quote.tax_name, words=quote.rule.words))
        if quote.tax_number.strip():
            lines.append(words.tax_number.format(tax=quote.tax_name, number=quote.tax_number))
        return [self.p(line, style.SMALL) for line in lines]

    def _acceptance(self) -> Iterator[Flowable]:
        words, wide = self.words, self.page.measure
        yield from self.heading(words.acceptance)
        yield self.p(words.acceptance_words)
        if self.data.signature:
            yield from signed(self, self.data.signature)
            return
        yield Spacer(0, 26)
        labels = [[self.p(words.signature, style.LABEL), "", self.p(words.date_label, style.LABEL)]]
        over = [("LINEABOVE", (column, 0), (column, 0), 0.6, style.INK) for column in (0, 2)]
        yield table(labels, [wide * 0.55, wide * 0.08, wide * 0.37], [*PLAIN, *over])
