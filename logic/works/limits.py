"""The limits that works warn at: rows of assets/tables/limits.csv, each with its source."""

from __future__ import annotations

from typing import Any

from logic import tables
from logic.figure import Source
from logic.units import quantity


def limit(key: str) -> float:
    """The limit named `key`, in the unit of its row. Raises LookupError."""
    return float(tables.row("limits", key=key)["value"])


def limit_quantity(key: str) -> Any:
    """The limit as a quantity, to be written in a sentence or a line of working."""
    return quantity(limit(key), tables.row("limits", key=key)["unit"])


def limit_source(key: str) -> Source:
    """Where the limit comes from."""
    return tables.source_of(tables.row("limits", key=key))
