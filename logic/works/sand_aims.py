"""A year's sand against the published aims in assets/tables/sand_aims.csv."""

from __future__ import annotations

from collections.abc import Iterator

from logic import tables
from logic.units import quantity, text_of


def compared(depth: float) -> Iterator[str]:
    """Sentences that set a year's sand [mm] beside the published aims."""
    aims = tables.rows("sand_aims")
    low, high = min(float(a["low"]) for a in aims), max(float(a["high"]) for a in aims)
    shown = text_of(quantity(depth, "mm"))
    listed = "; ".join(f"{_range(a['low'], a['high'])}, {a['what']}" for a in aims)
    if depth > high:
        yield f"{shown} of sand this year is more than any published aim for greens ({listed})."
    elif depth < low:
        yield f"{shown} of sand this year is less than the published aims for greens ({listed})."


def _range(low: str, high: str) -> str:
    if low == high:
        return text_of(quantity(float(low), "mm"))
    return f"{text_of(quantity(float(low), ''))} to {text_of(quantity(float(high), 'mm'))}"
