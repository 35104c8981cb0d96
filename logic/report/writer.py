"""What the papers are written with: letterhead, facts, headings, tiles, tables, lists. Each paper adds its
story."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Generator, Iterator, Sequence
from typing import Any

from reportlab.platypus import Flowable, KeepTogether, Spacer, Table

from logic.figure import Figure
from logic.report import style
from logic.report.content import Cover
from logic.report.paper import Bookmark, Contents, Imprint, Progress, Text, Watch, build
from logic.report.style import Page, text_width
from logic.report.text import Ink

Making = Generator[float, None, bytes]
_TILES = 3
PLAIN = [
    ("FONTNAME", (0, 0), (-1, -1), style.FONT),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]
RULED = [
    *PLAIN,
    ("TOPPADDING", (0, 0), (-1, -1), 2.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
    ("RIGHTPADDING", (0, 0), (-1, -1), 4),
]


class Writer(ABC):
    """Turns the data of a paper into flowables, top to bottom. A paper gives `title` and `body`."""

    title = ""

    def __init__(self, data: Cover) -> None:
        self.cover, self.words = data, data.words
        self.ink: Ink = style.ink()
        self.page: Page = style.page(data.paper)
        self.marks: list[Bookmark] = []

    @abstractmethod
    def body(self) -> Iterator[Flowable]:
        """What comes after letterhead and facts."""

    def facts(self) -> list[tuple[str, str]]:
        """Label and text of what stands under the title, for whom and where first."""
        data, words = self.cover, self.words
        client = "\n".join(data.client.texts)
        ground = "\n".join(t for t in (data.sward, data.sward_kind, data.sward_address) if t.strip())
        return [(words.client, client), (words.sward, ground), (words.visit, words.day(data.day))]

    def file(self, progress: Progress | None = None, watch: Watch | None = None) -> bytes:
        """The PDF. The same data give the same bytes.

        progress: called with the stage ("layout", "pages", "done") and the share done of it [0..1].
        """
        if progress:
            progress("layout", 0.0)
        making = self.making(watch)
        while True:
            try:
                share = next(making)
            except StopIteration as made:
                if progress:
                    progress("done", 1.0)
                return bytes(made.value)
            if progress:
                progress("pages", share)

    def making(self, watch: Watch | None = None) -> Making:
        """The PDF made bit by bit, so that others have a turn: yields the share done, returns the file."""
        story: list[Flowable] = []
        for one in self.story():
            story.append(one)
            yield 0.0
        return (yield from build(story, self.page, self.imprint(), watch))

    def imprint(self) -> Imprint:
        """What every page carries."""
        data, line = self.cover, self.ink.line
        firm = line(data.letterhead.name or data.letterhead.person)
        what = line(data.sward) or self.words.sward
        return Imprint(
            title=f"{self.title}: {what}",
            author=firm,
            subject=f"{line(data.client.name)}, {self.words.day(data.day)}".strip(", "),
            head=" · ".join(t for t in (self.title, what, self.words.day(data.day)) if t),
            foot=" · ".join(t for t in map(line, (firm, data.letterhead.phone, data.letterhead.email)) if t),
            day=data.day,
            words=self.words,
        )

    def story(self) -> Iterator[Flowable]:
        """All of it in reading order."""
        yield from self._letterhead()
        yield from self._facts()
        yield Contents(self.words.contents, self.marks)
        yield from self.body()

    def p(self, text: str, kind: Any = style.BODY) -> Text:
        """A paragraph of plain text."""
        return Text(self.ink.markup(text), kind)

    def mark(self, title: str, level: int = 0) -> Bookmark:
        """An entry of the outline, and of the contents where there are any."""
        self.marks.append(Bookmark(self.ink.line(title), level, f"place{len(self.marks) + 1}"))
        return self.marks[-1]

    def heading(self, text: str, level: int = 0) -> list[Flowable]:
        """A heading with its bookmark."""
        kind = style.HEADING if level == 0 else style.SUBHEADING
        return [self.mark(text, level), self.p(text, kind)]

    def _letterhead(self) -> Iterator[Flowable]:
        firm = self.cover.letterhead
        left = [self.p(t, k) for t, k in ((firm.name, style.FIRM), (firm.person, style.FACT)) if t.strip()]
        right = [self.p(t, style.CONTACT) for t in (firm.address, firm.phone, firm.email) if t.strip()]
        if left or right:
            wide = self.page.measure
            rule_ = ("LINEBELOW", (0, 0), (-1, -1), 1.2, style.GREEN)
            pad = ("BOTTOMPADDING", (0, 0), (-1, -1), 7)
            widths = [wide * 0.58, wide * 0.42]
            yield self.rows([[left, right]], widths, [*PLAIN, pad, rule_])

    def _facts(self) -> Iterator[Flowable]:
        yield self.mark(self.title)
        yield self.p(self.title, style.TITLE)
        pairs = [(label, text) for label, text in self.facts() if text.strip()]
        cells = [[self.p(k, style.LABEL), self.p(v, style.FACT)] for k, v in pairs]
        wide = self.page.measure
        shares = {1: [1.0], 2: [0.6, 0.4], 3: [0.38, 0.32, 0.3]}.get(len(cells)) or [1 / len(cells)] * len(
            cells
        )
        widths = [wide * share for share in shares]
        yield self.rows([cells], widths, [*PLAIN, ("RIGHTPADDING", (0, 0), (-1, -1), 10)])

    def rows(self, rows: Any, widths: Sequence[float], commands: Any, **more: Any) -> Table:
        """A table that breaks between its rows; within a row only where one is too high for any page."""
        made = table(rows, widths, commands, **more)
        made.wrap(sum(widths), 10_000)
        page = self.page
        made.splitInRow = int(max(made._rowHeights) > page.height - page.top - page.foot - 40)
        return made

    def tiles(self, figures: Sequence[Figure]) -> Iterator[Flowable]:
        """Figures shown large, three in a row; four where one would be left alone."""
        columns = _TILES + 1 if len(figures) % _TILES == 1 and len(figures) > 1 else _TILES
        wide = self.page.measure / columns
        for start in range(0, len(figures), columns):
            cells: list[Any] = [self.tile(f, wide, 12.5) for f in figures[start : start + columns]]
            cells += [""] * (columns - len(cells))
            yield table([cells], [wide] * columns, PLAIN)
            yield Spacer(0, 6)

    def tile(self, figure: Figure, wide: float, size: float) -> Table:
        """A figure shown large, a bar at its left: its name over its amount, shrunk until it fits."""
        text = figure.text_with_margin(self.cover.system)
        while size > 8 and text_width(text, size, style.BOLD) > wide - 18:
            size -= 0.5
        kind = style.AMOUNT.clone("fitted", fontSize=size, leading=1.3 * size)
        rows = [[self.p(figure.name, style.LABEL)], [self.p(text, kind)]]
        bar = ("LINEBEFORE", (0, 0), (0, -1), 2.2, style.GREEN)
        return table(rows, [wide - 8], [*PLAIN, ("LEFTPADDING", (0, 0), (-1, -1), 7), bar])

    def pair_table(self, figures: Sequence[Figure], wide: float) -> Table:
        """Names and amounts in two columns."""
        rows = [
            [self.p(f.name, style.NAME), self.p(f.text_with_margin(self.cover.system), style.VALUE)]
            for f in figures
        ]
        return table(rows, [wide * 0.5, wide * 0.5], [*RULED, rule(0, -1)])

    def bullets(self, title: str, lines: Sequence[str], kind: Any = style.BULLET) -> Iterator[Flowable]:
        """A heading over sentences, the first kept with it."""
        texts = [Text(self.ink.markup(t), kind, bulletText="•") for t in lines if t.strip()]
        if texts:
            yield KeepTogether([*self.heading(title), texts[0]])
            yield from texts[1:]


def rule(column: int, last: int) -> tuple[Any, ...]:
    """Hairlines under a pair of columns, down to row `last`."""
    return ("LINEBELOW", (column, 0), (column + 1, last), 0.4, style.RULE)


def table(rows: Any, widths: Sequence[float], commands: Any, **more: Any) -> Table:
    """A table of the papers: left, as wide as said, no padding but its own."""
    return Table(rows, colWidths=list(widths), style=commands, hAlign="LEFT", **more)
