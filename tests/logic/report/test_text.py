"""Text that people typed comes out as typed, whatever it is."""

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.platypus import Paragraph

from logic.report.style import BODY, load_fonts, text_width
from logic.report.text import BOX, Ink, fitted, missing_sentence

ink = Ink(load_fonts())


HOSTILE = (
    '<b>&"',
    "<img src=x.png>",
    "&amp;",
    "<br/>",
    "a < b > c",
    "]]>",
    "<para>",
    "<a href='x'>x</a>",
    "&#65;",
)


@pytest.mark.parametrize("typed", HOSTILE)
def test_markup_is_shown_letter_for_letter(typed: str) -> None:
    assert Paragraph(ink.markup(typed), BODY).getPlainText().replace("\u00a0", " ") == typed


def test_spaces_and_line_breaks_stay() -> None:
    assert ink.markup("a   b\r\nc\n\n  d") == "a\u00a0\u00a0 b<br/>c<br/><br/>\u00a0 d"


def test_control_and_direction_characters_are_dropped() -> None:
    assert ink.plain("a\x00b\x07c\u202ed\u200be\ufefff\x1b[0m") == "abcdef[0m"


def test_an_accent_typed_apart_joins_its_letter() -> None:
    assert ink.plain("e\u0301") == "é"


def test_a_character_that_the_font_lacks_is_a_box_and_is_named() -> None:
    fresh = Ink(load_fonts())
    assert fresh.plain("漢 😀 ש ½ 漢") == f"{BOX} {BOX} {BOX} ½ {BOX}"
    assert fresh.missing == ("漢", "😀", "ש")
    assert "grinning face" in missing_sentence(fresh.missing)
    assert missing_sentence(()) == ""


@settings(max_examples=150, deadline=None)
@given(st.text(st.characters(), max_size=60))
def test_any_text_makes_a_paragraph_that_only_needs_glyphs_of_the_font(typed: str) -> None:
    shown = Paragraph(ink.markup(typed), BODY).getPlainText()
    assert all(ord(c) in load_fonts() for c in shown if c not in "\n ")
    kept = [c for c in unicodedata.normalize("NFC", typed) if ord(c) in load_fonts() and not c.isspace()]
    letters = [c for c in kept if unicodedata.category(c) not in ("Cc", "Cf")]
    assert [c for c in shown if c not in BOX and not c.isspace()] == [c for c in letters if c not in BOX]


@given(st.text(alphabet="Wilm. ", max_size=200), st.floats(20, 300))
def test_a_line_cut_to_fit_fits(text: str, width: float) -> None:
    short = fitted(text, width, text_width, 8)
    assert text_width(short, 8) <= width
    assert short == text or short.endswith("…")
