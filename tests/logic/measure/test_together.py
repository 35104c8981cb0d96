"""Compound ground, measuring twice, and sloping ground."""

from __future__ import annotations

import math
from typing import Any

import pytest

from logic.measure.methods import outline_of
from logic.measure.pacing import pace_of
from logic.measure.slope import level_length, surface_factor
from logic.measure.twice import compare
from logic.units import nominal, plus_minus, spread

LAWN = {"method": "rectangle", "length": "12 m", "width": "8 m"}
BED = {"method": "circle", "diameter": "2 m"}


def compound(*parts: dict[str, Any], pace: Any = None) -> Any:
    return outline_of({"method": "compound", "parts": list(parts)}, pace)


def plus(outline: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"sign": "+", "outline": outline, **more}


def less(outline: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"sign": "-", "outline": outline, **more}


def test_a_bed_inside_is_a_hole_whose_edge_is_cut_too() -> None:
    outline = compound(plus(LAWN), less(BED, at=["5 m", "4 m"]))
    assert not outline.warnings
    assert len(outline.holes) == 1
    assert outline.perimeter.nominal == pytest.approx(40)
    assert outline.edge_length.nominal == pytest.approx(40 + 2 * math.pi, rel=1e-3)


def test_overlaps_are_told_with_their_size() -> None:
    outline = compound(plus(LAWN), plus(LAWN, at=["10 m", "0 m"]))
    assert outline.area.nominal == pytest.approx(192)
    assert "overlap or a part taken off reaches outside, by 16 m²" in outline.warnings[0]


def test_what_is_taken_off_outside_the_ground_is_told() -> None:
    assert "reaches outside, by 3.1 m²" in compound(plus(LAWN), less(BED, at=["20 m", "0 m"])).warnings[0]


def test_parts_that_only_touch_are_no_overlap() -> None:
    assert not compound(plus(LAWN), plus(LAWN, at=["12 m", "0 m"])).warnings


def test_separate_pieces_are_all_there() -> None:
    outline = compound(plus(LAWN), plus(BED, at=["20 m", "0 m"]))
    assert len(outline.pieces) == 1
    assert outline.perimeter.nominal == pytest.approx(40 + 2 * math.pi, rel=1e-3)


def test_parts_that_do_not_say_where_they_lie_are_drawn_apart() -> None:
    outline = compound(plus(LAWN), plus(BED), less(BED))
    assert outline.area.nominal == pytest.approx(96)
    assert len(outline.pieces) == 1
    assert min(x for x, _ in outline.pieces[0]) > 12
    assert "in a row" in outline.perimeter.working()[0]


def test_one_pace_is_shared_by_all_parts() -> None:
    """Two paced rectangles: the pace's error adds up straight, the counts' in squares."""
    pace = pace_of({"course": "25 m", "counts": [38, 40, 37, 37, 37]})
    one = {"method": "rectangle", "length": "16 paces", "width": "9.5 paces"}
    alone, both = outline_of(one, pace).area, compound(plus(one), plus(one), pace=pace).area

    def of_pace(figure: Any) -> float:
        parts = figure.value.magnitude.error_components().items()
        return float(sum(u for reading, u in parts if reading.tag == "pace"))

    assert of_pace(both) == pytest.approx(2 * of_pace(alone))
    assert both.plus_minus < 2 * alone.plus_minus


def test_taking_the_same_paced_bed_off_takes_its_pace_error_off() -> None:
    pace = pace_of({"course": "25 m", "counts": [38, 40, 37, 37, 37]})
    lawn = {"method": "rectangle", "length": "16 paces", "width": "9.5 paces"}
    bed = {"method": "rectangle", "length": "8 paces", "width": "5 paces"}
    area = compound(plus(lawn), less(bed), pace=pace).area
    share = sum(u for reading, u in area.value.magnitude.error_components().items() if reading.tag == "pace")
    assert share / area.nominal == pytest.approx(2 * spread(pace.metres) / nominal(pace.metres))


# --- measured twice -------------------------------------------------------------------------------


def test_two_that_agree_are_combined_by_weight() -> None:
    """Weighted mean of 60 ± 2 and 63 ± 1: (60/4 + 63)/(1/4 + 1) = 62.4 ± 0.894 (by hand)."""
    found = compare(plus_minus(60, 2), plus_minus(63, 1))
    assert found.agree
    assert nominal(found.combined) == pytest.approx(62.4)
    assert spread(found.combined) == pytest.approx(math.sqrt(0.8))


