"""Triangles from their sides, for every method that splits the ground into triangles."""

from __future__ import annotations

import math
from typing import Any

from uncertainties import umath

from logic.errors import ImpossibleShape
from logic.figure import Source
from logic.measure.geometry import Point
from logic.units import nominal, quantity, text_of

SOURCE = Source("Three sides (Heron's formula): OpenStax, Algebra and Trigonometry, Non-right Triangles")


def heron(a: Any, b: Any, c: Any) -> Any:
    """Area [m²] of a triangle with sides a, b, c [m], ± allowed; the sides must have been checked.

    Formula in the order that keeps precision in needles (Kahan; from memory, held against
    coordinates in the tests).
    """
    c, b, a = sorted((a, b, c), key=nominal)
    return umath.sqrt((a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c))) / 4


def refuse_impossible(
    names: tuple[str, ...], a: Any, b: Any, c: Any, keys: tuple[str, ...] | None = None
) -> None:
    """Raise ImpossibleShape when no triangle has these sides: one is as long as the other two together.

    names: what the sides are called; keys: their fields, where they are called otherwise.
    """
    sides = sorted(zip(map(nominal, (a, b, c)), names, keys or names, strict=True))
    (short, one, _), (middle, two, _), (long, three, key) = sides
    if long >= short + middle:
        raise ImpossibleShape(
            f"These three lengths do not close a triangle: {three} ({_m(long)}) must be shorter than "
            f"{one} and {two} together ({_m(short + middle)}). Check them.",
            key,
        )


def third_corner(a: float, b: float, c: float) -> Point:
    """The corner at distance b from (0, 0) and c from (a, 0), above the side a [m]."""
    x = (a * a + b * b - c * c) / (2 * a)
    return x, math.sqrt(max(0.0, b * b - x * x))


def _m(value: float) -> str:
    return text_of(quantity(value, "m"))
