"""The limits that timing goes by: rows of assets/tables/timing_limits.csv, each with its source."""

from __future__ import annotations

from typing import Any

from logic import tables
from logic.figure import Source
from logic.units import quantity, text_of


def limit(key: str) -> float:
    """The limit named `key`, in the unit of its row. Raises LookupError."""
    return float(tables.row("timing_limits", key=key)["value"])


def limit_quantity(key: str) -> Any:
    """The limit as a quantity."""
    return quantity(limit(key), tables.row("timing_limits", key=key)["unit"])


def limit_text(key: str) -> str:
    """The limit as people read it."""
    return text_of(limit_quantity(key))


def limit_source(key: str) -> Source:
    """Where the limit comes from."""
    return tables.source_of(tables.row("timing_limits", key=key))
