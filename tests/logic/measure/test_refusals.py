"""What is not an outline is refused, with the reason in one plain sentence, at the field it belongs to."""

from __future__ import annotations

import math
from typing import Any

import pytest

from logic.errors import BadValue, ImpossibleShape, SwardError
from logic.measure.methods import measure, methods, outline_of
from logic.measure.pacing import pace_of

RECTANGLE = {"method": "rectangle", "length": "3 m", "width": "2 m"}


def legs(*pairs: tuple[Any, Any]) -> list[dict[str, Any]]:
    return [{"bearing": b, "distance": d} for b, d in pairs]


def part(sign: str, outline: Any, **more: Any) -> dict[str, Any]:
    return {"sign": sign, "outline": outline, **more}


REFUSED: list[tuple[dict[str, Any], str, str]] = [
    ({"method": "triangle", "a": 3, "b": 4, "c": 7}, "c", "do not close a triangle"),
    ({"method": "triangle", "a": 30, "b": 4, "c": 7}, "a", "must be shorter than b and c together"),
    ({"method": "quadrilateral", "ab": 3, "bc": 4, "ac": 9, "cd": 8, "da": 8}, "ac", "ac .* shorter than ab"),
    ({"method": "ties", "sides": [3, 4, 5, 6, 7], "ties": [5]}, "ties", "need 2 ties"),
    ({"method": "ties", "sides": [3, 4, 5, 6], "ties": [20]}, "ties", "do not close"),
    ({"method": "ties", "sides": [9, 1, 9, 1], "ties": [9, 9]}, "ties", "need 1 tie"),
    ({"method": "ring", "outer": 4, "inner": 4}, "inner", "less than the outer"),
    ({"method": "stadium", "length": 4, "width": 5}, "length", "more than the width"),
    ({"method": "kite", "long": 4, "cross": 5, "crossing": 4}, "crossing", "before the end"),
    ({"method": "parallelogram", "base": 4, "height": 5, "side": 4}, "side", "can't be shorter"),
    (
        {"method": "l_shape", "length": 9, "width": 5, "cut_length": 9, "cut_width": 2},
        "cut_length",
        "less than",
    ),
    (
        {"method": "l_shape", "arm_length": 9, "arm_width": 2, "leg_length": 5, "leg_width": 9},
        "leg_width",
        "narrower",
    ),
    ({"method": "sector", "radius": 4, "angle": 361}, "angle", "can't be more than 360°"),
    ({"method": "regular", "count": 2, "side": 4}, "count", "can't be less than 3"),
    ({"method": "regular", "count": 5.5, "side": 4}, "count", "whole number"),
    ({"method": "offsets", "spacing": 1, "offsets": [1, 2]}, "offsets", "at least 3"),
    ({"method": "offsets", "spacing": 1, "offsets": [0, 0, 0]}, "offsets", "no ground"),
    (
        {"method": "offsets", "spacing": 1, "offsets": [1, 0, 1]},
        "offsets",
        "offset 2 the ground has no width",
    ),
    ({"method": "offsets", "spacing": 1, "offsets": [1, -1, 1]}, "offsets", "Number 2 .* negative"),
    (
        {"method": "offsets", "stations": [0, 2, 1], "offsets": [1, 1, 1]},
        "stations",
        "Station 3 does not lie beyond",
    ),
    (
        {"method": "offsets", "stations": [0, 2, 3, 4], "offsets": [1, 1, 1]},
        "offsets",
        "4 stations but 3 offsets",
    ),
    (
        {"method": "offsets", "spacing": 1, "offsets": [1, 1, 1], "offsets_other": [1, 1, 1, 1]},
        "offsets_other",
        "3 offsets on one side but 4",
    ),
    ({"method": "offsets", "spacing": 1, "offsets": [1, 1, 1], "rule": "magic"}, "rule", "one of"),
    ({"method": "radii", "radii": [4, 4, 4, 4, 4]}, "radii", "at least 6"),
    ({"method": "radii", "radii": [4, 4, 4, 0, 4, 4]}, "radii", "Number 4 .* more than 0"),
    ({"method": "coordinates", "points": [[0, 0], [1, 1]]}, "points", "at least 3"),
    ({"method": "coordinates", "points": [[0, 0], [4, 4], [4, 0], [0, 4]]}, "points", "crosses itself"),
    ({"method": "coordinates", "points": [[0, 0], [4, 0], [8, 0]]}, "", "enclose no ground"),
    ({"method": "coordinates", "points": [[0, 0], [4, 0], [4, 4], [0, 0]]}, "points", "same spot"),
    ({"method": "coordinates", "points": [[0, 0], [4], [4, 4]]}, "points", "Row 2 .* needs: x, y"),
    ({"method": "coordinates", "points": "0 0 4 4"}, "points", "list of rows"),
    ({"method": "traverse", "legs": legs((0, 10), (90, 10))}, "legs", "at least 3"),
    ({"method": "traverse", "legs": legs((0, 10), (90, 10), (180, 10), (270, 5))}, "legs", "walk it again"),
    ({"method": "traverse", "legs": legs((0, 10), ("E by S", 10), (180, 10))}, "legs", "is not a bearing"),
    ({"method": "traverse", "legs": legs((0, 10), (400, 10), (180, 10))}, "legs", "between 0° and 360°"),
    (
        {"method": "traverse", "legs": legs((45, 14.142), (180, 10), (315, 14.142), (180, 10))},
        "legs",
        "crosses itself",
    ),
    ({"method": "compound", "parts": []}, "parts", "Fill in the parts"),
    ({"method": "compound", "parts": [part("-", RECTANGLE)]}, "parts", "must be added"),
    (
        {"method": "compound", "parts": [part("+", RECTANGLE), part("-", {**RECTANGLE, "length": "4 m"})]},
        "parts",
        "More ground is taken off",
    ),
    (
        {"method": "compound", "parts": [part("+", {**RECTANGLE, "length": 0})]},
        "parts",
        "Part 1: .* more than 0",
    ),
    ({"method": "compound", "parts": [part("?", RECTANGLE)]}, "parts", "add or take off"),
    ({"method": "compound", "parts": [part("+", "a lawn")]}, "parts", "must say how it was measured"),
    ({"method": "compound", "parts": [part("+", RECTANGLE, at=[1, 2, 3])]}, "parts", "more than 2"),
    ({"method": "twice", "first": RECTANGLE}, "second", "Fill in the second measurement"),
    ({"method": "circle", "diameter": 5, "slope": "120 %"}, "slope", "can't be more than"),
]


