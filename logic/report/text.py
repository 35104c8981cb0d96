"""Text that people typed, made fit for paper: data, never markup, and only what the font can draw."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Container, Iterable
from xml.sax.saxutils import escape

#: Stands for a character that the font lacks.
BOX = "□"
_BREAKS = {"\n", "\v", "\f", "\x85", "\u2028", "\u2029"}


class Ink:
    """Readies text for a font. covered: the code points that it has a glyph for.

    missing collects the characters that came out as boxes, in the order in which they were met.
    """

    def __init__(self, covered: Container[int]) -> None:
        self._covered = covered
        self._missing: dict[str, None] = {}

    @property
    def missing(self) -> tuple[str, ...]:
        """Each character that the font lacks, once."""
        return tuple(self._missing)

    def plain(self, text: str) -> str:
        """`text` as it can be drawn: composed, without control and direction characters, breaks as "\\n"."""
        composed = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))
        return "".join(self._drawn(character) for character in composed)

    def line(self, text: str) -> str:
        """The same on one line, breaks becoming spaces."""
        return " ".join(self.plain(text).split())

    def markup(self, text: str) -> str:
        """`text` as a paragraph's markup that shows it letter for letter, spaces and line breaks too."""
        lines = self.plain(text).strip("\n").split("\n")
        return "<br/>".join(re.sub(r"^ | (?= )", "\u00a0", escape(line)) for line in lines)

    def _drawn(self, character: str) -> str:
        if character in _BREAKS:
            return "\n"
        if character == "\t":
            return "    "
        category = unicodedata.category(character)
        if category in ("Cc", "Cf"):
            return ""
        if ord(character) in self._covered:
            return character
        if category == "Zs":
            return " "
        self._missing[character] = None
        return "" if category in ("Mn", "Me") else BOX


def fitted(text: str, width: float, measure: Callable[[str, float], float], size: float) -> str:
    """`text` cut with "…" to be at most `width` wide; measure: (text, size) → width."""
    if measure(text, size) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        half = (low + high + 1) // 2
        low, high = (half, high) if measure(text[:half].rstrip() + "…", size) <= width else (low, half - 1)
    return text[:low].rstrip() + "…"


def missing_sentence(missing: Iterable[str]) -> str:
    """One sentence on characters that are not in the font, "" when there are none."""
    shown = list(missing)
    if not shown:
        return ""
    names = ", ".join(_named(character) for character in shown[:5])
    more = f" and {len(shown) - 5} more" if len(shown) > 5 else ""
    return f"These characters can't be printed and come out as {BOX}: {names}{more}."


def _named(character: str) -> str:
    return unicodedata.name(character, f"U+{ord(character):04X}").lower()
