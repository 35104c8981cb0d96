"""What all papers share: the document with its running head, page numbers, bookmarks and metadata."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph

from logic.report.style import BOLD, FONT, QUIET, RULE, Page, text_width
from logic.report.text import fitted
from logic.report.words import Words

Progress = Callable[[str, float], None]
_SIZE = 8.0
_NUMBER_ROOM = 90.0


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

    def __init__(self, title: str, level: int) -> None:
        super().__init__()
        self.title, self.level = title, level
        self.width = self.height = 0
        self.keepWithNext = 1

    def wrap(self, *_: float) -> tuple[float, float]:
        """No room needed."""
        return (0, 0)

    def draw(self) -> None:
        """Called by reportlab."""
        key = self.canv.next_key()
        self.canv.bookmarkHorizontal(key, 0, 12)
        self.canv.addOutlineEntry(self.title, key, self.level, closed=self.level > 0)


def build(story: Sequence[Flowable], page: Page, imprint: Imprint, progress: Progress | None) -> bytes:
    """The PDF file of a story. The same story and day give the same bytes."""
    buffer = io.BytesIO()
    document = _document(buffer, page, imprint)
    if progress:
        document.setProgressCallBack(_teller(progress, len(story)))
    document.build(list(story), canvasmaker=lambda *a, **k: _Canvas(imprint, *a, **k))
    return buffer.getvalue()


def _teller(progress: Progress, total: int) -> Callable[[str, Any], None]:
    """What reportlab calls while it fills pages; its count of flowables can step back when one is split."""
    furthest = 0.0

    def tell(kind: str, value: Any) -> None:
        nonlocal furthest
        if kind == "PROGRESS":
            furthest = max(furthest, min(value / max(total, 1), 1.0))
            progress("pages", furthest)

    return tell


def _document(buffer: io.BytesIO, page: Page, imprint: Imprint) -> Any:
    document = BaseDocTemplate(
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
    canvas.setFont(BOLD, _SIZE)
    canvas.setFillColor(QUIET)
    text = fitted(imprint.head, page.measure, lambda t, s: text_width(t, s, BOLD), _SIZE)
    canvas.drawString(page.side, y, text)


def _foot(canvas: Canvas, page: Page, imprint: Imprint) -> None:
    y = page.foot - 18
    _line(canvas, page, y + 12)
    canvas.setFont(FONT, _SIZE)
    canvas.setFillColor(QUIET)
    canvas.drawString(page.side, y, fitted(imprint.foot, page.measure - _NUMBER_ROOM, text_width, _SIZE))
    canvas.saveState()
    canvas.translate(page.width - page.side, y)
    canvas.doForm(f"page{canvas.getPageNumber()}")
    canvas.restoreState()


def _line(canvas: Canvas, page: Page, y: float) -> None:
    canvas.setStrokeColor(RULE)
    canvas.setLineWidth(0.5)
    canvas.line(page.side, y, page.width - page.side, y)


class _Canvas(Canvas):  # type: ignore[misc]
    """A canvas that dates the file by the paper's own day and numbers the pages when it knows their count."""

    def __init__(self, imprint: Imprint, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.setDateFormatter(lambda *_: f"D:{imprint.day:%Y%m%d}000000Z")
        self._keys = 0
        self._page_words = imprint.words.page

    def next_key(self) -> str:
        """A name for a place in the document."""
        self._keys += 1
        return f"place{self._keys}"

    def save(self) -> None:
        """Write "Page 1 of 3" for every page, then the file."""
        count = self.getPageNumber() - 1
        for number in range(1, count + 1):
            self.beginForm(f"page{number}", lowerx=-_NUMBER_ROOM, lowery=-_SIZE, upperx=0, uppery=_SIZE)
            self.setFont(FONT, _SIZE)
            self.setFillColor(QUIET)
            self.drawRightString(0, 0, self._page_words.format(number=number, count=count))
            self.endForm()
        super().save()
