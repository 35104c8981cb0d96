"""Published feed figures: labels, rates, liquids, iron. Rows of inputs.csv by id."""

from __future__ import annotations

from typing import Any

import pytest

from logic.works.operation import Ground, Worked
from logic.works.operations import work_out

# exact by definition (international yard and pound, 1959)
POUND = 453.59237  # g
THOUSAND_FT2 = 1000 * 0.3048**2  # m²


def feed(area: float = THOUSAND_FT2, **given: Any) -> Worked:
    return work_out({"operation": "feeding", **given}, Ground(area=area))


def pounds(worked: Worked, key: str) -> float:
    """A figure in g, or in g/m² over 1000 ft², as pounds."""
    one = worked.figure(key)
    grams = one.nominal * THOUSAND_FT2 if one.unit == "g/m^2" else one.nominal
    return grams / POUND


def test_phosphorus_in_its_oxide(check: Any) -> None:
    worked = feed(p2o5="100 %", product_rate="1 g/m^2")
    check("I-C059").holds(worked.figure("p_rate").nominal, "0.4364")


@pytest.mark.parametrize(("key", "wanted"), [("n_rate", "18"), ("p_rate", "1.06"), ("k_rate", "1.99")])
def test_what_a_bag_holds(check: Any, key: str, wanted: str) -> None:
    check("I-C061").given("60 lb", "30-4-4")
    worked = feed(n="30 %", p2o5="4 %", k2o="4 %", product_rate="60 lb/1000 ft^2")
    assert pounds(worked, "product_mass") == pytest.approx(60)
    check("I-C061").holds(pounds(worked, key), wanted)


def test_half_the_rate_each_way(check: Any) -> None:
    # the neighbouring row of the same sheet: 5.00 lb of feed per 1000 ft² in all
    check("I-C063").given("half rate, two directions")
    worked = feed(n="20", product_rate="5.00 lb/1000 ft^2", directions=2)
    check("I-C063").holds(pounds(worked, "product_mass_per_pass"), "2.50")
    check("I-C063").holds(pounds(worked, "spreader_rate"), "2.50")


def test_feed_for_potash(check: Any) -> None:
    check("I-C064").given("2 lb K2O/1000 ft2", "0-0-22")
    worked = feed(k2o="22 %", nutrient="k2o", nutrient_rate="2 lb/1000 ft^2")
    check("I-C064").holds(pounds(worked, "product_rate"), "9.09")


def test_feed_for_nitrogen(check: Any) -> None:
    check("I-C065").given("0.9 lb N/1000 ft2", "20-5-10")
    worked = feed(n=20, p2o5=5, k2o=10, nutrient_rate="0.9 lb/1000 ft^2")
    check("I-C065").holds(pounds(worked, "product_rate"), "4.50")


def test_feed_for_a_small_green(check: Any) -> None:
    check("I-C066").given("3 g N/m2", "12 % N", "150 m2")
    worked = feed(150.0, n="12 %", nutrient_rate="3 g/m^2")
    check("I-C066").holds(worked.figure("product_rate").nominal, "25.0")
    check("I-C066").holds(worked.figure("product_mass").nominal / 1000, "3.75")


def test_liquid_feed(check: Any) -> None:
    check("I-C067").given("0.5 g N/m2", "10 % N w/v", "100 m2")
    entry = {"operation": "liquid_feeding", "n": "10 %", "nutrient_rate": "0.5 g/m^2"}
    worked = work_out(entry, Ground(area=100.0))
    check("I-C067").holds(worked.figure("product_volume").nominal, "500")


def test_a_season_of_nitrogen(check: Any) -> None:
    check("I-C068").given("33 kg N", "1.2 ha")
    entry = {"operation": "rate_applied", "mass_out": "33 kg", "covered": "1.2 ha"}
    rate = work_out(entry, Ground(area=12_000.0)).figure("applied_rate").nominal
    check("I-C068").holds(rate * 10, "27.5")
    check("I-C068").holds(rate, "2.75")


def iron(**given: str) -> Worked:
    return work_out({"operation": "iron", **given}, Ground(area=100.0))


def test_iron_in_the_crystals(check: Any) -> None:
    worked = iron(product_rate="100 g/m^2")
    check("I-C070").holds(worked.figure("fe_rate").nominal, "20.1")


def test_iron_for_colour(check: Any) -> None:
    check("I-C071").given("0.03 lb Fe/1000 ft2")
    worked = iron(fe_rate="0.03 lb/1000 ft^2")
    check("I-C071").holds(worked.figure("fe_rate").nominal, "0.146")
    check("I-C071").holds(worked.figure("product_rate").nominal, "0.73")


@pytest.mark.parametrize(
    ("row", "said", "rate", "crystals"),
    [
        ("I-C072", "0.2", "0.2 lb/1000 ft^2", "4.86"),
        ("I-C072", "0.6", "0.6 lb/1000 ft^2", "14.58"),
        ("I-C073", "40 kg Fe/ha", "40 kg/ha", "19.9"),
    ],
)
def test_iron_of_the_published_trials(check: Any, row: str, said: str, rate: str, crystals: str) -> None:
    check(row).given(said)
    check(row).holds(iron(fe_rate=rate).figure("product_rate").nominal, crystals)
