"""The sketch: true to scale, inside its frame, its lettering apart. Shapes are judged by Shapely."""

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon as Area
from shapely.geometry import box as box_area

from logic.measure.outline import Dimension, Outline
from logic.report.drawing import Label, Sketch, Stroke, draw_sketch, round_scale
from logic.report.places import inside, overlap
from logic.units import quantity
from tests.logic.report.samples import outline

POINT = 0.0254 / 72  # the inch is 25.4 mm by definition and has 72 points
SHAPES: list[dict[str, Any]] = [
    {"method": "rectangle", "length": "11 m", "width": "8 m"},
    {"method": "rectangle", "length": "60 m", "width": "2 m"},
    {"method": "rectangle", "length": "1 m", "width": "0.3 m"},
    {"method": "circle", "diameter": "9 m"},
    {"method": "ellipse", "length": "12 m", "width": "7 m"},
    {"method": "triangle", "a": "9 m", "b": "7 m", "c": "12 m"},
]


def strokes(sketch: Sketch, role: str) -> list[Stroke]:
    return [m for m in sketch.marks if isinstance(m, Stroke) and m.role == role]


def labels(sketch: Sketch) -> list[Label]:
    return [m for m in sketch.marks if isinstance(m, Label)]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("unit_length", [None, POINT])
def test_the_drawn_edge_encloses_the_true_area_at_the_stated_scale(
    shape: dict[str, Any], unit_length: float | None
) -> None:
    green = outline(shape)
    sketch = draw_sketch(green, 300, 220, unit_length=unit_length)
    drawn = Area(strokes(sketch, "edge")[0].points).area
    assert drawn / sketch.metre**2 == pytest.approx(Area(green.polygon).area, rel=1e-9)
    if unit_length:
        assert sketch.ratio is not None
        assert drawn * (unit_length * sketch.ratio) ** 2 == pytest.approx(Area(green.polygon).area, rel=1e-9)
        assert round_scale(sketch.ratio) == pytest.approx(sketch.ratio)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("system", ["metric", "imperial", "us"])
def test_everything_lies_in_the_frame_and_no_lettering_overlaps(shape: dict[str, Any], system: str) -> None:
    sketch = draw_sketch(outline(shape), 306, 225, system=system)
    for mark in sketch.marks:
        points = mark.points if isinstance(mark, Stroke) else (mark.box[:2], mark.box[2:])
        assert all(-0.01 <= x <= 306.01 and -0.01 <= y <= 225.01 for x, y in points), mark
    boxes = [label.box for label in labels(sketch)]
    assert not any(overlap(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])
    assert sketch.left_off == 0


def test_every_measured_length_is_lettered_as_the_units_say() -> None:
    texts = {label.text for label in labels(draw_sketch(outline(SHAPES[5]), 306, 225))}
    assert {"9 m", "7 m", "12 m"} <= texts
    texts = {label.text for label in labels(draw_sketch(outline(SHAPES[0]), 306, 225, system="us"))}
    assert {"36.1 ft", "26.2 ft"} <= texts


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    for shape in SHAPES:
        sketch = draw_sketch(outline(shape), 306, 225)
        (left, _), (right, _) = strokes(sketch, "scale")[0].points
        said = next(label.text for label in labels(sketch) if label.role == "scale")
        assert float(said.removesuffix(" m")) * sketch.metre == pytest.approx(right - left)


@pytest.mark.parametrize("bearing", [0.0, 30.0, 90.0, 225.0])
def test_the_arrow_points_north(bearing: float) -> None:
    """A drawing whose upward direction bears β from north has north β to the left of upward."""
    green = replace(outline(SHAPES[0]), north=bearing)
    (tail, tip), *_ = (s.points for s in strokes(draw_sketch(green, 306, 225), "north"))
    across, up = tip[0] - tail[0], tail[1] - tip[1]
    assert (math.degrees(math.atan2(across, up)) + bearing) % 360 == pytest.approx(0, abs=1e-6)


def test_lengths_along_the_edge_are_lettered_outside_and_those_across_inside() -> None:
    square = Area(strokes(draw_sketch(outline(SHAPES[0]), 306, 225), "edge")[0].points)
    for label in labels(draw_sketch(outline(SHAPES[0]), 306, 225)):
        if label.role == "dimension":
            assert not label.inside
            assert box_area(*label.box).distance(square) > 0
    for label in labels(draw_sketch(outline(SHAPES[4]), 306, 225)):
        assert label.inside == (label.role == "dimension")


def test_lengths_without_room_for_lettering_are_counted() -> None:
    green = outline(SHAPES[0])
    spokes = tuple(Dimension((5.5, 4.0), (5.5 + i / 40, 7.5), quantity(3.5, "m")) for i in range(80))
    sketch = draw_sketch(replace(green, dimensions=spokes), 306, 225)
    lettered = sum(label.role == "dimension" for label in labels(sketch))
    assert 0 < lettered < 80
    assert sketch.left_off == 80 - lettered


def test_a_hole_is_drawn_at_its_place() -> None:
    green: Outline = replace(outline(SHAPES[0]), holes=(((2.0, 2.0), (4.0, 2.0), (4.0, 3.0), (2.0, 3.0)),))
    sketch = draw_sketch(green, 306, 225)
    hole, edge = Area(strokes(sketch, "hole")[0].points), Area(strokes(sketch, "edge")[0].points)
    assert edge.contains(hole)
    assert hole.area / sketch.metre**2 == pytest.approx(2.0)


APART: dict[str, Any] = {
    "method": "compound",
    "parts": [
        {"sign": "+", "outline": {"method": "rectangle", "length": "8 m", "width": "5 m"}},
        {
            "sign": "+",
            "outline": {"method": "circle", "diameter": "4 m"},
            "at": ["14 m", "9 m"],
        },
    ],
}


@pytest.mark.parametrize("unit_length", [None, POINT])
def test_every_piece_of_ground_that_lies_apart_is_drawn(unit_length: float | None) -> None:
    green = outline(APART)
    assert len(green.pieces) == 1
    sketch = draw_sketch(green, 306, 225, unit_length=unit_length)
    drawn = [Area(stroke.points) for stroke in strokes(sketch, "edge")]
    assert len(drawn) == 2
    assert drawn[0].disjoint(drawn[1])
    true = Area(green.polygon).area + Area(green.pieces[0]).area
    assert sum(one.area for one in drawn) / sketch.metre**2 == pytest.approx(true, rel=1e-9)
    frame = box_area(-0.01, -0.01, 306.01, 225.01)
    assert all(frame.contains(one) for one in drawn)


@given(st.floats(1e-3, 1e7))
def test_a_round_scale_is_the_next_one_up(least: float) -> None:
    scale = round_scale(least)
    assert least * (1 - 1e-6) <= scale <= 2 * least
    assert round_scale(scale) == pytest.approx(scale)


@settings(max_examples=100)
@given(st.lists(st.floats(2, 10), min_size=5, max_size=12), st.floats(0, 6.28), st.floats(0, 12))
def test_inside_agrees_with_shapely(radii: list[float], angle: float, distance: float) -> None:
    turn = 2 * math.pi / len(radii)
    polygon = [(r * math.cos(i * turn), r * math.sin(i * turn)) for i, r in enumerate(radii)]
    point = (distance * math.cos(angle), distance * math.sin(angle))
    ring = Area(polygon)
    probe = Area([(point[0] + a, point[1] + b) for a, b in ((1e-9, 0), (0, 1e-9), (-1e-9, 0))])
    if ring.exterior.distance(probe) > 1e-6:
        assert inside(point, polygon) == ring.contains(probe)
