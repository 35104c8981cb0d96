"""The soil test against the floors of the Minimum levels for sustainable nutrition, September 2014."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def soil(area: float = 100.0, **given: Any) -> Worked:
    return work_out({"operation": "soil_test", **given}, Ground(area=area))


def test_a_ppm_of_the_usual_soil() -> None:
    # 100 mm of a square metre at 1,500 kg/m³ is 150 kg, and 1 mg/kg of it 0.15 g
    assert soil(k=20).figure("grams_per_ppm").nominal == pytest.approx(0.15)


@pytest.mark.parametrize(("key", "floor"), [("k", 37), ("p", 21), ("ca", 331), ("mg", 47), ("s", 7)])
def test_the_published_floors(key: str, floor: float) -> None:
    at, below = soil(**{key: floor}), soil(**{key: floor - 2})
    assert at.figure(f"{key}_need").nominal == 0
    assert below.figure(f"{key}_need").nominal == pytest.approx(0.3)


def test_the_need_as_oxide_for_the_feed_label() -> None:
    # factors from atomic weights: P 0.4364, K 0.8301
    worked = soil(k=27, p=11)
    assert worked.figure("k2o_need").nominal == pytest.approx(1.5 / 0.8301, rel=2e-4)
    assert worked.figure("p2o5_need").nominal == pytest.approx(1.5 / 0.4364, rel=2e-4)


@given(area=st.floats(1, 3000), found=st.floats(0, 36))
def test_the_whole_area_needs_the_rate_times_the_area(area: float, found: float) -> None:
    worked = soil(area, k=f"{found} mg/kg")
    assert worked.figure("k_mass").nominal == pytest.approx((37 - found) * 0.15 * area)


def test_nothing_tested_is_refused() -> None:
    with pytest.raises(BadValue, match="at least one figure from the soil test"):
        soil()


def test_an_acid_soil_warns() -> None:
    assert "pH 5.4 is not above 5.5" in soil(ph=5.4).warnings[0]
    assert not soil(ph=5.6).warnings
