"""A job worked out, and the papers' data made from it."""

from dataclasses import replace
from datetime import date
from typing import Any

from logic.measure.outline import Outline
from logic.records.reckon import reckon
from logic.report.content import Party, SummaryData, from_reckoning

PACE = {"course": "20 m", "counts": [27, 26.5, 27]}
OVAL = {"method": "ellipse", "length": "16 paces", "width": "8.4 m"}
WORKS = [
    {"operation": "coring", "tine_diameter": "12 mm", "depth": "75 mm",
     "spacing_across": "50 mm", "spacing_along": "50 mm"},
    {"operation": "overseeding", "rate": "8 g/m^2", "seeds_per_gram": "13000", "carrier_ratio": "6"},
    {"operation": "topdressing", "depth": "3 mm"},
    {"operation": "feeding", "n": "12 %", "p2o5": "4 %", "k2o": "8 %", "nutrient_rate": "3 g/m^2"},
    {"operation": "drenching"},
    {"operation": "overseeding", "target_density": "2 per cm^2", "seeds_per_gram": "900"},
]  # fmt: skip
FIRM = Party(
    name="Hartwell Fine Turf",
    person="Rowan Hartwell",
    address="Unit 3, Sedge Yard\nLower Ashcombe",
    phone="01632 960123",
    email="rowan@hartwell.example.com",
)


def outline(given: dict[str, Any] = OVAL) -> Outline:
    """The outline of a job file's "outline" part."""
    return reckon({"pace": PACE, "outline": given}).outline


def summary_data(
    given: dict[str, Any] = OVAL, works: list[dict[str, Any]] = WORKS, **more: Any
) -> SummaryData:
    """A summary of six operations on an oval green; `more` changes its fields."""
    data = from_reckoning(
        reckon({"pace": PACE, "outline": given, "works": works}),
        letterhead=FIRM,
        client={"name": "Imelda Quillfeather", "address": "The Old Rectory\nNether Wending"},
        sward={"name": "Back putting green", "kind": "putting green"},
        day=date(2026, 9, 14),
        aftercare=("Water lightly morning and evening until the seedlings are up.",),
        notes="Sprinkler head by the oak.",
    )
    return replace(data, **more)
