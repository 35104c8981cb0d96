"""Running sheets of the day: tanks filled one by one add up to the mix, strips weighed say how it lasts."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.programme.day import Actual
from logic.programme.running import how_it_lasts, left_key, spread, strips_key, strips_of, tanks, weighed
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out
from logic.works.running_sheet import LASTING, OVER, SHORT


def worked(operation: str, area: float = 60.0, **values: Any) -> Worked:
    return work_out({"operation": operation, **values}, Ground(area=area, perimeter=28.0, longest_run=9.0))


@settings(max_examples=60, deadline=None)
@given(st.floats(10, 300))
def test_the_tanks_filled_hold_all_of_the_mix(area: float) -> None:
    # law: what is filled in all is area × water rate
    lines = tanks(worked("drenching", area, product_rate="2 mL/m^2", water_rate="0.5 L/m^2", tank="15 L"))
    mixes = [float(re.search(r"in ([\d.]+) L of mix", words).group(1)) for _, words in lines]  # type: ignore[union-attr]
    assert sum(mixes) == pytest.approx(area * 0.5, rel=0.02)
    assert all(mix == 15 for mix in mixes[:-1])
    assert [key for key, _ in lines] == [f"tank-{n}" for n in range(1, len(lines) + 1)]


def test_what_is_not_filled_into_a_tank_has_no_tanks() -> None:
    assert tanks(worked("overseeding", rate="8 g/m^2")) == ()
    assert spread(worked("watering", depth="5 mm")) is None


def test_a_run_takes_its_weighings_from_what_was_written_down() -> None:
    found = spread(worked("overseeding", rate="8 g/m^2", directions=2))
    assert found is not None
    # 60 m² × 8 g/m² in two directions is 240 g, and 5 % more for the hopper: 252 g
    assert (found.directions, found.loaded, found.spare) == (2, pytest.approx(252), pytest.approx(12))
    written = {
        strips_key(1): Actual("4"),
        left_key(1, 1): Actual("192 g"),
        left_key(1, 2): Actual("0.132 kg"),
        left_key(1, 4): Actual("12 g"),
    }
    assert strips_of(written, 1) == 4
    assert strips_of(written, 2) == 0
    assert weighed(written, 1) == pytest.approx((192, 132))
    said = how_it_lasts(found, 4, (192.0, 132.0))
    assert said is not None
    assert said.state == LASTING
    fast, slow = how_it_lasts(found, 4, (150.0,)), how_it_lasts(found, 4, (230.0,))
    assert fast is not None
    assert slow is not None
    assert (fast.state, slow.state) == (SHORT, OVER)


@pytest.mark.parametrize("left", [(300.0,), (100.0, 120.0), (252.0,), (200.0, 150.0, 100.0, 50.0, 20.0)])
def test_weighings_that_cannot_be_are_refused(left: tuple[float, ...]) -> None:
    found = spread(worked("overseeding", rate="8 g/m^2", directions=2))
    assert found is not None
    with pytest.raises(BadValue):
        how_it_lasts(found, 4, left)
