"""Overseeding: laws, refusals, warnings and cautions. The published sums stand in tests/checks."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.units import plus_minus
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def sow(area: Any = 100.0, **given: Any) -> Worked:
    return work_out({"operation": "overseeding", **given}, Ground(area=area))


@given(area=st.floats(1, 5000), rate=st.floats(0.5, 60), directions=st.integers(1, 8))
def test_seed_is_linear_in_area_and_its_parts_add_up(area: float, rate: float, directions: int) -> None:
    given = {"rate": f"{rate} g/m^2", "directions": directions, "carrier_ratio": 6}
    once, twice = sow(area, **given), sow(2 * area, **given)
    value = {f.key: f.nominal for f in once.figures}
    assert twice.figure("seed_mass").nominal == pytest.approx(2 * value["seed_mass"])
    assert directions * value["seed_mass_per_pass"] == pytest.approx(value["seed_mass"])
    assert directions * value["weigh_out_per_pass"] == pytest.approx(value["seed_weigh_out"])
    assert value["seed_mass"] + value["seed_left_over"] == pytest.approx(value["seed_weigh_out"])
    assert directions * value["hopper_mass_per_pass"] == pytest.approx(7 * value["seed_weigh_out"])
    # what the setting puts down, less the share that is sand, is the seed that goes down
    assert value["spreader_rate"] * area * directions / 7 == pytest.approx(value["seed_mass"])


@given(rate=st.floats(1, 40))
def test_the_same_sowing_in_other_units_weighs_out_the_same(rate: float) -> None:
    metric = sow(rate=f"{rate} g/m^2").figure("seed_weigh_out").nominal
    # exact by definition (international yard and pound, 1959): lb 453.59237 g, oz lb/16, ft 0.3048 m, yd 3 ft
    per_1000_ft2 = rate * 1000 * 0.3048**2 / 453.59237
    per_yd2 = rate * 0.9144**2 / (453.59237 / 16)
    for text in (f"{per_1000_ft2!r} lb/1000 ft^2", f"{per_yd2!r} oz/yd^2", f"{10 * rate!r} kg/ha"):
        assert sow(rate=text).figure("seed_weigh_out").nominal == pytest.approx(metric)


@given(target=st.floats(1, 8), count=st.floats(400, 20000), establishment=st.floats(10, 60))
def test_sowing_for_a_number_of_seedlings_expects_that_number(
    target: float, count: float, establishment: float
) -> None:
    worked = sow(
        target_density=f"{target} /cm^2", seeds_per_gram=f"{count} /g", establishment=f"{establishment} %"
    )
    assert worked.figure("plants_per_area").nominal == pytest.approx(target)


@given(live=st.floats(0.5, 30), purity=st.floats(75, 100), germination=st.floats(70, 100))
def test_sowing_by_live_seed_puts_that_much_live_seed_down(
    live: float, purity: float, germination: float
) -> None:
    worked = sow(live_rate=f"{live} g/m^2", purity=f"{purity} %", germination=f"{germination} %")
    assert worked.figure("seed_rate").nominal * purity * germination / 10_000 == pytest.approx(live)


def test_only_the_area_makes_the_mass_uncertain() -> None:
    worked = sow(plus_minus(62.4, 2.1), rate="8 g/m^2", species="chewings_fescue")
    mass = worked.figure("seed_mass")
    assert (mass.nominal, mass.plus_minus) == pytest.approx((499.2, 16.8))
    assert worked.figure("seed_weigh_out").order


def test_the_published_range_of_a_count_goes_into_the_plants() -> None:
    # Agronomy Journal 71:415-419, 1979: fine fescues 618 to 1,272 seeds per g, mean 1,020;
    # a rectangular distribution of that width has the standard deviation 654 / 3.4641
    worked = sow(rate="20 g/m^2", species="chewings_fescue", purity=100, germination=100, establishment=50)
    plants = worked.figure("plants_per_area")
    assert plants.nominal == pytest.approx(20 * 1020 / 10_000 * 0.5)
    assert plants.plus_minus / plants.nominal == pytest.approx(654 / 3.4641 / 1020, rel=1e-4)
    assert plants.working()[-1].endswith("0.62 per cm² to 1.3 per cm²")
    assert sow(rate="20 g/m^2", seeds_per_gram=1020).figure("plants_per_area").plus_minus == 0


def test_seed_loses_germination_with_the_years() -> None:
    # 10 % of what is left each year: from memory, unverified (limits.csv)
    worked = sow(rate="20 g/m^2", germination="80 %", purity="100 %", seed_age="2")
    assert worked.figure("germination_now").nominal == pytest.approx(80 * 0.9 * 0.9)
    assert worked.figure("pure_live_seed").nominal == pytest.approx(64.8)
    assert "from memory" in str(worked.figure("germination_now").source)


def test_no_carrier_asks_for_no_sand() -> None:
    assert not {"carrier_mass", "hopper_mass"} & {f.key for f in sow(rate="20 g/m^2").figures}


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({}, "rate", "Fill in the rate"),
        ({"rate": "0"}, "rate", "more than 0"),
        ({"rate": "20", "establishment": "101 %"}, "establishment", "can't be more than 100 %"),
        ({"rate": "20", "germination": "0 %"}, "germination", "more than 0"),
        ({"rate": "20", "directions": "1.5"}, "directions", "whole number"),
        ({"target_density": "2 /cm^2"}, "seeds_per_gram", "how many seeds are in a gram"),
        ({"rate": "20", "species": "moss"}, "species", "must be one of"),
    ],
)
def test_what_cannot_be_is_refused(given: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        sow(**given)
    assert caught.value.field_key == field


@pytest.mark.parametrize(
    ("given", "words"),
    [
        # D. Brede, 2000 (second-hand): Chewings fescue 3.5 to 6 lb per 1000 ft², 17.1 to 29.3 g/m²
        ({"rate": "35", "species": "chewings_fescue"}, "mostly sown at 17.1 g/m² to 29.3 g/m²"),
        ({"rate": "10", "species": "chewings_fescue"}, "this is 10 g/m²"),
        # Commission Directive 2009/74/EC: bents germination 75 %, purity 90 %
        (
            {"rate": "6", "species": "creeping_bent", "germination": 74},
            "certified from a germination of 75 % up",
        ),
        ({"rate": "6", "species": "creeping_bent", "purity": 89}, "certified from a purity of 90 % up"),
        # UMass Extension: 7 to 14 plants per in²; Madison: below 5.4 to 8.6 per cm²
        ({"rate": "30", "seeds_per_gram": 13228}, "they crowd"),
        ({"rate": "3", "seeds_per_gram": 1020}, "bare ground stays thin"),
        # Madison: 1/4 in still suited one bent, 1/2 in cut stands by up to three quarters
        ({"rate": "6", "species": "creeping_bent", "cover_depth": "8 mm"}, "cover it by 6 mm at most"),
        ({"rate": "6", "species": "creeping_bent", "cover_depth": "0.5 in"}, "loses most of a bent stand"),
    ],
)
def test_each_warning(given: dict[str, Any], words: str) -> None:
    said = sow(**given).warnings
    assert any(words in sentence for sentence in said), said
    assert all("Source: " in sentence for sentence in said)


@pytest.mark.parametrize(
    "given",
    [
        {"rate": "28", "species": "chewings_fescue", "establishment": 50},
        {"rate": "6", "species": "creeping_bent", "cover_depth": "5 mm"},
        {"rate": "28", "species": "chewings_fescue", "cover_depth": "10 mm", "establishment": 50},
    ],
)
def test_a_usual_sowing_warns_of_nothing(given: dict[str, Any]) -> None:
    assert not sow(**given).warnings


def test_cautions_for_new_seed_and_for_a_bouncing_hopper() -> None:
    assert {c.key for c in sow(rate="20").cautions} == {"seed_keep_off", "seed_separates"}


def test_the_working_reads_as_notes() -> None:
    worked = sow(150.0, rate="20 g/m^2", carrier_ratio=4)
    assert worked.figure("weigh_out_per_pass").working() == (
        "area 150 m² × rate 20 g/m² = 3 kg",
        "3 kg with 5 % extra = 3.15 kg",
        "3.15 kg in 2 equal parts = 1.575 kg",
    )
    assert worked.figure("spreader_rate").working()[-1] == "10 g/m² × 5 parts, sand and seed = 50 g/m²"
