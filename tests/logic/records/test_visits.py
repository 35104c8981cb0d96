"""A visit's readings and works as typed, and the job file that they make and come from."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.measure.methods import methods
from logic.records import jobfile
from logic.records.reckon import reckon
from logic.records.standing import standing
from logic.records.types import Client, Pace, Sward, Visit
from logic.records.visits import (
    draft,
    is_measured,
    job_of,
    method_key,
    moved_work,
    outline_given,
    pace_scale,
    records_of,
    with_method,
    with_reading,
    with_work,
    with_work_value,
    without_work,
)
from logic.works.operations import operation_named, operations

NOON = datetime(2026, 5, 1, 12, 0, tzinfo=UTC)
PACE = Pace(person="Jo", course="20 m", counts=("25", "25.5", "24.5"))
JOB: dict[str, Any] = {
    "format": jobfile.FORMAT,
    "started": "2026-05-01T12:00:00+00:00",
    "client": {"name": "Ada Fen", "email": "ada@example.com"},
    "sward": {"name": "Back green", "kind": "putting green"},
    "pace": {"course": "20 m", "counts": [25, 25.5, 24.5], "person": "Jo"},
    "outline": {"method": "circle", "diameter": "10 paces"},
    "works": [{"operation": "overseeding", "rate": 8}, {"operation": "topdressing", "depth": "2 mm"}],
    "notes": "moss at the edge",
}


def visit(**fields: Any) -> Visit:
    return Visit(sward_id="s", started=NOON, **fields)


# --- the way of measuring -------------------------------------------------------------------------


def test_a_new_visit_is_set_to_a_rectangle_with_nothing_typed() -> None:
    assert method_key(visit()) == "rectangle"
    assert not is_measured(visit())
    assert not is_measured(with_reading(visit(), "way", "paces"))
    assert is_measured(with_reading(visit(), "length", "12"))


def test_nothing_typed_is_lost_on_another_way_of_measuring_and_back() -> None:
    first = with_reading(with_reading(visit(), "length", "12 m"), "width", "5 m")
    away = with_reading(with_method(first, "circle"), "diameter", "9 m")
    back = with_method(away, "rectangle")
    assert draft(back) == {"length": "12 m", "width": "5 m"}
    assert draft(back, "circle") == {"diameter": "9 m"}


def test_readings_that_both_ways_ask_for_are_carried_over_but_never_over_what_stands_there() -> None:
    first = with_reading(with_reading(visit(), "length", "12 m"), "width", "5 m")
    oval = with_method(first, "ellipse")
    assert draft(oval) == {"length": "12 m", "width": "5 m"}
    again = with_method(with_method(with_reading(oval, "width", "4 m"), "rectangle"), "ellipse")
    assert draft(again)["width"] == "4 m"
    assert draft(again, "rectangle")["width"] == "5 m"


KEYS = tuple(methods())
READINGS = st.tuples(
    st.just("type"), st.sampled_from(["length", "width", "diameter", "a", "height"]), st.text(max_size=5)
)
CHANGES = st.lists(READINGS | st.tuples(st.just("method"), st.sampled_from(KEYS), st.just("")), max_size=12)


@given(CHANGES)
def test_whatever_is_typed_in_whatever_way_stays_in_that_way(changes: list[tuple[str, str, str]]) -> None:
    now, typed = visit(), dict[tuple[str, str], str]()
    for kind, key, text in changes:
        if kind == "method":
            now = with_method(now, key)
        else:
            now = with_reading(now, key, text)
            typed[method_key(now), key] = text
        for (method, field), said in typed.items():
            kept = draft(now, method).get(field)
            assert kept == said or not said  # an empty field may be filled by what is carried over
    assert outline_given(now)["method"] == method_key(now)


def test_a_change_makes_a_new_visit_and_leaves_the_old_one() -> None:
    old = with_reading(visit(), "length", "12 m")
    with_reading(old, "length", "13 m")
    with_method(old, "circle")
    assert draft(old) == {"length": "12 m"}


# --- works ----------------------------------------------------------------------------------------


@given(st.lists(st.sampled_from(tuple(operations())), max_size=6))
def test_works_are_added_in_the_usual_order_of_a_day(chosen: list[str]) -> None:
    now = visit()
    for key in chosen:
        now = with_work(now, key)
    orders = [operation_named(entry["operation"]).order for entry in now.works]
    assert orders == sorted(orders)
    assert sorted(entry["operation"] for entry in now.works) == sorted(chosen)


def test_works_of_the_same_place_in_the_day_keep_the_order_of_choosing() -> None:
    now = with_work(with_work(visit(), "overseeding"), "overseeding")
    now = with_work_value(now, 0, "rate", "8")
    now = with_work(now, "overseeding")
    assert [entry["values"] for entry in now.works] == [{"rate": "8"}, {}, {}]


@given(st.integers(0, 2), st.sampled_from([-1, 1]))
def test_moving_a_work_keeps_all_of_them(index: int, by: int) -> None:
    now = visit(
        works=tuple({"operation": key, "values": {"n": key}} for key in ("coring", "feeding", "rolling"))
    )
    moved = moved_work(now, index, by)
    assert sorted(w["operation"] for w in moved.works) == ["coring", "feeding", "rolling"]
    if 0 <= index + by < 3:
        assert moved_work(moved, index + by, -by).works == now.works


def test_a_work_is_changed_and_taken_out_by_its_place() -> None:
    now = visit(
        works=({"operation": "coring", "values": {}}, {"operation": "feeding", "values": {"n": "6 %"}})
    )
    changed = with_work_value(now, 1, "n", "7 %")
    assert [w["values"] for w in changed.works] == [{}, {"n": "7 %"}]
    assert [w["operation"] for w in without_work(changed, 0).works] == ["feeding"]
    assert now.works[1]["values"] == {"n": "6 %"}


# --- how a visit stands ---------------------------------------------------------------------------


def test_works_wait_until_there_is_an_outline_and_a_bad_one_stops_no_other() -> None:
    now = with_work_value(with_work(with_work(visit(), "overseeding"), "topdressing"), 0, "rate", "8")
    now = with_work_value(now, 1, "depth", "2 mm")
    waiting = standing(now, None, 0.9)
    assert (waiting.outline, waiting.area, waiting.worked) == (None, None, ())
    measured = with_reading(with_reading(now, "length", "12"), "width", "5")
    stood = standing(with_work_value(measured, 0, "rate", "lots"), None, 0.9)
    assert stood.area is not None
    assert [work.operation.key for work in stood.worked] == ["topdressing"]
    _, reading = stood.planned[0]
    assert reading is not None
    assert reading.problems == {"rate": "“lots” is not a number."}


def test_what_only_a_newer_version_knows_is_said_and_spoils_nothing() -> None:
    newer = visit(outline={"method": "by satellite", "drafts": {"by satellite": {"x": "1"}}})
    assert "is not a way of measuring known here" in standing(newer, None, 0.9).measured.problems[""]
    outline = {"method": "rectangle", "drafts": {"rectangle": {"length": "12", "width": "5"}}}
    stood = standing(visit(outline=outline, works=({"operation": "by robot", "values": {}},)), None, 0.9)
    assert stood.area is not None
    _, reading = stood.planned[0]
    assert reading is not None
    assert "is not an operation known here" in reading.problems[""]


def test_a_pace_without_usable_counts_is_no_pace() -> None:
    assert pace_scale(None) is None
    assert pace_scale(Pace()) is None
    assert pace_scale(replace(PACE, counts=("x",))) is None
    scale = pace_scale(PACE)
    assert scale is not None
    assert scale.metres.nominal_value == pytest.approx(0.8)  # 20 m in 25 paces


HOSTILE = (
    st.text(max_size=8)
    | st.lists(st.text(max_size=4), max_size=3)
    | st.dictionaries(st.text(max_size=3), st.text(max_size=3))
)


@settings(max_examples=200)
@given(st.sampled_from(KEYS), st.sampled_from(tuple(operations())), st.data())
def test_a_visit_stands_somehow_whatever_is_typed(method: str, operation: str, data: st.DataObject) -> None:
    now = with_work(with_method(visit(), method), operation)
    typed = data.draw(st.dictionaries(st.sampled_from((*methods()[method].form.keys(), "way")), HOSTILE))
    for key, value in typed.items():
        now = with_reading(now, key, value)
    stood = standing(now, PACE, 0.9)
    assert stood.outline is not None or stood.measured.problems


# --- job files ------------------------------------------------------------------------------------


def printed(job: dict[str, Any]) -> dict[str, Any]:
    return reckon(jobfile.loads(jobfile.dumps(job))).as_json()


def returned(job: dict[str, Any]) -> dict[str, Any]:
    client, sward, pace, made = records_of(jobfile.loads(jobfile.dumps(job)))
    return job_of(made, sward, client, pace)


def test_a_job_taken_in_and_given_out_says_the_same() -> None:
    back = returned(JOB)
    assert back["client"] == JOB["client"]
    assert back["sward"] == JOB["sward"]
    assert back["notes"] == JOB["notes"]
    assert back["pace"] == {
        "course": "20 m",
        "counts": ["25", "25.5", "24.5"],
        "counting": "single",
        "person": "Jo",
    }
    assert jobfile.started_of(back) == NOON
    assert printed(back) == printed(JOB)
    assert returned(back) == back


def test_the_screen_and_the_command_line_work_out_the_same() -> None:
    _, _, pace, made = records_of(JOB)
    stood = standing(made, pace, 0.9)
    reckoned = reckon(JOB)
    assert stood.outline is not None
    assert stood.outline.area.as_json() == reckoned.outline.area.as_json()
    assert [[f.as_json() for f in w.figures] for w in stood.worked] == [
        [f.as_json() for f in w.figures] for w in reckoned.works
    ]


def test_the_confidence_of_the_settings_goes_with_the_job() -> None:
    client, sward, pace, made = records_of(JOB)
    assert "confidence" not in job_of(made, sward, client, pace)
    assert job_of(made, sward, client, pace, 0.95)["confidence"] == 0.95


def test_counts_may_be_written_as_text_and_a_double_pace_stays_one() -> None:
    job = {**JOB, "pace": {"course": 20, "counts": "12.5; 12\n13", "counting": "double", "person": None}}
    _, _, pace, _ = records_of(jobfile.loads(jobfile.dumps(job)))
    assert pace is not None
    assert (pace.counts, pace.course, pace.steps, pace.person) == (("12.5", "12", "13"), "20", "two", "")
    assert printed(returned(job)) == printed(job)


def test_parts_left_out_or_null_are_simply_empty() -> None:
    client, sward, pace, made = records_of({"notes": None, "client": None, "pace": None, "works": None})
    assert (client.name, sward.name, pace, made.notes, made.works) == ("", "", None, "", ())
    assert method_key(made) == "rectangle"


@pytest.mark.parametrize(
    "parts",
    [
        {"outline": {"method": "by satellite"}},
        {"works": [{"operation": "by robot"}]},
        {"works": [{}]},
        {"pace": {"course": "20 m", "counts": ["x"]}},
        {"started": "yesterday"},
    ],
)
def test_what_is_not_understood_makes_no_records(parts: dict[str, Any]) -> None:
    with pytest.raises(BadValue):
        records_of({**JOB, **parts})


def test_records_of_a_job_hang_together() -> None:
    client, sward, pace, made = records_of(JOB)
    assert isinstance(client, Client)
    assert isinstance(sward, Sward)
    assert sward.client_id == client.id
    assert made.sward_id == sward.id
    assert pace is not None
    assert made.pace_id == pace.id
    assert len({client.id, sward.id, pace.id, made.id}) == 4


LENGTHS = st.integers(30, 200).map(lambda n: f"{n / 10} m") | st.integers(4, 30).map(lambda n: f"{n} paces")
SHAPES = st.one_of(
    st.fixed_dictionaries(
        {"method": st.sampled_from(["rectangle", "ellipse"]), "length": LENGTHS, "width": LENGTHS}
    ),
    st.fixed_dictionaries({"method": st.just("circle"), "diameter": LENGTHS}),
    st.fixed_dictionaries({"method": st.just("circle"), "circumference": LENGTHS}),
    st.fixed_dictionaries(
        {"method": st.just("triangle"), "a": st.just(8), "b": st.just("9.5 m"), "c": LENGTHS}
    ),
)
WITH_DEFAULTS = [key for key, o in operations().items() if o.form.read({}).values is not None]
WORKS = st.lists(st.sampled_from(WITH_DEFAULTS), max_size=4).map(
    lambda keys: [{"operation": key} for key in keys]
)


@given(SHAPES, WORKS)
def test_any_job_reckons_the_same_after_it_has_been_through_the_book(
    outline: dict[str, Any], works: list[dict[str, Any]]
) -> None:
    job = {**JOB, "outline": outline, "works": works}
    try:
        before = printed(job)
    except (BadValue, ValueError) as bad:
        with pytest.raises(type(bad), match=r"^In "):
            printed(returned(job))
    else:
        assert printed(returned(job)) == before


def test_most_operations_can_be_worked_out_of_their_defaults() -> None:
    assert len(WITH_DEFAULTS) >= 5
    orders = [operation_named(key).order for key in operations()]
    assert all(a <= b for a, b in pairwise(orders))
