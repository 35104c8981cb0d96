"""What all papers share: the document with its running head, page numbers, bookmarks and metadata."""

from __future__ import annotations

import io
from collections.abc import Callable, Generator, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph

from logic.report.style import BOLD, FONT, GREEN, INK, QUIET, RULE, Page, text_width
from logic.report.text import fitted
from logic.report.words import Words

# Streams as they are, not as text that is a quarter longer and slow to make where Python is all there is.
rl_config.useA85 = 0

Progress = Callable[[str, float], None]
Watch = Callable[[Any], None]
LATE_SIZE = 8.0  # of what is written in when the file is finished, and of head and foot
_NUMBER_ROOM = 90.0
_LINE = 12.5  # between lines of the contents
_SHORT = 14  # lines of contents that leave room for more on the page


@dataclass(frozen=True)
class Imprint:
    """What stands on every page, and in the file's own description. Texts are ready to be drawn."""

    title: str
    author: str
    subject: str
    head: str
    foot: str
    day: date
    words: Words


class Text(Paragraph):  # type: ignore[misc]
    """A paragraph that breaks its lines once for each width; tables and kept-together blocks ask often."""

    _asked: float | None = None

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Called by reportlab for the size at `width`."""
        if self._asked != width or not hasattr(self, "blPara"):  # reportlab forgets its lines at a split
            self._answer: tuple[float, float] = super().wrap(width, height)
            self._asked = width
        return self._answer


class Bookmark(Flowable):  # type: ignore[misc]
    """Takes no room; makes an entry of the document's outline at the place where it stands."""

    def __init__(self, title: str, level: int, key: str) -> None:
        super().__init__()
        self.title, self.level, self.key = title, level, key
        self.width = self.height = 0
        self.keepWithNext = 1

    def wrap(self, *_: float) -> tuple[float, float]:
        """No room needed."""
        return (0, 0)

    def draw(self) -> None:
        """Called by reportlab."""
        self.canv.bookmarkHorizontal(self.key, 0, 12)
        self.canv.addOutlineEntry(self.title, self.key, self.level, closed=self.level > 0)
        self.canv.places[self.key] = self.canv.getPageNumber()


class Contents(Flowable):  # type: ignore[misc]
    """The headings with their pages, each a link. marks: filled until the paper is built; shown when there
    are many.

    The pages are written in when the file is finished, so one pass over the story is enough.
    """

    def __init__(self, title: str, marks: Sequence[Bookmark], fewest: int = 24) -> None:
        super().__init__()
        self.title, self.marks, self.fewest = title, marks, fewest

    @property
    def lines(self) -> list[Bookmark]:
        """The first level where all would fill the page, else all."""
        listed = [mark for mark in self.marks[1:] if mark.title]  # the first is the title of the paper
        return listed if len(listed) <= _SHORT else [mark for mark in listed if mark.level == 0]

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Called by reportlab for the size at `width`."""
        self.width = width
        long = len(self.marks) >= self.fewest
        self.height = 26 + len(self.lines) * _LINE if long else 0
        return (width, self.height)

    def draw(self) -> None:
        """Called by reportlab."""
        if not self.height:
            return
        canvas, y = self.canv, self.height - 18
        canvas.setFillColor(GREEN)
        canvas.setFont(BOLD, 11)
        canvas.drawString(0, y, self.title)
        for mark in self.lines:
            y -= _LINE
            inset = 12 * mark.level
            canvas.setFillColor(INK)
            canvas.setFont(FONT, 9)
            canvas.drawString(inset, y, fitted(mark.title, self.width - inset - 40, text_width, 9))
            canvas.linkRect("", mark.key, (0, y - 3, self.width, y + 9), relative=1)
            canvas.saveState()
            canvas.translate(self.width, y)
            canvas.page_of(mark.key)
            canvas.restoreState()


def build(
    story: Sequence[Flowable], page: Page, imprint: Imprint, watch: Watch | None = None
) -> Generator[float, None, bytes]:
    """The PDF file of a story, made bit by bit: yields the share done [0..1], returns the file's bytes. The
    same story and day give the same bytes.

    watch: called with the canvas at the end of each page, before it is put away.
    """
    buffer = io.BytesIO()
    document = _document(buffer, page, imprint)
    yield from document.steps(list(story), lambda *a, **k: PaperCanvas(imprint, watch, *a, **k))
    return buffer.getvalue()


class _Document(BaseDocTemplate):  # type: ignore[misc]
    """A document that lets others have a turn while it fills its pages: `build`, taken apart."""

    def steps(self, story: list[Flowable], canvasmaker: Callable[..., Canvas]) -> Iterator[float]:
        """Lay the story out; yields the share done. reportlab's count can step back when one is split."""
        total, furthest = max(len(story), 1), 0.0
        self._startBuild(None, canvasmaker)
        self.canv._doctemplate = self
        while story:
            self.clean_hanging()
            self.handle_flowable(story)
            furthest = max(furthest, min(1 - len(story) / total, 1.0))
            yield furthest
        del self.canv._doctemplate
        self._endBuild()


