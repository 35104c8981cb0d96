"""The strips of a pass: on the turf, all of the turf, and in the order they are walked."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.measure.geometry import shoelace
from logic.works.pass_pattern import long_way, pattern

OBLONG = ((0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0))
POND = ((4.0, 4.0), (8.0, 4.0), (8.0, 6.0), (4.0, 6.0))
CIRCLE = tuple((5 * math.cos(math.radians(a)), 5 * math.sin(math.radians(a))) for a in range(0, 360, 2))


def test_an_oblong_is_walked_to_and_fro_along_its_length() -> None:
    strips = pattern(OBLONG, (), long_way(OBLONG), 2.5)
    assert strips.strips == 4
    assert [(round(a[0]), round(b[0])) for a, b in strips.segments] == [(0, 12), (12, 0), (0, 12), (12, 0)]
    assert [round(a[1], 6) for a, _ in strips.segments] == [1.25, 3.75, 6.25, 8.75]
    assert strips.length == pytest.approx(48)
    assert strips.longest == pytest.approx(12)
    assert strips.turns == 3


def test_a_width_that_does_not_go_up_overhangs_alike_on_both_sides() -> None:
    heights = [a[1] for a, _ in pattern(OBLONG, (), 0, 3).segments]
    assert len(heights) == 4
    assert heights[0] - 0 == pytest.approx(10 - heights[-1])


def test_a_pond_cuts_the_strips_that_cross_it() -> None:
    strips = pattern(OBLONG, (POND,), 0, 1.0)
    assert strips.strips == 10
    assert len(strips.segments) == 12  # the strips at 4.5 m and 5.5 m are cut in two
    assert strips.length == pytest.approx(120 - 2 * 4)
    assert strips.turns == 11


def test_the_long_way_of_a_turned_oblong() -> None:
    turned = tuple(
        (x * math.cos(0.5) - y * math.sin(0.5), x * math.sin(0.5) + y * math.cos(0.5)) for x, y in OBLONG
    )
    assert long_way(turned) == pytest.approx(math.degrees(0.5))
    assert pattern(turned, (), long_way(turned), 2.5).strips == 4


@given(angle=st.floats(-180, 180))
@settings(max_examples=60, deadline=None)
def test_no_direction_takes_fewer_strips_than_the_long_way(angle: float) -> None:
    assert pattern(OBLONG, (), angle, 0.5).strips >= pattern(OBLONG, (), long_way(OBLONG), 0.5).strips


@given(angle=st.floats(0, 180), width=st.floats(0.05, 1))
@settings(max_examples=60, deadline=None)
def test_strips_times_width_are_the_area_to_within_a_strip(angle: float, width: float) -> None:
    strips = pattern(CIRCLE, (), angle, width)
    assert abs(strips.length * width - abs(shoelace(CIRCLE))) <= strips.longest * width
    assert strips.longest <= 10 + 1e-9


def test_widths_that_cannot_be() -> None:
    with pytest.raises(BadValue, match="more than the overlap"):
        pattern(OBLONG, (), 0, 0)
    with pytest.raises(BadValue, match="Check the working width"):
        pattern(OBLONG, (), 0, 0.001)
