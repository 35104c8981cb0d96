"""The strips of a pass against Shapely: its intersection of the same lines with the same turf."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import LineString, MultiLineString, Point, Polygon

from logic.works.pass_pattern import long_way, pattern

Ring = tuple[tuple[float, float], ...]


@st.composite
def greens(draw: st.DrawFn) -> Ring:
    """A star-shaped outline, as walked round a stake in the middle, often with bays that cut strips."""
    radii = draw(st.lists(st.floats(2, 12), min_size=3, max_size=24))
    turn = 2 * math.pi / len(radii)
    return tuple((r * math.cos(i * turn), r * math.sin(i * turn)) for i, r in enumerate(radii))


def chords(turf: Polygon, angle: float, width: float, strips: int) -> float:
    """Length of the turf under `strips` centred lines, by turning the turf instead of the lines."""
    level = rotate(turf, -angle, origin=(0, 0))
    west, south, east, north = level.bounds
    first = (south + north) / 2 - (strips - 1) / 2 * width
    lines = [
        LineString([(west - 1, first + i * width), (east + 1, first + i * width)]) for i in range(strips)
    ]
    return float(sum(level.intersection(line).length for line in lines))


@given(green=greens(), angle=st.floats(0, 180), width=st.floats(0.3, 2))
@settings(max_examples=150, deadline=None)
def test_the_same_metres_as_shapely(green: Ring, angle: float, width: float) -> None:
    turf = Polygon(green)
    pond = Point(0, 0).buffer(0.8, quad_segs=4)
    hole: Ring = tuple(pond.exterior.coords)[:-1]
    for holes, solid in (((), turf), ((hole,), turf.difference(pond))):
        strips = pattern(green, holes, angle, width)
        assert strips.length == pytest.approx(chords(solid, angle, width, strips.strips), abs=1e-5)


@given(green=greens(), angle=st.floats(0, 180))
@settings(max_examples=60, deadline=None)
def test_every_strip_lies_on_the_turf(green: Ring, angle: float) -> None:
    drawn = MultiLineString(list(pattern(green, (), angle, 0.7).segments))
    assert Polygon(green).buffer(1e-6).covers(drawn)


@given(green=greens())
@settings(max_examples=60, deadline=None)
def test_the_long_way_runs_along_the_narrowest_box(green: Ring) -> None:
    boxes = [rotate(Polygon(green), -a, origin=(0, 0)).bounds for a in range(180)]
    ours = rotate(Polygon(green), -long_way(green), origin=(0, 0)).bounds
    assert ours[3] - ours[1] <= min(b[3] - b[1] for b in boxes) + 1e-6