def test_two_that_disagree_are_told_and_their_gap_goes_into_the_margin() -> None:
    found = compare(plus_minus(60, 1), plus_minus(66, 1))
    assert not found.agree
    assert nominal(found.combined) == 63
    assert spread(found.combined) == pytest.approx(math.hypot(3, math.sqrt(0.5)))


def test_they_agree_up_to_1_96_of_the_margin_of_their_difference() -> None:
    apart = 1.96 * math.sqrt(2)
    assert compare(plus_minus(60, 1), plus_minus(60 + apart - 1e-6, 1)).agree
    assert not compare(plus_minus(60, 1), plus_minus(60 + apart + 1e-6, 1)).agree
    assert compare(60.0, 60.0).agree
    assert not compare(60.0, 60.1).agree


def test_an_error_that_both_share_is_no_excuse_for_a_gap() -> None:
    pace = plus_minus(0.7, 0.05)
    assert not compare(pace * 100, pace * 104).agree


def test_measured_twice_draws_the_surer_and_says_both() -> None:
    job = {"method": "twice", "first": LAWN, "second": {**LAWN, "length": "12.1 ± 0.2 m"}}
    outline = outline_of(job)
    assert outline.polygon == outline_of(LAWN).polygon
    assert outline.area.plus_minus < outline_of(LAWN).area.plus_minus
    assert outline.area.working()[0] == "first (rectangle) = 96 m² ± 0.29 m²"
    assert not outline.warnings
    slip = outline_of({**job, "second": {**LAWN, "length": "13 m"}})
    assert "disagree beyond their ±: 96 m², 104 m²" in slip.warnings[0]


# --- slopes ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("slope", "shortfall"), [(2, 0.02), (5, 0.12), (10, 0.50), (15, 1.11)])
def test_level_length_falls_short_as_published(slope: float, shortfall: float) -> None:
    """Shortfall in per cent at slopes in per cent: FAO, Topography for freshwater fish culture, ch. 2."""
    assert 100 * (1 - level_length(1.0, slope / 100)) == pytest.approx(shortfall, abs=0.006)


def test_a_plan_on_a_slope_has_the_larger_surface() -> None:
    level, sloping = outline_of(LAWN).area, outline_of({**LAWN, "slope": "20 %"}).area
    assert sloping.nominal == pytest.approx(level.nominal * math.sqrt(1.04))
    assert sloping.plus_minus == pytest.approx(level.plus_minus * surface_factor(0.2))
    assert "on the slope of 20 % the turf's surface" in sloping.working()[-1]


def test_a_slope_up_to_five_percent_counts_as_level() -> None:
    area = outline_of({**LAWN, "slope": "5 %"}).area
    assert area.nominal == pytest.approx(96)
    assert "counts as level" in area.working()[-1]


# --- checks by one line more ----------------------------------------------------------------------


def test_a_taped_diagonal_shows_whether_a_rectangle_is_square() -> None:
    square = {"method": "rectangle", "length": "12 m", "width": "5 m", "diagonal": "13 m"}
    outline = outline_of(square)
    assert not outline.warnings
    assert "check of the diagonal: taped 13 m, from the other lengths 13 m" in outline.area.working()
    skew = outline_of({**square, "diagonal": "13.4 m"})
    assert "disagrees: taped 13.4 m, but the other lengths give 13 m" in skew.warnings[0]
    assert "not square" in skew.warnings[1]


@pytest.mark.parametrize(
    ("job", "line"),
    [
        ({"method": "quadrilateral", "ab": 10, "bc": 6.08, "cd": 8.06, "da": 7.07, "ac": 10.82}, "bd"),
        ({"method": "ties", "sides": [10, 6.08, 8.06, 7.07], "ties": [10.82]}, "check"),
    ],
)
def test_the_other_diagonal_is_held_against_its_computed_length(job: dict[str, Any], line: str) -> None:
    """Corners (0, 0), (10, 0), (9, 6), (1, 7): BD is 11.4018 m (by coordinates)."""
    assert not outline_of(job).warnings
    assert not outline_of({**job, line: 11.40}).warnings
    assert "disagrees" in outline_of({**job, line: 11.60}).warnings[0]
