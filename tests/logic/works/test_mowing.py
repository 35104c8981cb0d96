"""Mowing: the one-third rule. Values from the agronomy checks name their id."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.mowing import steps_down, third
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def mow(**given_: Any) -> Worked:
    return work_out({"operation": "mowing", "height_of_cut": "6 mm", **given_}, Ground(area=100.0))


def test_thirty_to_twenty_takes_exactly_a_third() -> None:
    worked = mow(height_of_cut="20 mm", height_now="30 mm")
    assert worked.figure("height_removed").nominal / 100 == pytest.approx(0.3333, abs=0.0001)  # A-H2
    assert worked.figure("cuts").nominal == 1
    assert worked.warnings == ()


@pytest.mark.parametrize(
    ("height", "growth", "days"),
    [
        ("15 mm", "1.97 mm/day", 3.81),
        ("4 mm", "0.98 mm/day", 2.04),
    ],  # A-H4, and the 3 to 5 mm green beside it
)
def test_days_between_cuts(height: str, growth: str, days: float) -> None:
    # growth as measured by Aamlid et al., J. Agronomy and Crop Science, 2016
    assert mow(height_of_cut=height, growth=growth).figure("interval").nominal == pytest.approx(
        days, abs=0.01
    )


def test_mow_before_it_is_half_as_tall_again() -> None:
    assert mow().figure("tallest").nominal == pytest.approx(9)


def test_coming_down_after_a_renovation() -> None:
    assert steps_down(18, 6, third()) == pytest.approx((12, 8, 6))
    worked = mow(height_now="18 mm")
    assert worked.figure("cuts").nominal == 3
    assert "18 mm → 12 mm → 8 mm → 6 mm" in worked.figure("cuts").working()[0]
    (warning,) = worked.warnings
    assert "66.7 % of the height" in warning


@given(wanted=st.floats(3, 100), times=st.floats(1, 40))
@settings(max_examples=100, deadline=None)
def test_no_cut_takes_more_than_a_third_and_the_last_arrives(wanted: float, times: float) -> None:
    heights = (wanted * times, *steps_down(wanted * times, wanted, third()))
    assert heights[-1] == pytest.approx(wanted)
    for before, after in pairwise(heights):
        assert after >= before * 2 / 3 - 1e-9
        assert after < before


def test_inches_give_the_same_days() -> None:
    metric = mow(height_of_cut="12.7 mm", growth="1.27 mm/day").figure("interval").nominal
    assert mow(height_of_cut="0.5 in", growth="0.05 in/day").figure("interval").nominal == pytest.approx(
        metric
    )


def test_heights_that_cannot_be() -> None:
    with pytest.raises(BadValue, match="already shorter") as refused:
        mow(height_now="5 mm")
    assert refused.value.field_key == "height_now"
    with pytest.raises(BadValue, match="more than 12 cuts"):
        mow(height_of_cut="0.5 mm", height_now="900 mm")


def test_cautions() -> None:
    assert [c.key for c in mow().cautions] == ["mow_seedlings", "mower_noise"]
    assert "85 dB" in mow().cautions[1].sentence
