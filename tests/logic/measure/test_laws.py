"""Laws that every outline obeys: areas add up, scale by the square, and never depend on where one began."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.measure.methods import outline_of
from logic.measure.rules import simpson_runs, trapezoid

SIDES = st.floats(1, 30)
FEW = settings(max_examples=60, deadline=None)


def area(method: str, **given_: Any) -> float:
    return outline_of({"method": method, **given_}).area.nominal


def star(radii: list[float]) -> list[list[float]]:
    turn = 2 * math.pi / len(radii)
    return [[r * math.cos(i * turn), r * math.sin(i * turn)] for i, r in enumerate(radii)]


STARS = st.lists(st.floats(2, 9), min_size=5, max_size=12).map(star)

# What is a length in each, so that it can be made larger; the rest (angles, counts) stays as it is.
SCALED: dict[str, dict[str, Any]] = {
    "rectangle": {"length": 9.0, "width": 5.0},
    "circle": {"diameter": 7.0},
    "ellipse": {"length": 9.0, "width": 5.0},
    "triangle": {"a": 5.0, "b": 6.0, "c": 7.0},
    "trapezium": {"a": 9.0, "b": 5.0, "height": 4.0},
    "parallelogram": {"base": 9.0, "height": 5.0},
    "kite": {"long": 9.0, "cross": 5.0},
    "segment": {"chord": 9.0, "rise": 2.0},
    "ring": {"outer": 9.0, "inner": 5.0},
    "stadium": {"length": 9.0, "width": 5.0},
    "l_shape": {"length": 9.0, "width": 5.0, "cut_length": 4.0, "cut_width": 2.0},
    "kidney": {"length": 9.0, "width_a": 4.0, "middle": 3.5, "width_b": 5.0},
    "quadrilateral": {"ab": 10.0, "bc": 6.08, "cd": 8.06, "da": 7.07, "ac": 10.82},
    "ties": {"sides": [7.0, 6.0, 5.0, 6.0, 8.0], "ties": [10.0, 11.0]},
    "offsets": {"spacing": 1.0, "offsets": [0.0, 3.0, 4.0, 3.5, 1.0]},
    "radii": {"radii": [4.0, 4.5, 5.0, 4.2, 3.9, 4.1, 4.4, 4.3]},
    "coordinates": {"points": [[0.0, 0.0], [9.0, 1.0], [7.0, 6.0], [2.0, 5.0]]},
}


def larger(given_: Any, by: float) -> Any:
    if isinstance(given_, dict):
        return {key: larger(value, by) for key, value in given_.items()}
    if isinstance(given_, list):
        return [larger(value, by) for value in given_]
    return given_ * by


@pytest.mark.parametrize("method", SCALED)
@given(by=st.floats(0.5, 8))
@settings(max_examples=15, deadline=None)
def test_area_scales_by_the_square_and_perimeter_by_the_length(method: str, by: float) -> None:
    small = outline_of({"method": method, **SCALED[method]})
    large = outline_of({"method": method, **larger(SCALED[method], by)})
    assert large.area.nominal == pytest.approx(small.area.nominal * by * by, rel=1e-6)
    assert large.perimeter.nominal == pytest.approx(small.perimeter.nominal * by, rel=1e-6)
    assert large.longest_run.nominal == pytest.approx(small.longest_run.nominal * by, rel=1e-6)


@given(corners=STARS, start=st.integers(0, 11), turned=st.booleans(), x=SIDES, y=SIDES)
@FEW
def test_corners_may_begin_anywhere_and_go_either_way_round(
    corners: list[list[float]], start: int, turned: bool, x: float, y: float
) -> None:
    told = outline_of({"method": "coordinates", "points": corners})
    start %= len(corners)
    again = [[p + x, q - y] for p, q in corners[start:] + corners[:start]]
    other = outline_of({"method": "coordinates", "points": again[::-1] if turned else again})
    assert other.area.nominal == pytest.approx(told.area.nominal, rel=1e-9)
    assert other.area.plus_minus == pytest.approx(told.area.plus_minus, rel=1e-9)
    assert other.perimeter.nominal == pytest.approx(told.perimeter.nominal, rel=1e-9)


@given(corners=STARS, start=st.integers(0, 11))
@FEW
def test_a_walk_may_begin_at_any_corner(corners: list[list[float]], start: int) -> None:
    start %= len(corners)
    told = [walk(corners), walk(corners[start:] + corners[:start]), walk(corners[::-1])]
    assert told == pytest.approx([told[0]] * 3, rel=1e-6)


def walk(corners: list[list[float]]) -> float:
    ends = [*corners[1:], corners[0]]
    legs = [
        {"bearing": math.degrees(math.atan2(u - x, v - y)) % 360, "distance": math.dist((x, y), (u, v))}
        for (x, y), (u, v) in zip(corners, ends, strict=True)
    ]
    return area("traverse", legs=legs)


@given(radii=st.lists(st.floats(3, 6), min_size=8, max_size=36), start=st.integers(0, 35))
@FEW
def test_radii_may_begin_in_any_direction_and_go_either_way(radii: list[float], start: int) -> None:
    start %= len(radii)
    told = outline_of({"method": "radii", "radii": radii})
    for again in (radii[start:] + radii[:start], radii[::-1]):
        other = outline_of({"method": "radii", "radii": again})
        assert other.area.nominal == pytest.approx(told.area.nominal, rel=1e-9)
        assert other.area.plus_minus == pytest.approx(told.area.plus_minus, rel=1e-9)


@given(left=st.lists(st.floats(1, 9), min_size=3, max_size=9).filter(lambda h: len(h) % 2 == 1))
@FEW
def test_offsets_cut_in_two_add_up(left: list[float]) -> None:
    """Simpson over both halves, each with an even number of strips, is Simpson over the whole."""
    right = [left[-1], *left[::-1][1:], 2.0, 3.0]
    for rule in ("simpson", "trapezoid"):
        whole = area("offsets", spacing=1, offsets=left + right[1:], rule=rule)
        halves = [area("offsets", spacing=1, offsets=part, rule=rule) for part in (left, right)]
        assert whole == pytest.approx(sum(halves), rel=1e-9)


@given(a=st.floats(3, 9), b=st.floats(1, 9), share=st.floats(0.1, 0.9))
@FEW
def test_a_rectangle_cut_in_two_adds_up_in_a_compound(a: float, b: float, share: float) -> None:
    parts = [
        {"sign": "+", "outline": {"method": "rectangle", "length": a * share, "width": b}},
        {
            "sign": "+",
            "outline": {"method": "rectangle", "length": a * (1 - share), "width": b},
            "at": [a * share, 0],
        },
    ]
    whole = outline_of({"method": "rectangle", "length": a, "width": b})
    laid = outline_of({"method": "compound", "parts": parts})
    assert laid.area.nominal == pytest.approx(whole.area.nominal, rel=1e-9)
    assert laid.perimeter.nominal == pytest.approx(whole.perimeter.nominal, rel=1e-5)
    assert not laid.pieces
    assert not laid.warnings


@given(a=st.floats(3, 9), b=st.floats(3, 9), c=st.floats(0.5, 2.5), d=st.floats(0.5, 2.5))
@FEW
def test_what_is_added_and_taken_off_again_leaves_nothing(a: float, b: float, c: float, d: float) -> None:
    bed = {"method": "ellipse", "length": c, "width": d}
    lawn = {"method": "rectangle", "length": a, "width": b}
    parts = [{"sign": s, "outline": o} for s, o in (("+", lawn), ("+", bed), ("-", bed))]
    assert area("compound", parts=parts) == pytest.approx(a * b, rel=1e-9)


@given(
    cubic=st.tuples(*[st.floats(-2, 2)] * 4),
    first=st.floats(-5, 5),
    d=st.floats(0.2, 3),
    pairs=st.integers(1, 8),
)
@FEW
def test_simpson_is_exact_on_cubics(
    cubic: tuple[float, float, float, float], first: float, d: float, pairs: int
) -> None:
    def height(x: float) -> float:
        return sum(c * x**k for k, c in enumerate(cubic))

    def integral(x: float) -> float:
        return sum(c * x ** (k + 1) / (k + 1) for k, c in enumerate(cubic))

    x = [first + i * d for i in range(2 * pairs + 1)]
    told = sum(run.area for run in simpson_runs(x, [height(s) for s in x]))
    scale = sum(abs(c) * max(abs(x[0]), abs(x[-1]), 1) ** (k + 1) for k, c in enumerate(cubic))
    assert told == pytest.approx(integral(x[-1]) - integral(x[0]), abs=1e-9 * max(1, scale))


@given(line=st.tuples(st.floats(-2, 2), st.floats(5, 9)), x=st.sets(st.floats(0, 9), min_size=2, max_size=9))
@FEW
def test_straight_lines_are_exact_on_straight_edges(line: tuple[float, float], x: set[float]) -> None:
    stations = sorted(x)
    told = trapezoid(stations, [line[0] * s + line[1] for s in stations])
    a, b = stations[0], stations[-1]
    assert told == pytest.approx(line[0] * (b * b - a * a) / 2 + line[1] * (b - a), abs=1e-9)


@given(a=SIDES, b=SIDES, angle=st.floats(5, 175))
@FEW
def test_three_ways_to_one_triangle(a: float, b: float, angle: float) -> None:
    c = math.sqrt(a * a + b * b - 2 * a * b * math.cos(math.radians(angle)))
    told = [
        area("triangle", a=a, b=b, angle=angle),
        area("triangle", a=a, b=b, c=c),
        area("triangle", base=a, height=b * math.sin(math.radians(angle))),
    ]
    assert told == pytest.approx([told[0]] * 3, rel=1e-6)


@given(d=SIDES)
@FEW
def test_a_circle_by_every_way_that_knows_it(d: float) -> None:
    told = [
        area("circle", diameter=d),
        area("circle", circumference=math.pi * d),
        area("ellipse", length=d, width=d),
        area("sector", radius=d / 2, angle=360),
        area("radii", radii=[d / 2] * 12),
        2 * area("segment", chord=d, rise=d / 2),
    ]
    assert told == pytest.approx([told[0]] * 6, rel=1e-9)
