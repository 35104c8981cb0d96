"""Iron: laws, refusals, warnings and cautions. The published sums stand in tests/checks."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def iron(area: float = 100.0, **given: Any) -> Worked:
    return work_out({"operation": "iron", **given}, Ground(area=area))


@given(rate=st.floats(0.5, 10))
def test_product_and_iron_wanted_are_two_ways_to_the_same(rate: float) -> None:
    by_product = iron(product_rate=f"{rate} g/m^2")
    fe = by_product.figure("fe_rate").nominal
    by_iron = iron(fe_rate=f"{fe!r} g/m^2")
    assert by_iron.figure("product_mass").nominal == pytest.approx(100 * rate)


def test_dried_sulphate_is_stronger() -> None:
    # atomic weights: 55.845 / 169.92 = 32.9 % Fe
    worked = iron(product="monohydrate", product_rate="100 g/m^2")
    assert worked.figure("fe_rate").nominal == pytest.approx(32.9, abs=0.05)


def test_another_product_goes_by_its_label() -> None:
    assert iron(product="other", fe=6, product_rate="10 g/m^2").figure("fe_rate").nominal == pytest.approx(
        0.6
    )


def test_the_product_is_shared_out_by_tank() -> None:
    worked = iron(100.0, product_rate="4 g/m^2", water_rate="0.2 L/m^2", tank="15 L")
    # 400 g in 20 L: 20 g in each litre, so 300 g in 15 L and 100 g in the last 5 L
    assert worked.figure("product_per_tank").nominal == pytest.approx(300)
    assert worked.figure("last_tank_volume").nominal == pytest.approx(5)
    assert worked.figure("product_in_last_tank").nominal == pytest.approx(100)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"product": "other", "product_rate": 5}, "fe", "how much iron is on the label"),
        ({"product_rate": -5}, "product_rate", "must be more than 0"),
        ({"fe_rate": "1 mL/m^2"}, "fe_rate", "can't be in mL/m"),
    ],
)
def test_what_cannot_be_is_refused(given: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        iron(**given)
    assert caught.value.field_key == field


@pytest.mark.parametrize(
    ("rate", "surface", "words"),
    [
        # 5 g/m² of crystals on a fine green: our choice; 20 g/m²: the most in a published trial (40 kg Fe/ha)
        ("6 g/m^2", "green", "more than 1 g/m² is a lot for a fine green"),
        ("21 g/m^2", "lawn", "more than 4 g/m² is a lot for any turf"),
    ],
)
def test_too_much_iron_warns(rate: str, surface: str, words: str) -> None:
    assert words in iron(product_rate=rate, surface=surface).warnings[0]


@pytest.mark.parametrize(("rate", "surface"), [("4.9 g/m^2", "green"), ("19 g/m^2", "lawn")])
def test_less_does_not(rate: str, surface: str) -> None:
    assert not iron(product_rate=rate, surface=surface).warnings


def test_cautions_of_stains_moss_law_and_seedlings() -> None:
    said = {c.key: c.sentence for c in iron(product_rate="2 g/m^2").cautions}
    assert set(said) == {"iron_stains", "iron_moss", "iron_seedlings", "tank_filling", "carry_water"}
    assert "only an authorised product may be used to kill moss" in said["iron_moss"]
    assert "paving" in said["iron_stains"]
