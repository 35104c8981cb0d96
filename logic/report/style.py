"""The one style sheet of the papers: font, colours, sizes, page and margins. Legible in black and white."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from logic.report.text import Ink

FONT, BOLD = "Sward", "Sward-Bold"

INK = HexColor("#16211A")  # text
GREEN = HexColor("#1E4D2B")  # headings and the edge of the green
QUIET = HexColor("#4A574E")  # labels and sources: 7:1 on white
RULE = HexColor("#9AA79E")  # hairlines
TINT = HexColor("#E6EFE6")  # the green's surface, a light grey when printed black
PAPER = HexColor("#FFFFFF")

_PAGES = {"a4": A4, "letter": LETTER}


@dataclass(frozen=True)
class Page:
    """The page and its margins [points]; `top` is that of the pages after the first."""

    width: float
    height: float
    side: float = 18 * mm
    first_top: float = 15 * mm
    top: float = 24 * mm
    foot: float = 20 * mm
    gap: float = 9 * mm  # between columns

    @property
    def measure(self) -> float:
        """The width between the side margins."""
        return self.width - 2 * self.side


def page(paper: str) -> Page:
    """The page named "a4" or "letter"."""
    width, height = _PAGES[paper]
    return Page(width, height)


@cache
def load_fonts() -> frozenset[int]:
    """Make the app's font known to reportlab; the code points that it covers."""
    covered: set[int] | None = None
    for name, file in ((FONT, "Sward-Regular.ttf"), (BOLD, "Sward-Bold.ttf")):
        font = TTFont(name, io.BytesIO(files("assets").joinpath("fonts", file).read_bytes()))
        pdfmetrics.registerFont(font)
        glyphs = {code for code, glyph in font.face.charToGlyph.items() if glyph}
        covered = glyphs if covered is None else covered & glyphs
    pdfmetrics.registerFontFamily(FONT, normal=FONT, bold=BOLD, italic=FONT, boldItalic=BOLD)
    return frozenset(covered or ())


def ink() -> Ink:
    """A fresh Ink for the app's font."""
    return Ink(load_fonts())


def text_width(text: str, size: float, font: str = FONT) -> float:
    """The width of `text` in points."""
    return float(pdfmetrics.stringWidth(text, font, size))


def _style(name: str, size: float, lead: float, **more: object) -> ParagraphStyle:
    given: dict[str, object] = {"fontName": FONT, "bulletFontName": FONT, "textColor": INK, **more}
    return ParagraphStyle(name, fontSize=size, leading=lead, **given)


BODY = _style("body", 9.5, 13.5, spaceAfter=4)
SMALL = _style("small", 8, 11, textColor=QUIET)
LABEL = _style("label", 8, 10.5, textColor=QUIET)
FACT = _style("fact", 9.5, 13)
FIRM = _style("firm", 15, 18, fontName=BOLD, textColor=GREEN)
CONTACT = _style("contact", 8.5, 11.5, alignment=2)
TITLE = _style("title", 21, 26, fontName=BOLD, spaceBefore=12, spaceAfter=8)
HEADING = _style(
    "heading", 13.5, 17, fontName=BOLD, textColor=GREEN, spaceBefore=14, spaceAfter=5, keepWithNext=1
)
SUBHEADING = _style("subheading", 11, 14, fontName=BOLD, spaceBefore=9, spaceAfter=4, keepWithNext=1)
AMOUNT = _style("amount", 12.5, 16, fontName=BOLD)
VALUE = _style("value", 9, 12, fontName=BOLD)
NAME = _style("name", 9, 12)
BULLET = _style("bullet", 9.5, 13.5, leftIndent=12.5, spaceAfter=3)
WORKING = _style("working", 8.5, 11.8, spaceAfter=5, allowWidows=0, allowOrphans=0)
RIGHT = _style("right", 9.5, 13, alignment=2)
RIGHT_BOLD = _style("rightbold", 10.5, 14, alignment=2, fontName=BOLD)
STRONG = _style("strong", 9.5, 13, fontName=BOLD)
BIG = _style("big", 12.5, 17, spaceAfter=4)
BIG_NAME = _style("bigname", 12, 15.5)
BIG_VALUE = _style("bigvalue", 14, 17, fontName=BOLD)
STEP = _style("step", 15, 19, fontName=BOLD, textColor=GREEN, keepWithNext=1)
CELL = _style("cell", 8, 10)
BIG_BULLET = _style("bigbullet", 12.5, 17, leftIndent=15, spaceAfter=4)
RIGHT_LABEL = _style("rightlabel", 8, 10.5, textColor=QUIET, alignment=2)
