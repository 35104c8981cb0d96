"""Feeding: laws, refusals, warnings and cautions. The published sums stand in tests/checks."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.units import plus_minus
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def feed(area: Any = 100.0, **given: str) -> Worked:
    return work_out({"operation": "feeding", **given}, Ground(area=area))


@given(area=st.floats(1, 5000), rate=st.floats(0.1, 20), percent=st.floats(1, 46))
def test_feed_is_linear_in_area_and_its_halves_add_up(area: float, rate: float, percent: float) -> None:
    label = {"n": f"{percent} %", "nutrient_rate": f"{rate} g/m^2"}
    once, twice = feed(area, **label), feed(2 * area, **label)
    mass = once.figure("product_mass").nominal
    assert twice.figure("product_mass").nominal == pytest.approx(2 * mass)
    assert 2 * once.figure("product_mass_per_pass").nominal == pytest.approx(mass)
    assert once.figure("n_rate").nominal == pytest.approx(rate)


@given(rate=st.floats(0.5, 8))
def test_the_same_feeding_in_other_units_gives_the_same_mass(rate: float) -> None:
    metric = feed(n="15", nutrient_rate=f"{rate} g/m^2")
    # exact by definition (international yard and pound, 1959): lb 453.59237 g, oz lb/16, ft 0.3048 m, yd 3 ft
    per_1000_ft2 = rate * 1000 * 0.3048**2 / 453.59237
    per_yd2 = rate * 0.9144**2 / (453.59237 / 16)
    for text in (f"{per_1000_ft2!r} lb/1000 ft^2", f"{per_yd2!r} oz/yd^2", f"{10 * rate!r} kg/ha"):
        other = feed(n="15", nutrient_rate=text)
        assert other.figure("product_mass").nominal == pytest.approx(metric.figure("product_mass").nominal)


def test_the_margin_of_the_area_goes_into_the_mass_and_the_bags() -> None:
    worked = feed(plus_minus(100.0, 5.0), n="10", product_rate="50 g/m^2", bag_mass="5 kg")
    mass = worked.figure("product_mass")
    assert (mass.nominal, mass.plus_minus) == pytest.approx((5000, 250))
    assert worked.figure("bags").nominal == 2
    assert feed(100.0, n="10", product_rate="50 g/m^2", bag_mass="5 kg").figure("bags").nominal == 1


def test_an_elemental_label_counts_p_and_k_as_they_are() -> None:
    worked = feed(n="10", p2o5="5", k2o="8", label_basis="elemental", product_rate="100 g/m^2")
    assert worked.figure("p_rate").nominal == pytest.approx(5)
    assert worked.figure("k_rate").nominal == pytest.approx(8)


@pytest.mark.parametrize(
    ("nutrient", "rate"),
    # published factors 0.4364 and 0.8301 (University of Minnesota Extension rounds them to 0.44 and 0.83)
    [("p2o5", 3 / 0.05), ("p", 3 / (0.05 * 0.4364)), ("k", 3 / (0.08 * 0.8301)), ("fe", 3 / 0.02)],
)
def test_feed_by_any_nutrient(nutrient: str, rate: float) -> None:
    worked = feed(n="10", p2o5="5", k2o="8", fe="2", nutrient=nutrient, nutrient_rate="3 g/m^2")
    assert worked.figure("product_rate").nominal == pytest.approx(rate, rel=2e-4)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"n": "60", "k2o": "50", "product_rate": "30"}, "n", "more than 100 %"),
        ({"product_rate": "30"}, "n", "at least one figure"),
        ({"n": "10", "nutrient": "k2o", "nutrient_rate": "2"}, "nutrient", "no K2O on its label"),
        ({"n": "-1", "product_rate": "30"}, "n", "can't be negative"),
        ({"n": "10", "product_rate": "0"}, "product_rate", "more than 0"),
        ({"n": "10", "product_rate": "3 L/ha"}, "product_rate", "can't be in L/ha"),
    ],
)
def test_what_cannot_be_is_refused(given: dict[str, str], field: str, words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        feed(**given)
    assert caught.value.field_key == field


def test_a_single_dose_above_the_published_one_warns() -> None:
    # University of Illinois turf articles, 1995: at most 1 lb N per 1000 ft² (4.9 g/m²) at once
    assert not feed(n="10", product_rate="48 g/m^2").warnings
    (said,) = feed(n="10", product_rate="52 g/m^2").warnings
    assert "5.2 g/m² of N is more than 4.9 g/m² at once" in said


def test_a_fine_green_warns_sooner() -> None:
    # 1 to 2 g of soluble N on a fine green: from memory, unverified
    (said,) = feed(n="10", product_rate="25 g/m^2", turf="bent_fescue").warnings
    assert "more than 2 g/m² at once" in said
    assert "from memory, unverified" in said


def test_the_year_is_added_up_and_warned_of() -> None:
    # University of Illinois: fine fescues 1 to 3 lb N per 1000 ft² a year, 4.9 to 14.6 g/m²
    given = {"n": "10", "product_rate": "15 g/m^2", "turf": "fine_fescue"}
    assert not feed(**given, n_so_far="13 g/m^2").warnings
    worked = feed(**given, n_so_far="14 g/m^2")
    assert worked.figure("n_this_year").nominal == pytest.approx(15.5)
    assert "the year to 15.5 g/m² of N; fine fescues are fed 4.9 g/m² to 14.6 g/m²" in worked.warnings[0]


def test_cautions_of_scorch_and_run_off_always_and_of_stains_with_iron() -> None:
    plain = {c.key for c in feed(n="10", product_rate="20 g/m^2").cautions}
    iron = {c.key for c in feed(n="10", fe="3", product_rate="20 g/m^2").cautions}
    assert plain == {"feed_scorch", "feed_runoff"}
    assert iron == plain | {"iron_stains"}


def test_a_heavy_bag_brings_the_caution_of_lifting() -> None:
    # HSE's filter for lifts that start at the ground, second-hand: 10 kg
    def keys(bag: str) -> set[str]:
        return {c.key for c in feed(n="10", product_rate="20 g/m^2", bag_mass=bag).cautions}

    assert "bag_lifting" in keys("25 kg")
    assert "bag_lifting" not in keys("10 kg")


def test_the_working_reads_as_notes() -> None:
    worked = feed(150.0, n="12", nutrient_rate="3 g/m^2")
    assert worked.figure("product_rate").working() == ("3 g/m² of N wanted ÷ 12 % in the feed = 25 g/m²",)
    assert worked.figure("product_mass").working() == ("area 150 m² × rate 25 g/m² = 3.75 kg",)
