"""Liquid feeding: laws, refusals, warnings and cautions. The published sums stand in tests/checks."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def feed(area: float = 100.0, **given: Any) -> Worked:
    return work_out({"operation": "liquid_feeding", **given}, Ground(area=area))


@given(percent=st.floats(1, 30), density=st.floats(0.9, 1.6), rate=st.floats(0.1, 3))
def test_a_label_by_weight_is_one_by_volume_over_the_density(
    percent: float, density: float, rate: float
) -> None:
    wanted = {"n": percent, "nutrient_rate": f"{rate} g/m^2", "water_rate": "10 L/m^2"}
    by_volume = feed(**wanted).figure("product_volume").nominal
    by_weight = feed(**wanted, label_by="weight", density=f"{density} kg/L").figure("product_volume").nominal
    assert by_weight * density == pytest.approx(by_volume)


@given(percent=st.floats(1, 30), rate=st.floats(0.1, 3))
def test_the_nutrient_wanted_is_what_goes_down(percent: float, rate: float) -> None:
    for way in ({}, {"label_by": "weight", "density": "1.25 kg/L"}):
        worked = feed(n=percent, nutrient_rate=f"{rate} g/m^2", water_rate="10 L/m^2", **way)
        assert worked.figure("n_rate").nominal == pytest.approx(rate)


def test_twice_the_area_needs_twice_the_concentrate_and_water() -> None:
    one, two = (feed(area, n=10, product_rate="20 L/ha") for area in (80.0, 160.0))
    for key in ("product_volume", "water_volume"):
        assert two.figure(key).nominal == pytest.approx(2 * one.figure(key).nominal)
    assert two.figure("n_rate").nominal == pytest.approx(one.figure("n_rate").nominal)


def test_potash_of_an_oxide_label() -> None:
    # 0.8301 g K in a g of K2O (atomic weights): 5 mL/m² of 10 % w/v gives 0.5 g K2O, 0.415 g K
    worked = feed(k2o=10, product_rate="5 mL/m^2")
    assert worked.figure("k_rate").nominal == pytest.approx(0.415, abs=1e-3)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"n": 10, "label_by": "weight", "nutrient_rate": 1}, "density", "what a litre of the feed weighs"),
        ({"n": 10, "nutrient": "fe", "nutrient_rate": 1}, "nutrient", "no Fe on its label"),
        ({"nutrient_rate": 1}, "n", "at least one figure"),
        ({"n": 10, "product_rate": "60 mL/m^2"}, "water_rate", "more product than water"),
    ],
)
def test_what_cannot_be_is_refused(given: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        feed(**given)
    assert caught.value.field_key == field


def test_one_dose_and_the_year_warn() -> None:
    # fine green: 1 to 2 g soluble N at once, 6 to 12 g a year: from memory, unverified
    worked = feed(n=10, nutrient_rate="2.5 g/m^2", turf="bent_fescue", n_so_far="10 g/m^2")
    assert "more than 2 g/m² at once" in worked.warnings[0]
    assert "the year to 12.5 g/m²" in worked.warnings[1]


def test_cautions_of_scorch_label_and_filling_and_of_stains_with_iron() -> None:
    plain = {c.key for c in feed(n=10, product_rate="20 L/ha").cautions}
    assert plain == {"feed_scorch_liquid", "label_first", "tank_filling", "carry_water"}
    assert "iron_stains" in {c.key for c in feed(n=10, fe=2, product_rate="20 L/ha").cautions}


def test_the_working_reads_as_notes() -> None:
    worked = feed(n=10, label_by="weight", density="1.25 kg/L", nutrient_rate="1 g/m^2")
    assert worked.figure("product_rate").working() == ("1 g/m² of N wanted ÷ (10 % × 1.25 kg/L) = 8 mL/m²",)
    assert worked.figure("n_rate").working() == (
        "8 mL/m² × 1.25 kg/L = 10 g/m²",
        "10 g/m² of feed × 10 % = 1 g/m² of N",
    )
