"""Class words and limits of readings: rows of survey_classes.csv and survey_limits.csv, each with its
source."""

from __future__ import annotations

from typing import Any

from logic import tables
from logic.figure import Source
from logic.survey.kind import Label
from logic.units import quantity, text_of


def limit(key: str) -> float:
    """The limit named `key`, in the unit of its row. Raises LookupError."""
    return float(tables.row("survey_limits", key=key)["value"])


def limit_quantity(key: str) -> Any:
    """The limit as a quantity, to be written in a sentence or a line of working."""
    return quantity(limit(key), tables.row("survey_limits", key=key)["unit"])


def limit_text(key: str) -> str:
    """The limit as people read it."""
    return text_of(limit_quantity(key))


def limit_source(key: str) -> Source:
    """Where the limit comes from."""
    return tables.source_of(tables.row("survey_limits", key=key))


def label(figure_key: str, scale: str, value: float, surface: str = "") -> Label:
    """The class word of `value` on a scale of survey_classes.csv: the first row that the value lies below.

    surface: "green" or "lawn" where the scale tells them apart. Raises LookupError for an unknown scale.
    """
    for row in tables.rows("survey_classes"):
        if row["scale"] != scale or row["surface"] not in ("", surface):
            continue
        if not row["below"] or value < float(row["below"]):
            return Label(figure_key, row["word"], tables.source_of(row))
    raise LookupError(f"no class for {scale} {surface}")
