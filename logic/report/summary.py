"""The customer summary: the ground, the work and its amounts, how to look after it, and the working."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from reportlab.platypus import (
    CondPageBreak,
    Flowable,
    KeepTogether,
    NextPageTemplate,
    PageBreak,
    Spacer,
    Table,
)

from logic.figure import Figure
from logic.report import style
from logic.report.content import Section, SummaryData
from logic.report.paper import Bookmark, Imprint, Progress, Text, build
from logic.report.sketch import SketchFlowable
from logic.report.style import Page, text_width
from logic.report.text import Ink
from logic.units import nominal, quantity, spread, text_of

_TILES = 3
_PLAIN = [
    ("FONTNAME", (0, 0), (-1, -1), style.FONT),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]


def summary(data: SummaryData, progress: Progress | None = None) -> bytes:
    """The customer summary as a PDF file. The same data give the same bytes.

    progress: called with the name of the stage ("layout", "pages", "done") and the share done of it [0..1].
    """
    if progress:
        progress("layout", 0.0)
    writer = _Writer(data)
    story = list(writer.story())
    file = build(story, writer.page, writer.imprint(), progress)
    if progress:
        progress("done", 1.0)
    return file


def unprintable(data: SummaryData) -> tuple[str, ...]:
    """The characters in what people typed that the font lacks: they come out as a box."""
    ink = style.ink()
    for text in data.texts:
        ink.plain(text)
    return ink.missing


class _Writer:
    """Turns the data into flowables, top to bottom."""

    def __init__(self, data: SummaryData) -> None:
        self.data, self.words = data, data.words
        self.ink: Ink = style.ink()
        self.page: Page = style.page(data.paper)

    def imprint(self) -> Imprint:
        """What every page carries."""
        data, line = self.data, self.ink.line
        firm = line(data.letterhead.name or data.letterhead.person)
        what = line(data.sward) or self.words.sward
        return Imprint(
            title=f"{self.words.title}: {what}",
            author=firm,
            subject=f"{line(data.client.name)}, {self.words.day(data.day)}".strip(", "),
            head=" · ".join(t for t in (self.words.title, what, self.words.day(data.day)) if t),
            foot=" · ".join(t for t in map(line, (firm, data.letterhead.phone, data.letterhead.email)) if t),
            day=data.day,
            words=self.words,
        )

    def story(self) -> Iterator[Flowable]:
        """All of it in reading order."""
        yield from self._letterhead()
        yield from self._facts()
        yield from self._ground()
        yield from self._works()
        yield from self._texts()
        yield from self._working()

    def _p(self, text: str, kind: Any = style.BODY) -> Text:
        """A paragraph of plain text."""
        return Text(self.ink.markup(text), kind)

    def _heading(self, text: str, level: int = 0) -> list[Flowable]:
        kind = style.HEADING if level == 0 else style.SUBHEADING
        return [Bookmark(self.ink.line(text), level), self._p(text, kind)]

    def _letterhead(self) -> Iterator[Flowable]:
        firm = self.data.letterhead
        left = [self._p(t, k) for t, k in ((firm.name, style.FIRM), (firm.person, style.FACT)) if t.strip()]
        right = [self._p(t, style.CONTACT) for t in (firm.address, firm.phone, firm.email) if t.strip()]
        if left or right:
            wide = self.page.measure
            rule = ("LINEBELOW", (0, 0), (-1, -1), 1.2, style.GREEN)
            pad = ("BOTTOMPADDING", (0, 0), (-1, -1), 7)
            widths = [wide * 0.58, wide * 0.42]
            yield _table([[left, right]], widths, [*_PLAIN, pad, rule], splitInRow=1)

    def _facts(self) -> Iterator[Flowable]:
        data, words = self.data, self.words
        yield Bookmark(words.title, 0)
        yield self._p(words.title, style.TITLE)
        client = "\n".join(data.client.texts)
        ground = "\n".join(t for t in (data.sward, data.sward_kind, data.sward_address) if t.strip())
        visit = words.day(data.day)
        pairs = [(words.client, client), (words.sward, ground), (words.visit, visit)]
        cells = [[self._p(k, style.LABEL), self._p(v, style.FACT)] for k, v in pairs if v.strip()]
        wide = self.page.measure
        widths = [wide * 0.4, wide * 0.35, wide * 0.25][: len(cells)]
        yield _table([cells], widths, [*_PLAIN, ("RIGHTPADDING", (0, 0), (-1, -1), 10)], splitInRow=1)

    def _ground(self) -> Iterator[Flowable]:
        data, words, outline = self.data, self.words, self.data.outline
        wide = self.page.measure
        drawing = SketchFlowable(outline, wide * 0.62, 235, data.system)
        side: list[Flowable] = [self._tile(outline.area, wide * 0.34, 17.0), Spacer(0, 6)]
        side += [self._pair_table([outline.perimeter, outline.longest_run], wide * 0.34)]
        side += [Spacer(0, 8), self._p(data.method, style.SMALL), self._p(self._margin(), style.SMALL)]
        side += [self._p(warning, style.SMALL) for warning in outline.warnings]
        caption = words.sketch_scale.format(ratio=f"{drawing.sketch.ratio:.4g}")
        if drawing.sketch.left_off:
            caption += words.sketch_left_off.format(count=drawing.sketch.left_off)
        block = _table([[[drawing, self._p(caption, style.SMALL)], side]], [wide * 0.66, wide * 0.34], _PLAIN)
        yield KeepTogether([*self._heading(words.ground), block])

    def _margin(self) -> str:
        area = self.data.outline.area
        value, margin = area.value.magnitude, spread(area.value.magnitude)
        if margin == 0:
            return self.words.no_margin
        low, high = (
            text_of(quantity(nominal(value) + sign * margin, area.unit), self.data.system) for sign in (-1, 1)
        )
        return self.words.margin.format(low=low, high=high)

    def _works(self) -> Iterator[Flowable]:
        if not self.data.works:
            return
        yield CondPageBreak(90)
        yield from self._heading(self.words.works)
        yield self._p(self.words.works_margin, style.SMALL)
        for number, section in enumerate(self.data.works, start=1):
            yield KeepTogether(list(self._work(number, section)))

    def _work(self, number: int, section: Section) -> Iterator[Flowable]:
        yield from self._heading(f"{number}  {section.name}", 1)
        shown = [f for f in section.figures if f.headline] or list(section.figures[:_TILES])
        wide = self.page.measure
        columns = _TILES + 1 if len(shown) % _TILES == 1 and len(shown) > 1 else _TILES
        for start in range(0, len(shown), columns):
            yield from self._tiles(shown[start : start + columns], columns)
        others = [f for f in section.figures if f not in shown]
        if others:
            yield self._two_pair_table(others, wide)
        if section.notes:
            yield Spacer(0, 4)
        for note in section.notes:
            yield self._p(note, style.SMALL)

    def _tiles(self, figures: Sequence[Figure], columns: int) -> Iterator[Flowable]:
        wide = self.page.measure / columns
        cells: list[Any] = [self._tile(f, wide, 12.5) for f in figures]
        cells += [""] * (columns - len(cells))
        yield _table([cells], [wide] * columns, _PLAIN)
        yield Spacer(0, 6)

    def _tile(self, figure: Figure, wide: float, size: float) -> Table:
        """A figure shown large, a bar at its left: its name over its amount, shrunk until it fits."""
        text = figure.text_with_margin(self.data.system)
        while size > 8 and text_width(text, size, style.BOLD) > wide - 18:
            size -= 0.5
        kind = style.AMOUNT.clone("fitted", fontSize=size, leading=1.3 * size)
        rows = [[self._p(figure.name, style.LABEL)], [self._p(text, kind)]]
        bar = ("LINEBEFORE", (0, 0), (0, -1), 2.2, style.GREEN)
        return _table(rows, [wide - 8], [*_PLAIN, ("LEFTPADDING", (0, 0), (-1, -1), 7), bar])

    def _pair(self, figure: Figure) -> list[Flowable]:
        amount = self._p(figure.text_with_margin(self.data.system), style.VALUE)
        return [self._p(figure.name, style.NAME), amount]

    def _pair_table(self, figures: Sequence[Figure], wide: float) -> Table:
        return _table([self._pair(f) for f in figures], [wide * 0.5, wide * 0.5], [*_RULED, _rule(0, -1)])

    def _two_pair_table(self, figures: Sequence[Figure], wide: float) -> Table:
        halves = [self._pair(f) for f in figures] + [["", ""]] * (len(figures) % 2)
        rows = [[*a, "", *b] for a, b in zip(halves[::2], halves[1::2], strict=True)]
        gap = 16.0
        half = (wide - gap) / 2
        full = [_rule(3, len(figures) // 2 - 1)] if len(figures) > 1 else []
        widths = [half * 0.58, half * 0.42, gap, half * 0.58, half * 0.42]
        return _table(rows, widths, [*_RULED, _rule(0, -1), *full])

    def _texts(self) -> Iterator[Flowable]:
        data, words = self.data, self.words
        if data.notes.strip():
            yield from self._heading(words.notes)
            yield self._p(data.notes)
        if data.aftercare:
            yield from self._list(words.aftercare, data.aftercare)
        yield from self._list(words.cautions, [*(c.sentence for c in data.cautions), words.cautions_general])

    def _list(self, title: str, lines: Sequence[str]) -> Iterator[Flowable]:
        first, *rest = [
            Text(self.ink.markup(line), style.BULLET, bulletText="•") for line in lines if line.strip()
        ]
        yield KeepTogether([*self._heading(title), first])
        yield from rest

    def _working(self) -> Iterator[Flowable]:
        words, outline = self.words, self.data.outline
        yield NextPageTemplate("columns")
        yield PageBreak()
        yield from self._heading(words.working)
        yield self._p(words.working_intro, style.SMALL)
        yield from self._worked(words.ground, outline.figures)
        for number, section in enumerate(self.data.works, start=1):
            yield from self._worked(f"{number}  {section.name}", section.figures)

    def _worked(self, title: str, figures: Sequence[Figure]) -> Iterator[Flowable]:
        first, *rest = [self._calculation(figure) for figure in figures]
        yield KeepTogether([self._p(title, style.SUBHEADING), first])
        yield from (KeepTogether([one]) for one in rest)

    def _calculation(self, figure: Figure) -> Text:
        """A figure with its lines of working and its source, as one paragraph."""
        markup, system = self.ink.markup, self.data.system
        amount = figure.text_with_margin(system)
        lines = [f"<b>{markup(figure.name)}: {markup(amount)}</b>"]
        lines += [markup(line) for line in figure.working(system)]
        if figure.order and figure.plus_minus > 0:
            lines.append(markup(self._at_least(figure)))
        if str(figure.source):
            source = markup(self.words.source.format(source=figure.source))
            lines.append(f'<font size="7.5" color="{style.QUIET.hexval()}">{source}</font>')
        return Text("<br/>".join(lines), style.WORKING)

    def _at_least(self, figure: Figure) -> str:
        sure = self.data.confidence
        amount = text_of(figure.at_least(sure), self.data.system)
        return self.words.at_least.format(confidence=f"{100 * sure:g} %", amount=amount)


_RULED = [
    *_PLAIN,
    ("TOPPADDING", (0, 0), (-1, -1), 2.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
    ("RIGHTPADDING", (0, 0), (-1, -1), 4),
]


def _rule(column: int, last: int) -> tuple[Any, ...]:
    """Hairlines under a pair of columns, down to row `last`."""
    return ("LINEBELOW", (column, 0), (column + 1, last), 0.4, style.RULE)


def _table(rows: Any, widths: Sequence[float], commands: Any, **more: Any) -> Table:
    return Table(rows, colWidths=list(widths), style=commands, hAlign="LEFT", **more)
