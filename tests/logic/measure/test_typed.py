"""What people type for lengths, angles and bearings, as every way of measuring reads it."""

from __future__ import annotations

import math
from typing import Any

import pytest

from logic.bearing import bearing_of
from logic.errors import BadValue
from logic.measure.methods import measure, methods, outline_of
from logic.measure.pacing import pace_of
from logic.units import nominal, spread

PACE = pace_of({"course": "20 m", "counts": [25, 25, 25]})


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("12.5", 12.5),
        ("12,5", 12.5),
        ("12,5 m", 12.5),
        ("12.5m", 12.5),
        (" 12.5 metres ", 12.5),
        (12.5, 12.5),
        ("1250 cm", 12.5),
        ("41 ft", 41 * 0.3048),
        ("41 ft 6 in", 41.5 * 0.3048),
        ("41' 6\"", 41.5 * 0.3048),
        ("13½ yd", 13.5 * 0.9144),
        ("12.5 ± 0.1 m", 12.5),
        ("20 paces", 16.0),
        ("20 steps", 16.0),
        ("20,5 paces", 16.4),
    ],
)
def test_a_diameter_may_be_written_in_many_ways(text: Any, metres: float) -> None:
    outline = outline_of({"method": "circle", "diameter": text}, PACE)
    assert outline.area.nominal == pytest.approx(math.pi * metres**2 / 4, rel=1e-9)


def test_every_length_of_every_method_takes_paces_and_tape() -> None:
    for method in methods().values():
        for field in method.form.fields:
            if field.unit == "m" and field.kind in ("number", "list"):
                assert field.paces, (method.key, field.key)
                assert field.measured, (method.key, field.key)
                assert field.label, (method.key, field.key)


def test_every_field_and_method_says_how_it_is_done() -> None:
    for method in methods().values():
        assert len(method.help) > 30, method.key
        for field in method.form.fields:
            for one in (field, *field.row):
                said = one.help or "Side " in one.label or one.kind == "choice" or one.key == "outline"
                assert said or one.key == "count", (method.key, one.key)


def test_lists_may_be_typed_one_value_a_line_or_with_semicolons() -> None:
    lists = ([0, "3 m", "10 ft", 0], "0; 3 m; 10 ft; 0", "0\n3 m\n10 ft\n0\n")
    areas = {outline_of({"method": "offsets", "spacing": 1, "offsets": o}).area.nominal for o in lists}
    assert len(areas) == 1


def test_points_may_be_pairs_or_named() -> None:
    pairs = [[0, 0], ["10 m", 0], [9, "6,5 m"]]
    named = [{"x": x, "y": y} for x, y in pairs]
    told = [outline_of({"method": "coordinates", "points": p}).area.nominal for p in (pairs, named)]
    assert told[0] == told[1] == pytest.approx(32.5)


def test_a_tape_reading_and_a_count_carry_their_own_margins() -> None:
    taped = outline_of({"method": "rectangle", "length": "10 m", "width": "5 ± 0.5 m"}).area
    assert taped.plus_minus == pytest.approx(math.hypot(5 * 0.02, 10 * 0.5))


def test_an_unusual_length_is_warned_of_and_used() -> None:
    outline, reading = measure({"method": "circle", "diameter": "150 m"})
    assert outline is not None
    assert reading.warnings["diameter"].startswith("Unusual diameter: mostly 2 m to 60 m")


def test_a_way_is_taken_by_name_or_by_what_is_filled_in() -> None:
    both = {"method": "circle", "diameter": "10 m", "circumference": "10 m"}
    assert outline_of({**both, "way": "circumference"}).perimeter.nominal == pytest.approx(10)
    assert outline_of({**both, "way": "diameter"}).perimeter.nominal == pytest.approx(10 * math.pi)
    assert outline_of({"method": "circle", "circumference": "10 m"}).perimeter.nominal == pytest.approx(10)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        (26.17, 26.17),
        ("26.17", 26.17),
        ("26,17 deg", 26.17),
        ("26°", 26),
        ("26° 10'", 26 + 1 / 6),
        ("26 10 30", 26.175),
        ("N26 10E", 26 + 1 / 6),
        ("n 26° 10' e", 26 + 1 / 6),
        ("S75 25E", 180 - 75 - 25 / 60),
        ("S15 30W", 195.5),
        ("N53 06W", 360 - 53.1),
        ("N76E", 76),
        ("N0E", 0),
        ("S", 180),
        ("NW", 315),
        ("360", 0),
        (0, 0),
    ],
)
def test_bearings_as_surveyors_write_them(text: Any, degrees: float) -> None:
    assert bearing_of(text) == pytest.approx(degrees, abs=1e-9)


def test_a_bearing_may_carry_its_margin() -> None:
    read = bearing_of("26 ± 1.5")
    assert (nominal(read), spread(read)) == (26, 1.5)


@pytest.mark.parametrize(
    "text",
    ["", "north-ish", "N95E", "E26N", "26 70", "N26 10", "-5", 361, -1, math.nan, True, None, [26], "26 ± x"],
)
def test_what_is_no_bearing_is_refused(text: Any) -> None:
    with pytest.raises(BadValue, match=r"."):
        bearing_of(text)
