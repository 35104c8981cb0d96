"""How deep JSON text is nested, found out before it is parsed.

In the browser a parser that goes too deep ends the whole of Python, with no error to catch.
"""

from __future__ import annotations

import re

_STRINGS = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"', re.DOTALL)
_BRACKETS = re.compile(r"[\[\]{}]")


def is_deeper(text: str, levels: int) -> bool:
    """Whether more than `levels` lists and objects of JSON text lie within one another."""
    depth = 0
    for bracket in _BRACKETS.finditer(_STRINGS.sub("", text)):
        depth += 1 if bracket[0] in "[{" else -1
        if depth > levels:
            return True
    return False
