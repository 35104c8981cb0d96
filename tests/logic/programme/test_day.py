"""The day: wherever it is interrupted it is where it was, and what is taken back can be done again."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.programme.day import Day, DayStep, Planned, act, redo, replanned, state, undo
from logic.programme.day_json import from_json, to_json
from logic.programme.exposure import vibration
from logic.programme.sheet import cautions_due, day_steps, differences, uses
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out

START = datetime(2026, 9, 1, 8, 0, tzinfo=UTC)
STEPS = (
    DayStep("coring-1", "coring", "Hollow coring", 2, "Hollow-tine machine", cautions=("vibration",)),
    DayStep(
        "overseeding-1",
        "overseeding",
        "Overseeding",
        2,
        "Drop spreader",
        items=(("seed_mass", "Seed: 480 g"),),
        planned=(Planned("seed_mass", "Seed", "480 g"),),
    ),
    DayStep("watering-1", "watering", "Watering"),
)
DAY = Day(STEPS)


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


step_ids = st.sampled_from([one.id for one in STEPS])
words = st.sampled_from(["", "no wind", "ran out; früher als geplant"])
doings = st.one_of(
    st.tuples(st.sampled_from(["start", "pause", "finish", "reopen"]), step_ids, st.just({})),
    st.tuples(st.just("skip"), step_ids, st.just({"reason": "rain"})),
    st.tuples(st.just("pass"), step_ids, st.fixed_dictionaries({"by": st.sampled_from([1, -1])})),
    st.tuples(
        st.just("tick"), step_ids, st.fixed_dictionaries({"item": st.just("seed_mass"), "on": st.booleans()})
    ),
    st.tuples(
        st.just("actual"),
        step_ids,
        st.fixed_dictionaries({"key": st.just("seed_mass"), "value": st.just("500 g"), "reason": words}),
    ),
    st.tuples(st.just("note"), st.sampled_from(["", "coring-1"]), st.fixed_dictionaries({"text": words})),
    st.tuples(st.just("caution"), st.just(""), st.just({"key": "vibration"})),
    st.tuples(st.just("hollow"), st.just(""), st.just({"place": "2,3", "text": "8 mm"})),
    st.tuples(st.just("photo"), st.sampled_from(["", "coring-1"]), st.just({"photo": "p1"})),
    st.tuples(st.sampled_from(["undo", "redo"]), st.just(""), st.just({})),
)


def done(day: Day, doing: tuple[str, str, dict[str, Any]], moment: datetime) -> Day:
    """The day after a tap; a tap that is refused changes nothing."""
    do, step, more = doing
    if do in ("undo", "redo"):
        return undo(day) if do == "undo" else redo(day)
    try:
        return act(day, do, moment, step, **more)
    except BadValue:
        return day


@settings(max_examples=150, deadline=None)
@given(st.lists(doings, max_size=25), st.integers(0, 25))
def test_killed_at_any_point_it_goes_on_as_if_nothing_had_been(doings_: list[Any], killed: int) -> None:
    whole = killed_day = DAY
    for place, doing in enumerate(doings_):
        whole = done(whole, doing, at(place))
        if place == killed:
            killed_day = from_json(json.loads(json.dumps(to_json(killed_day))))
        killed_day = done(killed_day, doing, at(place))
    assert killed_day == whole
    assert state(killed_day) == state(whole)
    assert from_json(json.loads(json.dumps(to_json(whole)))) == whole


@settings(max_examples=150, deadline=None)
@given(st.lists(doings, max_size=25))
def test_what_is_taken_back_can_all_be_done_again(doings_: list[Any]) -> None:
    day = DAY
    for place, doing in enumerate(doings_):
        before, day = day, done(day, doing, at(place))
        if doing[0] not in ("undo", "redo") and day != before:
            assert undo(day).log == before.log
            assert redo(undo(day)).log == day.log
    back, count = day, 0
    while back.log:
        back, count = undo(back), count + 1
    assert state(back) == state(DAY)
    for _ in range(count):
        back = redo(back)
    assert back == day


@settings(max_examples=100, deadline=None)
@given(st.lists(doings, max_size=25))
def test_one_step_runs_at_a_time_and_no_time_is_counted_twice(doings_: list[Any]) -> None:
    day = DAY
    for place, doing in enumerate(doings_):
        day = done(day, doing, at(place))
    stood = state(day)
    assert sum(one.status == "running" for one in stood.steps.values()) <= 1
    worked = sum(one.seconds(at(len(doings_))) for one in stood.steps.values())
    assert worked <= 60 * len(doings_) + 1e-6


def test_timers_run_pause_and_go_on() -> None:
    day = act(DAY, "start", at(0), "coring-1")
    day = act(day, "pause", at(20), "coring-1")
    day = act(day, "start", at(50), "coring-1")
    assert state(day).steps["coring-1"].seconds(at(60)) == 30 * 60
    day = act(day, "start", at(70), "overseeding-1")  # another step pauses the first
    assert state(day).steps["coring-1"].seconds(at(500)) == 40 * 60
    assert state(day).running == "overseeding-1"
    day = act(day, "finish", at(80), "overseeding-1")
    assert state(day).steps["overseeding-1"].seconds(at(500)) == 10 * 60
    assert state(day).next == "coring-1"


def test_a_clock_set_back_takes_no_time_away() -> None:
    day = act(DAY, "start", at(30), "coring-1")
    assert state(day).steps["coring-1"].seconds(at(0)) == 0
    day = act(day, "pause", at(10), "coring-1")
    assert state(day).steps["coring-1"].seconds(at(10)) == 0


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="zone"):
        act(DAY, "start", datetime(2026, 9, 1, 8, 0), "coring-1")


def test_taps_that_change_nothing_leave_no_trace() -> None:
    assert act(DAY, "pause", at(0), "coring-1") is DAY
    running = act(DAY, "start", at(0), "coring-1")
    assert act(running, "start", at(5), "coring-1") is running
    assert act(DAY, "pass", at(0), "coring-1", by=-1) is DAY
    assert undo(DAY) is DAY
    assert redo(DAY) is DAY


def test_closed_steps_are_opened_again_first() -> None:
    day = act(DAY, "skip", at(0), "coring-1", reason="too wet")
    with pytest.raises(BadValue, match="Open it again"):
        act(day, "start", at(1), "coring-1")
    day = act(act(day, "reopen", at(2), "coring-1"), "start", at(3), "coring-1")
    assert state(day).running == "coring-1"
    with pytest.raises(BadValue, match="why"):
        act(DAY, "skip", at(0), "coring-1", reason=" ")


def test_unknown_steps_and_actions_are_refused() -> None:
    for do, step in (("dance", "coring-1"), ("start", "digging-1"), ("start", "")):
        with pytest.raises(BadValue):
            act(DAY, do, at(0), step)


def test_a_damaged_entry_costs_that_entry_only() -> None:
    raw = to_json(act(act(DAY, "start", at(0), "coring-1"), "note", at(1), "coring-1", text="windy"))
    raw["log"].insert(1, {"do": "start", "step": "coring-1", "at": "not a time"})
    raw["log"].append({"do": "unheard of", "at": START.isoformat()})
    raw["steps"].append("torn")
    day = from_json(raw)
    assert [event.do for event in day.log] == ["start", "note"]
    assert day.steps == STEPS
    assert from_json("torn") == Day()


def test_a_step_that_is_gone_is_passed_over_and_comes_back_with_its_work() -> None:
    day = act(DAY, "finish", at(5), "coring-1")
    fewer = replanned(day, STEPS[1:])
    assert "coring-1" not in state(fewer).steps
    assert state(replanned(fewer, STEPS)).steps["coring-1"].status == "done"


def worked(operation: str, **given_: Any) -> Worked:
    return work_out({"operation": operation, **given_}, Ground(area=60.0, perimeter=28.0, longest_run=9.0))


def test_a_sheet_is_drawn_from_works() -> None:
    works = (
        worked("coring", tine_diameter="12 mm", spacing_across="50 mm", spacing_along="50 mm", depth="80 mm"),
        worked("overseeding", rate="8 g/m^2", directions=2),
        worked("coring", tine_diameter="8 mm", spacing_across="40 mm", spacing_along="40 mm", depth="80 mm"),
    )
    steps = day_steps([({"operation": one.operation.key}, one) for one in works])
    assert [one.id for one in steps] == ["coring-1", "overseeding-1", "coring-2"]
    assert steps[1].passes == 2
    assert steps[1].items
    assert {key for key, _ in steps[1].items} == {one.key for one in works[1].figures if one.order}
    assert "buried_services" in steps[0].cautions


def test_a_caution_is_shown_once_a_day() -> None:
    assert [one.key for one in cautions_due(DAY, "coring-1")] == ["vibration"]
    day = act(DAY, "caution", at(0), key="vibration")
    assert cautions_due(day, "coring-1") == ()


def test_actual_against_plan_with_the_reason() -> None:
    day = act(
        DAY, "actual", at(9), "overseeding-1", key="seed_mass", value="0.54 kg", reason="thin by the gate"
    )
    (found,) = differences(day)
    assert found.reason == "thin by the gate"
    assert found.share is not None
    assert found.share.nominal == pytest.approx(12.5)
    odd = act(DAY, "actual", at(9), "overseeding-1", key="seed_mass", value="two bags", reason="")
    assert differences(odd)[0].share is None


def test_hours_by_machine_give_the_days_vibration() -> None:
    day = act(act(DAY, "start", at(0), "coring-1"), "finish", at(90), "coring-1")
    found = uses(day, {"Hollow-tine machine": {"vibration": 6.0, "noise": None}}, at(90))
    # 6 m/s² for an hour and a half: 108 points, as in I-C115 of the published rows
    assert vibration(found).figure("vibration_points").nominal == pytest.approx(108)