def _document(buffer: io.BytesIO, page: Page, imprint: Imprint) -> _Document:
    document = _Document(
        buffer,
        pagesize=(page.width, page.height),
        title=imprint.title,
        author=imprint.author,
        subject=imprint.subject,
        creator="Swardwright",
        producer="Swardwright with ReportLab",
        lang=imprint.words.language,
        invariant=1,
        displayDocTitle=1,
        initialFontName=FONT,
    )

    def frame(top: float, columns: int = 1, column: int = 0) -> Frame:
        wide = (page.measure - (columns - 1) * page.gap) / columns
        left = page.side + column * (wide + page.gap)
        box = (left, page.foot, wide, page.height - top - page.foot)
        return Frame(*box, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0)

    def foot(canvas: Canvas, _: Any) -> None:
        _foot(canvas, page, imprint)

    def head_and_foot(canvas: Canvas, _: Any) -> None:
        _head(canvas, page, imprint)
        _foot(canvas, page, imprint)

    document.addPageTemplates(
        [
            PageTemplate("first", [frame(page.first_top)], onPage=foot, autoNextPageTemplate="later"),
            PageTemplate("later", [frame(page.top)], onPage=head_and_foot),
            PageTemplate("columns", [frame(page.top, 2, n) for n in (0, 1)], onPage=head_and_foot),
        ]
    )
    return document


def _head(canvas: Canvas, page: Page, imprint: Imprint) -> None:
    y = page.height - page.top + 14
    _line(canvas, page, y - 5)
    canvas.setFont(BOLD, LATE_SIZE)
    canvas.setFillColor(QUIET)
    text = fitted(imprint.head, page.measure, lambda t, s: text_width(t, s, BOLD), LATE_SIZE)
    canvas.drawString(page.side, y, text)


def _foot(canvas: Canvas, page: Page, imprint: Imprint) -> None:
    y = page.foot - 18
    _line(canvas, page, y + 12)
    canvas.setFont(FONT, LATE_SIZE)
    canvas.setFillColor(QUIET)
    canvas.drawString(page.side, y, fitted(imprint.foot, page.measure - _NUMBER_ROOM, text_width, LATE_SIZE))
    canvas.saveState()
    canvas.translate(page.width - page.side, y)
    canvas.doForm(f"page{canvas.getPageNumber()}")
    canvas.restoreState()


def _line(canvas: Canvas, page: Page, y: float) -> None:
    canvas.setStrokeColor(RULE)
    canvas.setLineWidth(0.5)
    canvas.line(page.side, y, page.width - page.side, y)


class PaperCanvas(Canvas):  # type: ignore[misc]
    """A canvas that dates the file by the paper's own day, and writes page numbers in when it knows them."""

    def __init__(self, imprint: Imprint, watch: Watch | None, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.setDateFormatter(lambda *_: f"D:{imprint.day:%Y%m%d}000000Z")
        self.places: dict[str, int] = {}
        self.late: dict[str, str] = {}  # texts written in at the end, by the name of their form
        self.images: dict[str, bytes] = {}  # photos by their name in the file
        self._asked: list[str] = []
        self._page_words = imprint.words.page
        self._watch = watch

    def page_of(self, key: str) -> None:
        """Draw, right-aligned to the origin, the page on which the place `key` comes to stand."""
        self._asked.append(key)
        self.doForm(f"place-{key}")

    def showPage(self) -> None:
        """Called by reportlab at the end of each page."""
        if self._watch:
            self._watch(self)
        super().showPage()

    def save(self) -> None:
        """Write "Page 1 of 3" for every page and the pages of the contents, then the file."""
        count = self.getPageNumber() - 1
        for number in range(1, count + 1):
            self.late[f"page{number}"] = self._page_words.format(number=number, count=count)
        for key in dict.fromkeys(self._asked):
            self.late[f"place-{key}"] = str(self.places.get(key, ""))
        for name, text in self.late.items():
            self.beginForm(name, lowerx=-_NUMBER_ROOM, lowery=-LATE_SIZE, upperx=0, uppery=LATE_SIZE + 2)
            self.setFont(FONT, LATE_SIZE)
            self.setFillColor(QUIET)
            self.drawRightString(0, 0, text)
            self.endForm()
        super().save()
