"""A day's jobs, the terms of an invented contractor, and a quote."""

from datetime import date
from typing import Any

from logic.records.reckon import Reckoning, reckon
from logic.supply.business import Terms, terms_of
from logic.supply.buying import Buying, buy
from logic.supply.estimate import Estimate, Extra, estimate
from logic.supply.money import money
from logic.supply.needs import Job, needs
from logic.supply.packs import Pack

DAY = date(2026, 9, 14)
OBLONG = {"method": "rectangle", "length": "12 m ± 5 cm", "width": "10 m ± 5 cm"}
WORKS: list[dict[str, Any]] = [
    {"operation": "coring", "tine_diameter": "12 mm", "depth": "75 mm",
     "spacing_across": "50 mm", "spacing_along": "50 mm"},
    {"operation": "overseeding", "rate": "8 g/m^2", "species": "browntop_bent", "carrier_ratio": "6"},
    {"operation": "topdressing", "depth": "3 mm"},
    {"operation": "feeding", "n": "12 %", "p2o5": "4 %", "k2o": "8 %", "nutrient_rate": "3 g/m^2"},
    {"operation": "drenching"},
]  # fmt: skip
GIVEN = {
    "hourly": "£32",
    "minimum": "£150",
    "travel_rate": "0.45",
    "profit": "25 %",
    "tax_rate": "20 %",
    "terms": "Payment within 14 days.",
}
SAND = (
    Pack("bag", "25 kg bag", 25, 495, supplier="pit"),
    Pack("bulk", "850 kg bulk bag", 850, 9200, delivery=4500, form="bulk_bag", supplier="pit"),
)


def job(works: list[dict[str, Any]] = WORKS, outline: dict[str, Any] = OBLONG) -> Reckoning:
    return reckon({"outline": outline, "works": works})


def terms(**more: str) -> Terms:
    return terms_of({**GIVEN, **more})


def buyings(works: list[dict[str, Any]] = WORKS) -> tuple[Buying, ...]:
    """Sand has prices; seed, feed and drench have usual sizes at round prices."""
    unit = terms().currency
    packs = {
        "sand": SAND,
        "carrier_sand": (Pack("dry", "20 kg bag", 20, 650),),
        "seed": (Pack("s1", "1 kg bag", 1000, 1900), Pack("s5", "5 kg bag", 5000, 8400)),
        "feed": (Pack("f20", "20 kg bag", 20000, 4100),),
        "drench": (Pack("d1", "1 L can", 1000, 1250),),
        "water": (),
    }
    found = needs([Job("Green", job(works).works)], 0.9)
    return tuple(buy(need, packs[need.material.kind], (), DAY, unit) for need in found)


def sample_estimate(**more: Any) -> Estimate:
    done = job()
    given: dict[str, Any] = {
        "extras": (Extra("hire", "Corer, one day", money(85, terms().currency), "hire"),),
        "distance": 24.0,
        **more,
    }
    return estimate("2026-014", DAY, done.works, done.outline.area, buyings(), terms(), **given)
