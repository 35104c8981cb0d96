"""Drenching: laws, refusals, warnings and cautions. The published sums stand in tests/checks."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.units import plus_minus
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def drench(area: Any = 120.0, **given: str) -> Worked:
    return work_out({"operation": "drenching", **given}, Ground(area=area))


@given(area=st.floats(5, 2000), water=st.floats(0.1, 2), tank=st.floats(5, 400))
def test_the_tanks_hold_all_the_mix_and_all_the_product(area: float, water: float, tank: float) -> None:
    worked = drench(area, product_rate="2 mL/m^2", water_rate=f"{water} L/m^2", tank=f"{tank} L")
    value = {f.key: f.nominal for f in worked.figures}
    full = round((value["water_volume"] - value["last_tank_volume"]) / tank)
    assert 0 < value["last_tank_volume"] <= tank * (1 + 1e-6)
    assert full * tank + value["last_tank_volume"] == pytest.approx(value["water_volume"])
    poured = full * value["product_per_tank"] + value["product_in_last_tank"]
    assert poured == pytest.approx(value["product_volume"])
    assert value["tank_fills"] == full + 1


@given(parts=st.integers(10, 1000))
def test_one_to_so_many_is_weaker_than_one_in_so_many(parts: int) -> None:
    of_mix = drench(dilution=str(parts), dilution_kind="in").figure("product_volume").nominal
    of_water = drench(dilution=str(parts), dilution_kind="to").figure("product_volume").nominal
    assert of_mix * parts == pytest.approx(of_water * (parts + 1))


@given(rate=st.floats(0.5, 5))
def test_the_same_drench_in_other_units_needs_the_same_product(rate: float) -> None:
    metric = drench(product_rate=f"{rate} mL/m^2").figure("product_volume").nominal
    acre, us_gallon, imperial_gallon = 4046.8564224, 3785.411784, 4546.09  # m², mL, mL: exact by definition
    for text in (
        f"{rate * 10!r} L/ha",
        f"{rate * acre / us_gallon!r} US gal/acre",
        f"{rate * acre / imperial_gallon!r} imp gal/acre",
    ):
        assert drench(product_rate=text).figure("product_volume").nominal == pytest.approx(metric)


def test_a_heavy_seaweed_drench_is_what_stands_there_at_first() -> None:
    # HortScience 45(1):125, 2010: 47.75 L/ha, the heavier published rate of a seaweed liquid
    assert drench().figure("product_rate").nominal == pytest.approx(4.775)


def test_one_tank_that_is_enough() -> None:
    worked = drench(10.0, product_rate="2 mL/m^2", water_rate="1 L/m^2", tank="15 L")
    assert worked.figure("tank_fills").nominal == 1
    assert worked.figure("product_per_tank").nominal == pytest.approx(30)
    assert worked.figure("last_tank_volume").nominal == pytest.approx(10)
    assert worked.figure("product_in_last_tank").nominal == pytest.approx(20)
    assert not worked.figure("product_per_tank").headline


def test_an_uncertain_area_says_how_much_more_the_last_tank_may_need() -> None:
    assert not drench(120.0).warnings
    # 0.9 of a normal error lies below 1.2816 times its standard uncertainty: 1.2816 × 5 m² × 1 L/m² = 6.41 L
    (said,) = drench(plus_minus(120.0, 5.0), water_rate="1 L/m^2").warnings
    assert "6.41 L more" in said


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"dilution": "1"}, "dilution", "less than 2"),
        ({"product_rate": "2", "water_rate": "0"}, "water_rate", "more than 0"),
        ({"product_rate": "150 mL/m^2", "water_rate": "0.1 L/m^2"}, "water_rate", "more product than water"),
        ({"product_rate": "20 g/m^2"}, "product_rate", "can't be in g/m"),
        ({"dilution": "200", "dilution_kind": "of"}, "dilution_kind", "one of: in, to"),
    ],
)
def test_what_cannot_be_is_refused(given: dict[str, str], field: str, words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        drench(**given)
    assert caught.value.field_key == field


def test_an_unusual_rate_warns_and_goes_on() -> None:
    worked = drench(product_rate="80 L/ha")
    assert "Unusual rate of product" in worked.field_warnings["product_rate"]
    assert worked.figure("product_rate").nominal == pytest.approx(8)


def test_the_label_and_the_licence_go_first() -> None:
    said = {c.key: c.sentence for c in drench().cautions}
    assert set(said) == {"label_first", "tank_filling", "carry_water"}
    assert "trained and certified" in said["label_first"]


def test_the_working_reads_as_notes() -> None:
    worked = drench(product_rate="20 L/ha", water_rate="0.4 L/m^2", tank="15 L")
    assert worked.figure("product_rate").working() == ("as given: 2 mL/m² = 20 L/ha",)
    assert worked.figure("last_tank_volume").working() == ("48 L − 3 full of 15 L = 3 L",)
