"""The day and the weeks after, on a real book that is killed after any tap."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from logic.programme.day import DONE, PAUSED, RUNNING, Day, DayState, DayStep, state
from logic.programme.day_json import from_json
from logic.records.trade import times_of
from logic.records.types import Machine, Visit, utc_now
from logic.records.visits import with_method
from mobile_app import care, trade
from mobile_app import day as doing
from tests.mobile_app.stand import Stand, played, type_in

WORKS = (
    (
        "coring",
        {"tine_diameter": "12 mm", "depth": "75 mm", "spacing_across": "5 cm", "spacing_along": "5 cm"},
    ),
    ("overseeding", {"rate": "8 g/m^2", "species": "browntop_bent"}),
    ("topdressing", {"depth": "2 mm"}),
)


def ready(hand: Stand) -> Visit:
    """A green of 10 m × 12 m that is to be cored, seeded and dressed."""
    visit = hand.open_visit()
    hand.app.edit(with_method(visit, "rectangle"))
    type_in(hand, "length", "12 m")
    type_in(hand, "width", "10 m")
    works = tuple({"operation": key, "values": values} for key, values in WORKS)
    hand.app.edit(replace(hand.app.visit_in_hand(), works=works))
    hand.app.save_now()
    return hand.app.visit_in_hand()


def stood(hand: Stand) -> tuple[Day, DayState, DayStep | None]:
    visit = hand.app.visit_in_hand()
    day = doing.day_in_hand(hand.app, visit)
    return day, state(day), doing.at_hand(visit, day, state(day))


TAPS: tuple[tuple[Any, ...], ...] = (
    ("start", "coring-1"),
    ("start", "overseeding-1"),
    ("act", "pause", "coring-1", {}),
    ("act", "finish", "coring-1", {}),
    ("act", "pass", "coring-1", {"by": 1}),
    ("act", "pass", "coring-1", {"by": -1}),
    ("act", "tick", "overseeding-1", {"item": "seed_weigh_out", "on": True}),
    (
        "act",
        "actual",
        "overseeding-1",
        {"key": "seed_weigh_out", "value": "1.1 kg", "reason": "thin by the gate"},
    ),
    ("act", "note", "", {"text": "rain at noon"}),
    ("act", "hollow", "", {"place": "by the tap", "text": "filled 8 mm"}),
    ("act", "skip", "topdressing-1", {"reason": "too wet"}),
    ("act", "reopen", "topdressing-1", {}),
    ("open", "topdressing-1"),
    ("undo",),
    ("redo",),
)


def tap(hand: Stand, what: tuple[Any, ...]) -> None:
    if what[0] == "act":
        doing.act(hand.app, what[1], what[2], **what[3])
    elif what[0] == "start":
        doing.start(hand.app, what[1])
    elif what[0] == "open":
        doing.open_step(hand.app, what[1])
    else:
        (doing.undo if what[0] == "undo" else doing.redo)(hand.app)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(TAPS), min_size=1, max_size=12))
def test_killed_after_any_tap_the_day_is_where_it_was(taps: list[tuple[Any, ...]]) -> None:
    async def story(hand: Stand) -> None:
        ready(hand)
        for what in taps:
            tap(hand, what)
        left = hand.app.visit_in_hand()
        again = hand.killed()
        found = again.app.book.get(Visit, left.id)
        assert dict(found.day) == dict(left.day)
        assert from_json(found.day).log == from_json(left.day).log
        day = doing.day_in_hand(again.app, found)
        assert doing.at_hand(found, day, state(day)) == stood(hand)[2]

    played(story)


def test_the_clock_that_runs_goes_on_through_a_kill() -> None:
    async def story(hand: Stand) -> None:
        ready(hand)
        doing.start(hand.app, "coring-1")
        since = stood(hand)[1].steps["coring-1"].since
        again = hand.killed()
        found = again.app.book.get(Visit, hand.app.visit_in_hand().id)
        now = state(doing.day_in_hand(again.app, found)).steps["coring-1"]
        assert (now.status, now.since) == (RUNNING, since)
        later = utc_now() + timedelta(minutes=20)
        assert now.seconds(later) == pytest.approx(1200, abs=60)

    played(story)


def test_cautions_come_before_a_start_and_once_a_day_for_all_jobs() -> None:
    async def story(hand: Stand) -> None:
        visit = ready(hand)
        day = stood(hand)[0]
        due = [one.key for one in doing.due(hand.app, visit, day, "coring-1")]
        assert {"buried_services", "vibration", "petrol"} <= set(due)
        doing.start(hand.app, "coring-1")
        visit = hand.app.visit_in_hand()
        assert doing.due(hand.app, visit, stood(hand)[0], "coring-1") == ()
        other = replace(visit, id="another", day={})
        hand.app.save(other, "another job of the day")
        assert doing.due(hand.app, other, doing.day_in_hand(hand.app, other), "coring-1") == ()

    played(story)


def test_a_step_finished_goes_on_to_the_next_and_teaches_the_next_quote() -> None:
    async def story(hand: Stand) -> None:
        ready(hand)
        doing.start(hand.app, "coring-1")
        _backdate(hand, minutes=90)
        doing.act(hand.app, "finish", "coring-1")
        _, found, at = stood(hand)
        assert found.steps["coring-1"].status == DONE
        assert at is not None
        assert at.id == "overseeding-1"
        (timed,) = trade.own_times(hand.app, hand.app.visit_in_hand())
        assert (timed.operation, timed.people) == ("coring", 1)
        assert timed.minutes == pytest.approx(90, abs=1)

    played(story)


def _backdate(hand: Stand, minutes: int) -> None:
    """As if all so far had been done some minutes earlier."""
    visit = hand.app.visit_in_hand()
    log = [
        {**event, "at": (utc_now() - timedelta(minutes=minutes)).isoformat()} for event in visit.day["log"]
    ]
    hand.app.edit(replace(visit, day={**visit.day, "log": log}))


def test_a_time_typed_by_hand_is_left_alone() -> None:
    async def story(hand: Stand) -> None:
        visit = ready(hand)
        times = {"coring": {"minutes": "75 min", "people": "2"}}
        hand.app.edit(replace(visit, supply={**visit.supply, "times": times}))
        doing.start(hand.app, "coring-1")
        doing.act(hand.app, "finish", "coring-1")
        assert times_of(hand.app.visit_in_hand(), "coring")["minutes"] == "75 min"

    played(story)


def test_works_changed_during_the_day_keep_what_was_done() -> None:
    async def story(hand: Stand) -> None:
        visit = ready(hand)
        doing.start(hand.app, "coring-1")
        doing.act(hand.app, "pass", "coring-1", by=1)
        visit = hand.app.visit_in_hand()
        hand.app.edit(replace(visit, works=(*visit.works[1:], {"operation": "matting", "values": {}})))
        day, found, _ = stood(hand)
        assert [one.id for one in day.steps] == ["overseeding-1", "topdressing-1", "matting-1", "coring-1"]
        assert found.steps["coring-1"].passes == 1
        doing.start(hand.app, "matting-1")
        assert stood(hand)[1].steps["coring-1"].status == PAUSED

    played(story)


def test_shaking_of_the_day_uses_ones_own_figures_and_says_which() -> None:
    async def story(hand: Stand) -> None:
        ready(hand)
        hand.app.save(
            Machine(name="Old corer", works=("coring",), vibration="6 m/s^2", source="its plate"), "machine"
        )
        doing.start(hand.app, "coring-1")
        _backdate(hand, minutes=30)
        day, _, at = stood(hand)
        assert at is not None
        assert at.machine == "Old corer"
        found = doing.load(hand.app, hand.app.visit_in_hand(), day, at)
        # points = 2 × a² × hours: 2 × 36 × 0.5 = 36; the rest to 100 lasts 64 ÷ 72 h. Unless midnight fell
        # between, when less of it belongs to today.
        points = found.vibration.figure("vibration_points").nominal
        assert 0 < points <= 36.5
        assert found.left[0].nominal == pytest.approx((100 - points) / 72)
        assert "its plate" in str(found.used[0].source)

    played(story)


def finished(hand: Stand) -> Visit:
    ready(hand)
    for step in ("coring-1", "overseeding-1"):
        doing.act(hand.app, "finish", step)
    doing.act(hand.app, "skip", "topdressing-1", reason="too wet")
    return hand.app.visit_in_hand()


def test_a_day_that_is_done_begins_the_aftercare_of_what_was_done() -> None:
    async def story(hand: Stand) -> None:
        visit = finished(hand)
        assert care.is_begun(visit)
        lines = care.stages_of(visit).lines
        assert any(line.key == "seed_damp" for line in lines)
        assert not any(line.key.startswith("sand") for line in lines)

    played(story)


def test_follow_ups_are_due_in_the_list_until_they_are_ticked() -> None:
    async def story(hand: Stand) -> None:
        visit = finished(hand)
        sward = hand.app.sward_of(visit)
        assert care.coming(hand.app, [sward], ahead=7) == {}  # the first follow-up is a fortnight off
        care.choose(hand.app, "cuts", "we")
        long_ago = date.today() - timedelta(days=20)
        care.choose(hand.app, "start", long_ago.isoformat())
        first = care.coming(hand.app, [sward])[sward.id]
        said = care.words(first.due)
        assert said.startswith(("Due: ", "Overdue: "))
        care.tick(hand.app, first.due.line.key)
        after = care.coming(hand.app, [sward], ahead=120)[sward.id]
        assert after.due.line.key != first.due.line.key
        found = hand.killed()
        assert care.coming(found.app, [sward], ahead=120)[sward.id].due == after.due

    played(story)


@pytest.mark.parametrize("contractor", [False, True])
def test_the_calendar_is_offered_and_can_be_read(contractor: bool) -> None:
    async def story(hand: Stand) -> None:
        visit = finished(hand)
        care.give_calendar(hand.app, contractor)
        ((name, mime, data, _),) = hand.device.offered
        assert (name.rpartition(".")[2], mime) == ("ics", "text/calendar")
        events = list(Calendar.from_ical(data).walk("VEVENT"))
        found = care.stages_of(visit)
        wanted = found.visits if contractor else found.lines
        assert [event.decoded("dtstart") for event in events] == [line.first for line in wanted]

    played(story)
