"""A page as it will be printed, for a screen: read back from the page's own drawing instructions in the file.

Nothing is laid out twice: what the preview shows is what stands in the PDF. Only the few instructions that
the papers use are known; coordinates are points from the page's upper left corner.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from reportlab.pdfbase import pdfmetrics

from logic.report.paper import LATE_SIZE, PaperCanvas
from logic.report.style import BOLD, FONT, QUIET, text_width

Matrix = tuple[float, float, float, float, float, float]
Colour = tuple[float, float, float]
_SAME: Matrix = (1, 0, 0, 1, 0, 0)
_TOKEN = re.compile(
    r"\((?P<text>(?:\\.|[^\\()])*)\)|/(?P<name>[^\s/()<>\[\]]+)|(?P<number>[-+]?(?:\d+\.?\d*|\.\d+))(?![\w.])"
    r"|(?P<word>[A-Za-z'\"*]+)|(?P<bracket>[\[\]])",
    re.DOTALL,
)
_ESCAPES = {"n": "\n", "r": "\r", "t": "\t", "b": "\b", "f": "\f"}


@dataclass(frozen=True)
class Lettering:
    """Text from x on, its base line at y. late: only the name of a text that is known when the file is
    done."""

    x: float
    y: float
    text: str
    size: float
    bold: bool
    colour: Colour
    late: bool = False


@dataclass(frozen=True)
class Shape:
    """A line through points; pieces of several are several shapes. fill, line: colours, None for none."""

    points: tuple[tuple[float, float], ...]
    closed: bool
    fill: Colour | None
    line: Colour | None
    width: float
    dash: tuple[float, ...] = ()


@dataclass(frozen=True)
class Picture:
    """A photo: JPEG bytes; corners: where its upper left, upper right and lower left go."""

    data: bytes
    corners: tuple[tuple[float, float], tuple[float, float], tuple[float, float]]


Mark = Lettering | Shape | Picture


@dataclass(frozen=True)
class Sheet:
    """A page: its size in points and all that is on it, in the order of drawing."""

    width: float
    height: float
    marks: tuple[Mark, ...]


def preview(make: Callable[..., bytes], data: Any) -> tuple[bytes, tuple[Sheet, ...]]:
    """The PDF of a paper and its pages for the screen. make: takes data and `watch`, as every paper's
    does."""
    pages = Pages()
    file = make(data, watch=pages.watch)
    return file, pages.finished


class Pages:
    """Collects the pages of a paper as they are made: hand `watch` to its maker, then ask for `finished`."""

    def __init__(self) -> None:
        self._pages: list[tuple[PaperCanvas, Sheet]] = []

    def watch(self, canvas: PaperCanvas) -> None:
        """Called at the end of each page."""
        self._pages.append((canvas, _sheet(canvas)))

    @property
    def finished(self) -> tuple[Sheet, ...]:
        """The pages, once the file is done."""
        return tuple(_finished(canvas, sheet) for canvas, sheet in self._pages)


def _finished(canvas: PaperCanvas, sheet: Sheet) -> Sheet:
    """The sheet with the texts that the file got at the end, each right-aligned where it was asked for."""
    texts = {canvas._doc.getXObjectName(name): text for name, text in canvas.late.items()}
    marks: list[Mark] = []
    for mark in sheet.marks:
        if isinstance(mark, Lettering) and mark.late:
            text = texts.get(mark.text, "")
            mark = replace(mark, text=text, x=mark.x - text_width(text, mark.size), late=False)
        marks.append(mark)
    return replace(sheet, marks=tuple(marks))


def _sheet(canvas: PaperCanvas) -> Sheet:
    width, height = canvas._pagesize
    reader = _Reader(canvas, float(height))
    reader.run("\n".join(canvas._code))
    return Sheet(float(width), float(height), tuple(reader.marks))


@dataclass(frozen=True)
class _Ink:
    """The graphics state that the papers use."""

    matrix: Matrix = _SAME
    fill: Colour = (0, 0, 0)
    line: Colour = (0, 0, 0)
    width: float = 1.0
    dash: tuple[float, ...] = ()


class _Reader:
    """Runs the instructions of a page and collects marks."""

    def __init__(self, canvas: PaperCanvas, height: float) -> None:
        self.marks: list[Mark] = []
        self._canvas, self._height = canvas, height
        self._ink, self._kept = _Ink(), list[_Ink]()
        self._path: list[tuple[list[tuple[float, float]], bool]] = []
        self._fonts = {name: pdfmetrics.getFont(name) for name in (FONT, BOLD)}
        self._font, self._subset, self._size, self._leading = FONT, 0, 10.0, 12.0
        self._line: Matrix = _SAME
        self._along = 0.0

    def run(self, code: str) -> None:
        """Take the instructions one after the other."""
        given: list[Any] = []
        for kind, value in _tokens(code):
            if kind != "word":
                given.append(value)
                continue
            action = getattr(self, f"_do_{_NAMES.get(value, value)}", None)
            if action:
                action(*given)
            given = []

    # -- state

    def _do_q(self) -> None:
        self._kept.append(self._ink)

    def _do_Q(self) -> None:
        self._ink = self._kept.pop()

    def _do_cm(self, *matrix: float) -> None:
        self._ink = replace(self._ink, matrix=_times(matrix, self._ink.matrix))  # type: ignore[arg-type]

    def _do_rg(self, *colour: float) -> None:
        self._ink = replace(self._ink, fill=colour)  # type: ignore[arg-type]

    def _do_RG(self, *colour: float) -> None:
        self._ink = replace(self._ink, line=colour)  # type: ignore[arg-type]

    def _do_w(self, width: float) -> None:
        self._ink = replace(self._ink, width=width)

    def _do_d(self, *dash: Any) -> None:
        lengths = tuple(x for x in dash[:-1] if isinstance(x, float))
        self._ink = replace(self._ink, dash=lengths)

    # -- paths

    def _do_m(self, x: float, y: float) -> None:
        self._path.append(([(x, y)], False))

    def _do_l(self, x: float, y: float) -> None:
        self._path[-1][0].append((x, y))

    def _do_c(self, *xy: float) -> None:
        """A curve, as eight straight pieces."""
        (x0, y0), points = self._path[-1][0][-1], self._path[-1][0]
        for n in range(1, 9):
            t = n / 8
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            points.append(
                (a * x0 + b * xy[0] + c * xy[2] + d * xy[4], a * y0 + b * xy[1] + c * xy[3] + d * xy[5])
            )

    def _do_h(self) -> None:
        if self._path:
            self._path[-1] = (self._path[-1][0], True)

    def _do_re(self, x: float, y: float, width: float, height: float) -> None:
        corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
        self._path.append((corners, True))

    def _do_n(self) -> None:
        self._path = []

    def _do_S(self) -> None:
        self._paint(fill=False, line=True)

    def _do_f(self) -> None:
        self._paint(fill=True, line=False)

    def _do_B(self) -> None:
        self._paint(fill=True, line=True)

    def _paint(self, fill: bool, line: bool) -> None:
        ink = self._ink
        scale = abs(ink.matrix[0] * ink.matrix[3] - ink.matrix[1] * ink.matrix[2]) ** 0.5
        for points, closed in self._path:
            placed = tuple(self._at(*point) for point in points)
            colours = (ink.fill if fill else None, ink.line if line else None)
            self.marks.append(Shape(placed, closed, *colours, ink.width * scale, ink.dash))
        self._path = []

    # -- text

    def _do_BT(self) -> None:
        self._line, self._along = _SAME, 0.0

    def _do_Tm(self, *matrix: float) -> None:
        self._line, self._along = matrix, 0.0  # type: ignore[assignment]

    def _do_Td(self, x: float, y: float) -> None:
        self._line, self._along = _times((1, 0, 0, 1, x, y), self._line), 0.0

    def _do_Tf(self, name: str, size: float) -> None:
        family, _, subset = name.partition("+")
        for font, known in self._fonts.items():
            state = known.state.get(self._canvas._doc)
            if state is not None and state.internalName == family:
                self._font, self._subset = font, int(subset or 0)
        self._size = size

    def _do_TL(self, leading: float) -> None:
        self._leading = leading

    def _do_next_line(self) -> None:
        self._do_Td(0.0, -self._leading)

    def _do_Tj(self, raw: str) -> None:
        state = self._fonts[self._font].state.get(self._canvas._doc)
        codes = state.subsets[self._subset] if state is not None else []
        text = "".join(chr(codes[ord(c)]) if ord(c) < len(codes) else c for c in raw)
        x, y = self._at(*_apply(self._line, self._along, 0.0))
        if text.strip():
            bold = self._font == BOLD
            self.marks.append(Lettering(x, y, text, self._size, bold, self._ink.fill))
        self._along += text_width(text, self._size, self._font)

    # -- what is drawn elsewhere

    def _do_Do(self, name: str) -> None:
        if name in self._canvas.images:
            corners = (self._at(0, 1), self._at(1, 1), self._at(0, 0))
            self.marks.append(Picture(self._canvas.images[name], corners))
            return
        self.marks.append(Lettering(*self._at(0, 0), name, LATE_SIZE, False, QUIET.rgb(), late=True))

    def _at(self, x: float, y: float) -> tuple[float, float]:
        across, up = _apply(self._ink.matrix, x, y)
        return across, self._height - up


_NAMES = {"T*": "next_line", "f*": "f", "B*": "B"}


def _tokens(code: str) -> Iterator[tuple[str, Any]]:
    for found in _TOKEN.finditer(code):
        kind = found.lastgroup or ""
        if kind == "text":
            yield kind, _unescaped(found["text"])
        elif kind == "number":
            yield kind, float(found["number"])
        elif kind == "bracket":
            continue
        else:
            yield kind, found[kind]


def _unescaped(raw: str) -> str:
    def one(found: re.Match[str]) -> str:
        body = found[1]
        return chr(int(body, 8)) if body[0].isdigit() else _ESCAPES.get(body, body)

    return re.sub(r"\\([0-7]{1,3}|.)", one, raw, flags=re.DOTALL)


def _times(a: Matrix, b: Matrix) -> Matrix:
    """The matrix that applies `a` first, then `b`."""
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def _apply(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    return matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5]
