"""Phone positions: finding the site again, and why not for quantities."""

from __future__ import annotations

import math

import pytest

from logic.errors import BadValue
from logic.measure.position import REASON, Fix, locate, rough_area


def test_several_fixes_count_by_how_good_they_are_and_are_no_better_than_the_best() -> None:
    spot = locate([Fix(51.5, -0.1, 5), Fix(51.5001, -0.1, 10)])
    assert spot.latitude == pytest.approx(51.5 + 0.0001 / 5)
    assert spot.accuracy == 5


def test_a_fix_that_says_nothing_of_itself_is_taken_as_4_9_m() -> None:
    assert locate([Fix(51.5, -0.1)]).accuracy == 4.9


def test_fixes_either_side_of_the_date_line_stay_there() -> None:
    assert abs(locate([Fix(-17, 179.9999, 5), Fix(-17, -179.9999, 5)]).longitude) == pytest.approx(180)


def test_the_rough_area_says_why_it_is_rough() -> None:
    corners = [Fix(51.5, -0.1), Fix(51.5, -0.0999), Fix(51.5001, -0.0999), Fix(51.5001, -0.1)]
    told = rough_area(corners)
    assert REASON in told.working()
    assert "not for quantities" in told.name


def test_margin_of_a_60_m2_green_by_eight_fixes_good_to_2_m_on_each_axis() -> None:
    """First-order formula for n = 8, sigma 2 m: 18.4 m² (law of propagation, worked out apart)."""
    radius, scale = math.sqrt(60 / (4 * math.sin(math.pi / 4))), math.degrees(1 / 6371e3)
    turns = [math.pi / 4 * i for i in range(8)]
    green = [Fix(radius * math.sin(t) * scale, radius * math.cos(t) * scale, 2 * 2.45) for t in turns]
    told = rough_area(green)
    assert told.nominal == pytest.approx(60, rel=0.01)
    assert told.plus_minus == pytest.approx(18.4, abs=0.1)


def test_positions_that_go_round_nothing_are_refused() -> None:
    for fixes in ([], [Fix(1, 1)] * 4, [Fix(0, 0), Fix(1, 1), Fix(1, 0), Fix(0, 1)]):
        with pytest.raises(BadValue, match="no ground"):
            rough_area(fixes)
    with pytest.raises(BadValue, match="no position yet"):
        locate([])


@pytest.mark.parametrize("wrong", [(91, 0), (0, 181), (math.nan, 0), (0, 0, -1), (0, 0, math.inf)])
def test_what_is_no_position_is_refused(wrong: tuple[float, ...]) -> None:
    with pytest.raises(BadValue, match="not a position"):
        Fix(*wrong)