@pytest.mark.parametrize(
    ("given", "field", "why"), REFUSED, ids=[f"{g['method']}-{f}-{w}" for g, f, w in REFUSED]
)
def test_it_is_refused_with_the_reason(given: dict[str, Any], field: str, why: str) -> None:
    with pytest.raises((BadValue, ImpossibleShape), match=why):
        outline_of(given)
    outline, reading = measure(given)
    assert outline is None
    assert list(reading.problems) == [field]


def lengths_of(method: str) -> list[str]:
    return [
        f.key for f in methods()[method].form.fields if f.kind == "number" and f.unit == "m" and f.required
    ]


@pytest.mark.parametrize(
    ("method", "key"), [(m, key) for m in methods() for key in lengths_of(m)], ids=lambda v: str(v)
)
@pytest.mark.parametrize(
    "bad", [0, -1, math.nan, math.inf, "", "ten", "1,000 m", "5 kg", "5 paces", True, None, [1]]
)
def test_a_length_that_is_none_is_refused_in_every_method(method: str, key: str, bad: Any) -> None:
    form = methods()[method].form
    way = next((w for w in form.ways if key in w.fields), None)
    asked = form.asked(way.key) if way else form.fields
    given: dict[str, Any] = {f.key: 5 for f in asked if f.kind == "number"} | {"method": method, key: bad}
    if way:
        given["way"] = way.key
    _, reading = measure(given)
    sentence = reading.problems[key]
    assert sentence[0].isupper() or sentence[0] == "“"
    assert sentence.endswith(".")


def test_a_method_that_is_not_known() -> None:
    for method in ("octahedron", None, 5):
        with pytest.raises(BadValue, match="not a way of measuring known here"):
            outline_of({"method": method})


def test_outlines_within_outlines_end_somewhere() -> None:
    deep: dict[str, Any] = RECTANGLE
    for _ in range(30):
        deep = {"method": "compound", "parts": [part("+", deep)]}
    with pytest.raises(SwardError, match="too deep"):
        outline_of(deep)


def test_every_paced_length_asks_for_the_pace_first() -> None:
    with pytest.raises(BadValue, match="Measure your pace first"):
        outline_of({"method": "offsets", "spacing": "2 paces", "offsets": [0, 3, 3, 0]})


def test_a_walk_refused_for_its_gap_says_how_large_it_was() -> None:
    pace = pace_of({"course": "20 m", "counts": [20, 20, 20]})
    with pytest.raises(ImpossibleShape, match=r"ends 5 m from where it began: 14 % of the way"):
        outline_of(
            {
                "method": "traverse",
                "legs": legs((0, "10 paces"), (90, "10 paces"), (180, "10 paces"), (270, "5 paces")),
            },
            pace,
        )
