"""Drafted outlines: changing the way of measuring and back loses nothing, at any depth."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.measure.methods import methods
from logic.records.drafts import (
    draft_of,
    field_at,
    given_of,
    name_at,
    value_at,
    values_in,
    with_method,
    with_value,
)
from logic.records.levelled import level_form
from logic.records.reckon import reckon
from logic.records.standing import standing
from logic.records.types import Client, Sward, Visit
from logic.records.visits import (
    job_of,
    reading_at,
    records_of,
    second_of,
    with_levels,
    with_reading,
    with_second,
)

CIRCLE = {"method": "circle", "diameter": "9 m"}
RECTANGLE = {"method": "rectangle", "length": "10 m", "width": "6 m"}


def test_a_reading_that_both_ways_ask_for_carries_over_and_the_rest_comes_back() -> None:
    doc = with_value(with_value({}, "length", "10 m"), "width", "6 m")
    oval = with_method(doc, "ellipse")
    assert values_in(oval) == {"length": "10 m", "width": "6 m"}
    assert values_in(with_method(with_method(oval, "circle"), "rectangle")) == {
        "length": "10 m",
        "width": "6 m",
    }


def test_a_reading_changed_under_one_way_stays_as_it_was_under_the_other() -> None:
    doc = with_value(with_method(with_value({}, "length", "10 m"), "ellipse"), "length", "12 m")
    assert values_in(with_method(doc, "rectangle"))["length"] == "10 m"


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(sorted(methods())), max_size=12), st.text(min_size=1, max_size=8))
def test_no_tour_through_the_ways_of_measuring_loses_what_was_typed(tour: list[str], typed: str) -> None:
    doc = with_value({}, "length", typed)
    for method in (*tour, "rectangle"):
        doc = with_method(doc, method)
    assert value_at(doc, "length") == typed


def test_a_path_reaches_into_lists_rows_and_the_outlines_of_parts() -> None:
    doc = draft_of({"method": "compound", "parts": [{"sign": "+", "outline": CIRCLE}]})
    doc = with_value(doc, "parts.0.outline.diameter", "8 m")
    doc = with_value(doc, "parts.1.sign", "-")
    assert value_at(doc, "parts.0.outline.diameter") == "8 m"
    assert value_at(doc, "parts.7.outline.diameter") == ""
    assert given_of(doc)["parts"] == [
        {"sign": "+", "outline": {"method": "circle", "diameter": "8 m"}},
        {"sign": "-"},
    ]


@pytest.mark.parametrize(
    ("given", "path", "name"),
    [
        ({"method": "offsets", "offsets": ["0"]}, "offsets.3", "Offset 4"),
        ({"method": "traverse", "legs": [{}]}, "legs.2.distance", "Leg 3, distance"),
        (
            {"method": "compound", "parts": [{"outline": CIRCLE}]},
            "parts.0.outline.diameter",
            "Part 1, diameter",
        ),
        ({"method": "circle"}, "width", ""),
    ],
)
def test_a_path_has_a_field_and_a_name(given: dict[str, object], path: str, name: str) -> None:
    assert name_at(draft_of(given), path) == name
    found = field_at(draft_of(given), path)
    assert (found.kind if found else "") == ("number" if name else "")


def test_a_reading_of_the_second_measurement_and_of_the_levels_has_a_place() -> None:
    visit = _measured_twice(CIRCLE)
    visit = with_reading(visit, "second:diameter", "8 m")
    visit = with_levels(visit, with_method({}, "hollows", level_form))
    visit = with_reading(visit, "levels:hollows.1.length", "2 m")
    assert reading_at(visit, "diameter") is None  # the first one is a rectangle
    for place, name, value in (
        ("second:diameter", "Diameter", "8 m"),
        ("levels:hollows.1.length", "Hollow 2, length", "2 m"),
    ):
        found = reading_at(visit, place)
        assert found
        assert found[1:] == (name, value)


def test_the_job_file_of_a_part_has_only_the_way_it_was_measured() -> None:
    doc = draft_of({"method": "compound", "parts": [{"sign": "+", "outline": RECTANGLE}]})
    part = with_value(with_method(value_at(doc, "parts.0.outline"), "circle"), "diameter", "5 m")
    doc = with_value(doc, "parts.0.outline", part)
    assert given_of(doc)["parts"][0]["outline"] == {"method": "circle", "diameter": "5 m"}
    again = draft_of(given_of(doc))
    assert given_of(again) == given_of(doc)


def _measured_twice(second: dict[str, str]) -> Visit:
    visit = Visit(sward_id="s", outline=draft_of(RECTANGLE))
    return with_second(visit, draft_of(second))


def test_two_measurements_that_agree_are_combined_and_better_than_either() -> None:
    visit = _measured_twice({"method": "rectangle", "length": "10.03 m", "width": "5.99 m"})
    one, both = standing(with_second(visit, None), None, 0.9), standing(visit, None, 0.9)
    assert one.outline
    assert both.outline
    assert both.twice
    assert both.twice.second
    assert both.twice.agree
    assert one.outline.area.nominal < both.outline.area.nominal < both.twice.second.area.nominal
    # Two equally good measurements: the mean is better by the square root of two (any statistics text).
    assert both.outline.area.plus_minus == pytest.approx(one.outline.area.plus_minus / 2**0.5, rel=0.01)


def test_two_measurements_that_disagree_are_told_and_the_first_is_kept() -> None:
    stood = standing(_measured_twice({"method": "circle", "diameter": "9.5 m"}), None, 0.9)
    assert stood.outline
    assert stood.twice
    assert stood.twice.agree is False
    assert stood.outline.area.nominal == 60
    assert "disagree" in stood.outline.warnings[-1]


def test_an_unfinished_second_measurement_changes_nothing() -> None:
    stood = standing(_measured_twice({"method": "circle"}), None, 0.9)
    assert stood.outline
    assert stood.twice
    assert stood.outline.area.nominal == 60
    assert stood.twice.sentence() == ""


def test_the_second_measurement_and_the_levels_go_through_the_job_file() -> None:
    visit = _measured_twice({"method": "rectangle", "length": "10.03 m", "width": "5.99 m"})
    visit = with_levels(visit, draft_of({"method": "grid", "heights": ["1", "2"]}, level_form))
    job = job_of(visit, Sward(name="Back green"), Client(name="Ada Fen"), None)
    again = records_of(job)[3]
    assert second_of(again) == second_of(visit)
    assert again.outline["levels"] == visit.outline["levels"]
    stood = standing(visit, None, 0.9)
    assert stood.outline
    area = reckon(job).outline.area
    assert (area.nominal, area.plus_minus) == (stood.outline.area.nominal, stood.outline.area.plus_minus)
