"""Makes the four Sward font files from the Inter fonts: python make_fonts.py INTER_REGULAR.ttf INTER_SEMIBOLD.ttf

Needs fontTools (not needed to run the app). README.md beside this file says where Inter comes from.
"""

import sys
import unicodedata
from collections.abc import Callable, Iterator
from pathlib import Path

from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._c_m_a_p import cmap_format_13

HERE = Path(__file__).parent
FAMILY = "Sward"
COPYRIGHT = "Copyright 2016 The Inter Project Authors (https://github.com/rsms/inter). Changed and renamed."

# What people type and what the app itself writes.
WANTED = [
    (0x0020, 0x007E), (0x00A0, 0x024F), (0x0259, 0x0259), (0x02BB, 0x02DD), (0x0300, 0x0304), (0x0306, 0x030C),
    (0x0323, 0x0328), (0x0370, 0x03FF), (0x0400, 0x045F), (0x0490, 0x0491), (0x1E80, 0x1E85), (0x1E9E, 0x1E9E),
    (0x1EA0, 0x1EF9), (0x2000, 0x2027), (0x202F, 0x203E), (0x2044, 0x2044), (0x2070, 0x208E), (0x20A0, 0x20C0),
    (0x2103, 0x2103), (0x2109, 0x2109), (0x2116, 0x2122), (0x2126, 0x2126), (0x212A, 0x212B), (0x2150, 0x215E),
    (0x2190, 0x2199), (0x21A9, 0x21AA), (0x21BA, 0x21BB), (0x2200, 0x22C5), (0x2460, 0x2473), (0x25A0, 0x25FF),
    (0x2605, 0x2606), (0x26A0, 0x26A0), (0x2713, 0x2713), (0x2717, 0x2717), (0x2764, 0x2764), (0xFB01, 0xFB02),
]  # fmt: skip

# Characters the family lacks that one of its own glyphs stands for.
ALIASES = {0x2714: 0x2713, 0x2718: 0x2717, 0x2610: 0x25A1, 0x2219: 0x00B7, 0x22C5: 0x00B7, 0x00AD: 0x200B}


def baked(cmap: dict[int, str], glyphs: set[str]) -> dict[int, str]:
    """The character map with tabular figures and the tailed l in place of the plain ones."""

    def choose(name: str) -> str:
        tabular = f"{name}.tf" if name in FIGURES else ""
        return next((g for g in (tabular, f"{name}.ss02") if g in glyphs and g not in UNWANTED), name)

    return {code: choose(name) for code, name in cmap.items()}


