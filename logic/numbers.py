"""Numbers as people write them: decimal point or comma, thousands set apart, fractions."""

from __future__ import annotations

import math
import re

from logic.errors import BadValue

FRACTIONS = {"½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3}
FRACTIONS |= {"⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8}
_SPACES = " \u00a0\u2009\u202f"  # what stands between thousands
_DIGITS = rf"\d{{1,3}}(?:[{_SPACES}]\d{{3}})+(?!\d)(?:[.,]\d+)?|\d[\d.,]*|[.,]\d+"
_SIGN_FRACTION = f"[{''.join(FRACTIONS)}]"
_TYPED_FRACTION = r"\d\d?/(?:2|3|4|8|16|32|64)(?!\d)"  # those of a rule; more would swallow "1/1000 ft²"
NUMBER = re.compile(
    rf"\s*(?P<sign>[-+−]?)(?:(?P<part>{_SIGN_FRACTION}|{_TYPED_FRACTION})|"
    rf"(?P<digits>{_DIGITS})(?P<power>[eE][-+]?\d{{1,3}})?"
    rf"(?:\s*(?P<and_sign>{_SIGN_FRACTION})|\s+(?P<and_typed>{_TYPED_FRACTION}))?)\s*"
)


def number(text: str) -> float:
    """The number that `text` writes, with a decimal point or comma, and fractions ("3½", "1/2").

    Raises BadValue for anything else, and for "1,000", which can be read two ways.
    """
    match = NUMBER.fullmatch(text)
    if not match:
        raise not_a_number(text)
    return value_of(match)


def value_of(match: re.Match[str]) -> float:
    """The value of a match of NUMBER. Raises BadValue."""
    value = _plain(match["digits"], match["power"] or "") if match["digits"] else 0.0
    value += _fraction(match["part"] or match["and_sign"] or match["and_typed"])
    if not math.isfinite(value):
        raise not_a_number(match[0])
    return -value if match["sign"] in ("-", "−") else value


def _plain(digits: str, power: str) -> float:
    """Digits with a decimal point or comma, and with thousands set apart by the other one or by spaces."""
    whole = "".join(digits.split())
    last = max(whole.rfind(","), whole.rfind("."))
    point = whole[last] if last >= 0 else "."
    other = "," if point == "." else "."
    if whole.count(point) > 1:  # one that comes twice sets thousands apart
        point, other = other, point
    head, _, tail = whole.partition(point)
    if other in tail or (other in head and not re.fullmatch(rf"\d{{1,3}}(?:\{other}\d{{3}})+", head)):
        raise not_a_number(digits)
    if point == "," and other not in head and len(tail) == 3 and head not in ("", "0"):
        raise BadValue(
            "", f"“{said(digits)}” can be read two ways: write {said(head + tail)} or {said(head)}.{tail}."
        )
    return float(f"{head.replace(other, '') or 0}.{tail or 0}{power}")


def _fraction(text: str | None) -> float:
    if not text:
        return 0.0
    if text in FRACTIONS:
        return FRACTIONS[text]
    over, _, under = text.partition("/")
    return int(over) / int(under)


def not_a_number(text: str) -> BadValue:
    """What to raise for text that is no number."""
    return BadValue("", f"“{said(text)}” is not a number.")


def said(text: str) -> str:
    """What was typed, short enough and on one line for a sentence."""
    line = " ".join(text[:200].split())
    return line if len(line) <= 30 else f"{line[:29]}…"
