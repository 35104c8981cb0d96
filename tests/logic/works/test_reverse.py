"""The reverse questions: what rate did I put down, and how far will this bag go."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.units import plus_minus
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def worked(operation: str, area: Any = 100.0, **given: Any) -> Worked:
    return work_out({"operation": operation, **given}, Ground(area=area))


@given(area=st.floats(5, 2000), rate=st.floats(1, 60))
def test_the_rate_put_down_is_the_rate_that_was_planned(area: float, rate: float) -> None:
    planned = worked("feeding", area, n=10, product_rate=f"{rate} g/m^2").figure("product_mass").nominal
    done = worked("rate_applied", area, mass_out=f"{planned + 250!r} g", mass_back="250 g")
    assert done.figure("applied_rate").nominal == pytest.approx(rate)


def test_a_liquid_and_how_far_off_it_was() -> None:
    done = worked(
        "rate_applied", 120.0, volume_out="300 mL", volume_back="36 mL", wanted_volume_rate="20 L/ha"
    )
    assert done.figure("applied_rate").nominal == pytest.approx(2.2)
    assert done.figure("rate_off").nominal == pytest.approx(10)


def test_part_of_the_ground() -> None:
    assert worked("rate_applied", mass_out="1 kg", covered="40 m^2").figure("applied_rate").nominal == 25


def test_more_back_than_taken_is_refused() -> None:
    with pytest.raises(BadValue, match="nothing went down") as caught:
        worked("rate_applied", mass_out="1 kg", mass_back="1 kg")
    assert caught.value.field_key == "mass_back"


@given(mass=st.floats(100, 50_000), rate=st.floats(1, 500))
def test_a_bag_covers_what_its_rate_uses_up(mass: float, rate: float) -> None:
    far = worked("how_far", mass=f"{mass} g", rate=f"{rate} g/m^2")
    covered = far.figure("area_covered").nominal
    assert covered * rate == pytest.approx(mass)
    assert far.figure("share_covered").nominal == pytest.approx(covered)
    assert far.figure("needed").nominal + far.figure("left_over").nominal == pytest.approx(mass)


def test_a_can_of_liquid() -> None:
    far = worked("how_far", 120.0, volume="1 L", volume_rate="20 L/ha")
    assert far.figure("area_covered").nominal == pytest.approx(500)
    assert far.figure("cans").nominal == 1
    assert not far.warnings


def test_a_bag_that_may_not_be_enough_warns() -> None:
    # 100 ± 5 m² at 20 g/m²: 2 kg, or 2.128 kg to be 90 % sure (1.2816 standard uncertainties)
    assert not worked("how_far", 100.0, mass="2 kg", rate="20 g/m^2").warnings
    (said,) = worked("how_far", plus_minus(100.0, 5.0), mass="2 kg", rate="20 g/m^2").warnings
    assert "up to 128 g is missing" in said


@pytest.mark.parametrize(("given", "field"), [({"mass": "2 kg"}, "rate"), ({"volume": "1 L"}, "volume_rate")])
def test_a_rate_is_needed(given: dict[str, str], field: str) -> None:
    with pytest.raises(BadValue) as caught:
        worked("how_far", **given)
    assert caught.value.field_key == field