FIGURES = {"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
UNWANTED = {"zero.ss02"}


def add_glyph(font: TTFont, name: str, width: int, draw: Callable[[TTGlyphPen], None]) -> None:
    pen = TTGlyphPen(font.getGlyphSet())
    draw(pen)
    font["glyf"][name] = pen.glyph()
    font["glyf"][name].recalcBounds(font["glyf"])
    font["hmtx"][name] = (width, getattr(font["glyf"][name], "xMin", 0))


def add_ticked_boxes(font: TTFont, cmap: dict[int, str]) -> None:
    """☑ and ☒: the family's square with its own tick or cross set inside at three fifths."""
    for code, mark in ((0x2611, 0x2713), (0x2612, 0x2717)):
        square, inner = cmap[0x25A1], cmap[mark]
        box, sign = font["glyf"][square], font["glyf"][inner]
        shift = [(getattr(box, a) + getattr(box, b)) / 2 - 0.6 * (getattr(sign, a) + getattr(sign, b)) / 2
                 for a, b in (("xMin", "xMax"), ("yMin", "yMax"))]  # fmt: skip

        def draw(
            pen: TTGlyphPen, square: str = square, inner: str = inner, shift: list[float] = shift
        ) -> None:
            pen.addComponent(square, (1, 0, 0, 1, 0, 0))
            pen.addComponent(inner, (0.6, 0, 0, 0.6, round(shift[0]), round(shift[1])))

        cmap[code] = f"uni{code:04X}"
        add_glyph(font, cmap[code], font["hmtx"][square][0], draw)


def rename(font: TTFont, style: str) -> None:
    names = font["name"]
    version = names.getDebugName(5)
    names.names = []
    texts = {0: COPYRIGHT, 1: FAMILY, 2: style, 3: f"{FAMILY}-{style}", 4: f"{FAMILY} {style}", 5: version,
             6: f"{FAMILY}-{style}", 13: "SIL Open Font License, Version 1.1", 14: "https://openfontlicense.org"}  # fmt: skip
    for key, text in texts.items():
        names.setName(text, key, 3, 1, 0x409)
    bold = style == "Bold"
    font["OS/2"].usWeightClass = 700 if bold else 400
    font["OS/2"].fsSelection = 0x20 if bold else 0x40
    font["head"].macStyle = 1 if bold else 0


def prepared(source: Path, style: str, features: list[str]) -> TTFont:
    """The font cut down to the wanted characters, with the chosen forms as the default ones."""
    font = TTFont(source)
    cmap = baked(font.getBestCmap(), set(font.getGlyphOrder()))
    add_ticked_boxes(font, cmap)
    cmap.update({code: cmap[like] for code, like in ALIASES.items() if code not in cmap})
    for table in font["cmap"].tables:
        table.cmap = {c: g for c, g in cmap.items() if table.format != 4 or c <= 0xFFFF}
    options = Options(layout_features=features, hinting=False, notdef_outline=True, name_IDs=["*"])
    subsetter = Subsetter(options)
    subsetter.populate(
        unicodes=[c for a, b in WANTED for c in range(a, b + 1)] + list(ALIASES) + [0x2611, 0x2612]
    )
    subsetter.subset(font)
    for tag in ("STAT", "gasp", "prep", *(() if features else ("GSUB", "GPOS", "GDEF"))):
        if tag in font:
            del font[tag]
    rename(font, style)
    return font


def draw_box(pen: TTGlyphPen) -> None:
    """An upright hollow box of the height of a capital."""
    for left, low, right, high in ((150, 0, 1150, 1490), (1030, 120, 270, 1370)):
        pen.moveTo((left, low))
        for point in ((left, high), (right, high), (right, low)):
            pen.lineTo(point)
        pen.closePath()


def code_points() -> Iterator[int]:
    return (c for c in range(0x110000) if not 0xD800 <= c <= 0xDFFF and c & 0xFFFE != 0xFFFE)


def catch_all(font: TTFont) -> None:
    """Map every other code point to a visible box, or to nothing where a box would be wrong.

    The browser's engine looks on the network for a font that has a missing character, again and again; with
    a glyph for everything it never starts to. Marks and format characters become an empty glyph of no width.
    """
    real = font.getBestCmap()
    box, empty = "box", "empty"
    order = list(font.getGlyphOrder())
    add_glyph(font, box, 1300, draw_box)
    add_glyph(font, empty, 0, lambda pen: None)
    font.setGlyphOrder([*order, box, empty])
    unseen = {"Mn", "Me", "Cf", "Cc", "Zl", "Zp"}
    whole = {
        c: real.get(c) or (empty if unicodedata.category(chr(c)) in unseen else box) for c in code_points()
    }
    whole.update(
        {c: real[0x20] for c in code_points() if unicodedata.category(chr(c)) == "Zs" and c not in real}
    )
    table = cmap_format_13(13)
    table.platformID, table.platEncID, table.language, table.reserved, table.length = 3, 10, 0, 0, 0
    table.nGroups, table.cmap = 0, whole
    font["cmap"].tables = [t for t in font["cmap"].tables if (t.platformID, t.platEncID) == (3, 1)] + [table]


def main(regular: str, bold: str) -> None:
    for source, style in ((regular, "Regular"), (bold, "Bold")):
        paper = prepared(Path(source), style, [])
        paper.save(HERE / f"{FAMILY}-{style}.ttf")
        screen = prepared(Path(source), style, ["kern", "mark"])
        catch_all(screen)
        screen.save(HERE / f"{FAMILY}-Screen-{style}.ttf")


if __name__ == "__main__":
    main(*sys.argv[1:])
