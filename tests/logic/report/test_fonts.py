"""The font files, read with fontTools."""

from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont

NEEDED = (
    "AaÁáÇçĐđŁłŐőŠšŽžÆæØøßÞþÑñ ΑΒΓΔΕΩαβγδεμπσω БГДжяю ←↑→↓↗↘ ½⅓⅔¼¾⅛⅜⅝⅞ m²m³°µ′″Ω ⁻¹⁰²₂₅ ±×÷≈≤≥≠√ΣΔπ−∞ ✓✗☐☑•"
    " €£$¥₹¢₩₺ ‘’“”„‹›«»–—…·§©®™ \u00a0\u2009\u202f"
)
STYLES = ("Regular", "Bold")


def font(name: str) -> TTFont:
    return TTFont(str(files("assets").joinpath("fonts", name)))


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("kind", ["", "Screen-"])
def test_the_font_draws_everything_the_app_writes(kind: str, style: str) -> None:
    face = font(f"Sward-{kind}{style}.ttf")
    cmap, box = face.getBestCmap(), face.getBestCmap().get(0x6F22)
    assert [c for c in NEEDED if cmap.get(ord(c), box) == box] == []
    assert "glyf" in face  # reportlab embeds no other outlines


@pytest.mark.parametrize("style", STYLES)
def test_figures_share_one_width_and_look_alikes_differ(style: str) -> None:
    face = font(f"Sward-{style}.ttf")
    cmap, widths = face.getBestCmap(), face["hmtx"]
    assert len({widths[cmap[ord(c)]][0] for c in "0123456789"}) == 1
    shapes = [face["glyf"][cmap[ord(c)]] for c in "1lI0O"]
    assert all(a != b for i, a in enumerate(shapes) for b in shapes[i + 1 :])


@pytest.mark.parametrize("style", STYLES)
def test_the_screen_font_has_a_glyph_for_every_code_point(style: str) -> None:
    cmap = font(f"Sward-Screen-{style}.ttf").getBestCmap()
    wanted = (c for c in range(0x110000) if not 0xD800 <= c <= 0xDFFF and c & 0xFFFE != 0xFFFE)
    assert [hex(c) for c in wanted if cmap.get(c, ".notdef") == ".notdef"] == []


@pytest.mark.parametrize("style", STYLES)
def test_an_unknown_character_shows_as_a_box_and_a_control_takes_no_room(style: str) -> None:
    face = font(f"Sward-Screen-{style}.ttf")
    cmap = face.getBestCmap()
    for character in "漢שह😀\ue000\U0010fffd":
        glyph = face["glyf"][cmap[ord(character)]]
        assert glyph.numberOfContours == 2
    for code in (0x200D, 0x202E, 0x064E, 0xFE0F, 0xE0041):
        assert face["hmtx"][cmap[code]][0] == 0


@pytest.mark.parametrize("style", STYLES)
def test_the_font_carries_its_own_name_and_its_licence(style: str) -> None:
    names = {record.nameID: str(record) for record in font(f"Sward-{style}.ttf")["name"].names}
    assert names[1] == "Sward"
    assert "Open Font License" in names[13]
    assert "SIL OPEN FONT LICENSE Version 1.1" in files("assets").joinpath("fonts", "OFL.txt").read_text(
        "utf-8"
    )
