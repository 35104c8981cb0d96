"""What the ways of measuring share when they ask: length and angle Fields, settings, and units for steps."""

from __future__ import annotations

from typing import Any

from logic import tables
from logic.field import Field
from logic.units import nominal, plus_minus, quantity, spread


def setting(key: str) -> float:
    """The value of a row of assets/tables/measuring.csv."""
    return float(tables.row("measuring", key=key)["value"])


def usual(key: str) -> tuple[float, float]:
    """The usual range of a row of assets/tables/measuring.csv."""
    record = tables.row("measuring", key=key)
    return float(record["usual_low"]), float(record["usual_high"])


def length(key: str, label: str, like: str = "side", **more: Any) -> Field:
    """A length taken on the ground [m], by tape or in paces. like: the row with its usual range."""
    record = tables.row("measuring", key=like)
    declared: dict[str, Any] = {
        "unit": "m",
        "above": 0,
        "most": 1000,
        "usual": usual(like),
        "paces": True,
        "measured": True,
        "source": tables.source_of(record),
    }
    return Field(key, label, **(declared | more))


def lengths(key: str, label: str, like: str = "width", **more: Any) -> Field:
    """A list of lengths taken on the ground [m]; nought is allowed: the edge may meet the tape."""
    declared: dict[str, Any] = {"kind": "list", "above": None, "least": 0, "usual": (0.0, usual(like)[1])}
    if more.get("above") is not None:
        declared["usual"] = usual(like)
    return length(key, label, like, **(declared | more))


def angle(key: str, label: str, most: float = 360, **more: Any) -> Field:
    """An angle on the ground [degrees]."""
    record = tables.row("measuring", key="angle")
    declared: dict[str, Any] = {
        "unit": "degree",
        "above": 0,
        "most": most,
        "usual": usual("angle"),
        "source": tables.source_of(record),
    }
    return Field(key, label, **(declared | more))


def with_margin(value: Any, key: str, tag: str) -> Any:
    """`value` with the standard uncertainty of the setting `key`, unless it already carries its own."""
    return value if spread(value) else plus_minus(nominal(value), setting(key), tag)


def m(value: Any) -> Any:
    """Metres, for a line of working."""
    return quantity(value, "m")


def m2(value: Any) -> Any:
    """Square metres, for a line of working."""
    return quantity(value, "m^2")


def deg(value: Any) -> Any:
    """Degrees, for a line of working."""
    return quantity(value, "degree")


def percent(fraction: Any) -> Any:
    """A fraction as per cent, for a line of working."""
    return quantity(fraction * 100, "percent")
