"""The grasses of assets/tables/species.csv: seed counts, usual rates, least quality of certified seed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from logic import tables
from logic.figure import Source
from logic.units import quantity, text_of

NOT_SAID = "not_said"


@dataclass(frozen=True)
class Count:
    """Seeds in a gram [1/g], the published lowest and highest (the same when none are), and whose count."""

    value: float
    low: float
    high: float
    source: Source


@cache
def choices() -> tuple[tuple[str, str], ...]:
    """The grasses as (key, name), the first for "not said"."""
    return ((NOT_SAID, "Not said"), *{r["species"]: r["name"] for r in tables.rows("species")}.items())


def name_of(species: str) -> str:
    """The name of a grass."""
    return dict(choices())[species]


def count_of(species: str) -> Count:
    """The seed count of a grass in the table. Raises LookupError."""
    found = tables.row("species", species=species, field="seeds_per_gram")
    value = float(found["value"])
    low, high = (float(found[edge]) if found[edge] else value for edge in ("low", "high"))
    return Count(value, low, high, tables.source_of(found))


def _rates(species: str) -> list[Mapping[str, str]]:
    return [r for r in tables.rows("species") if r["species"] == species and r["field"] == "rate"]


def rate_warning(species: str, rate: float) -> str:
    """A sentence when `rate` of bag seed [g/m²] is outside the published rates of the grass, else ""."""
    found = _rates(species)
    if not found:
        return ""
    low, high = min(float(r["low"]) for r in found), max(float(r["high"]) for r in found)
    if low <= rate <= high:
        return ""
    edge = (
        min(found, key=lambda r: float(r["low"]))
        if rate < low
        else max(found, key=lambda r: float(r["high"]))
    )
    return (
        f"{name_of(species)} is mostly sown at {_rate(low)} to {_rate(high)} of bag seed; "
        f"this is {_rate(rate)}. Source: {tables.source_of(edge)}."
    )


def quality_warnings(species: str, purity: float, germination: float) -> tuple[str, ...]:
    """Sentences when purity or germination [%] is below the least of certified seed of the grass."""
    said = []
    for field, words, value in (
        ("least_purity", "purity", purity),
        ("least_germination", "germination", germination),
    ):
        found = [r for r in tables.rows("species") if r["species"] == species and r["field"] == field]
        if found and value < float(found[0]["value"]):
            least = text_of(quantity(float(found[0]["value"]), "%"))
            said.append(
                f"{name_of(species)} is certified from a {words} of {least} up; this is "
                f"{text_of(quantity(value, '%'))}. Source: {tables.source_of(found[0])}."
            )
    return tuple(said)


def _rate(value: float) -> str:
    return text_of(quantity(value, "g/m^2"))
