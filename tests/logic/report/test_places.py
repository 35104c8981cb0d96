"""Lines with fewer points, and where points lie, held against Shapely."""

import math

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from logic.report.places import on_edge, thinned

POINTS = st.lists(
    st.tuples(st.floats(0, 300).map(lambda x: round(x, 2)), st.floats(0, 300).map(lambda x: round(x, 2))),
    min_size=2,
    max_size=30,
)


@settings(max_examples=100, deadline=None)
@given(POINTS, st.sampled_from([0.3, 2.0, 20.0]))
def test_no_point_left_out_is_further_from_the_line_than_said(
    points: list[tuple[float, float]], close: float
) -> None:
    kept = thinned(points, close)
    assert kept[0] == points[0]
    assert kept[-1] == points[-1]
    assume(len(set(kept)) > 1)
    line = LineString(kept)
    assert max(line.distance(Point(p)) for p in points) <= close + 1e-9


def test_a_circle_of_120_corners_needs_a_third_of_them_on_a_screen() -> None:
    circle = [(125 * math.cos(math.tau * i / 120), 125 * math.sin(math.tau * i / 120)) for i in range(120)]
    few = thinned(circle, 0.4)
    assert len(few) <= 41
    assert Polygon(few).hausdorff_distance(Polygon(circle)) <= 1.0  # px: a third of the pen that draws it


@settings(max_examples=100, deadline=None)
@given(st.tuples(st.floats(-5, 15), st.floats(-5, 15)))
def test_a_point_is_on_the_edge_when_shapely_says_so(point: tuple[float, float]) -> None:
    corners = [(0.0, 0.0), (10.0, 0.0), (12.0, 5.0), (6.0, 9.0), (0.0, 7.0)]
    away = Polygon(corners).exterior.distance(Point(point))
    close = 1e-4 * math.hypot(12, 9)
    assume(abs(away - close) > 1e-9)
    assert on_edge(point, corners) == (away < close)


def test_the_middle_of_every_side_is_on_the_edge() -> None:
    corners = [(0.0, 0.0), (10.0, 0.0), (12.0, 5.0), (6.0, 9.0), (0.0, 7.0)]
    for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
        assert on_edge(((x1 + x2) / 2, (y1 + y2) / 2), corners)
