"""The App on a real book: what is typed is saved, can be taken back, and is never lost in silence."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue, NewerFormat
from logic.records.book import Book
from logic.records.types import Pace, Settings, Sward, Visit
from logic.records.visits import draft, method_key, with_method, with_reading, with_work, without_work
from tests.logic.records.memory import MemoryFolder
from tests.mobile_app.stand import PAUSE, Stand, played, stand, type_in

# --- saving ---------------------------------------------------------------------------------------


def test_what_is_typed_is_in_the_book_a_moment_later_without_any_save_button() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        for text in ("1", "12", "12 m"):
            type_in(hand, "length", text)
        assert hand.drawn[-1].visit is not None
        assert draft(hand.drawn[-1].visit) == {"length": "12 m"}  # on the screen at once
        await asyncio.sleep(PAUSE)

    hand = played(story)
    assert draft(hand.stored()) == {"length": "12 m"}


def test_a_burst_of_keys_is_one_entry_in_the_book() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        before = len(hand.app.book.history(Visit, visit.id))
        for end in range(1, 8):
            type_in(hand, "length", "12.5 m "[:end])
        await asyncio.sleep(PAUSE)
        assert len(hand.app.book.history(Visit, visit.id)) == before + 1

    played(story)


def test_saving_now_does_not_wait_and_saving_twice_writes_once() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        type_in(hand, "length", "12 m")
        hand.app.save_now()
        assert draft(hand.stored()) == {"length": "12 m"}
        written = len(hand.folder.steps)
        hand.app.save_now()
        await asyncio.sleep(PAUSE)
        assert len(hand.folder.steps) == written

    played(story)


def test_going_elsewhere_saves_first() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        type_in(hand, "length", "12 m")
        hand.app.go(f"/visit/{visit.id}/works")
        assert draft(hand.stored()) == {"length": "12 m"}
        type_in(hand, "width", "5 m")
        hand.app.arrive("/")  # the phone's back button
        assert hand.app.state.visit is None
        assert draft(hand.app.book.get(Visit, visit.id)) == {"length": "12 m", "width": "5 m"}

    played(story)


# --- taking back ----------------------------------------------------------------------------------


def test_undo_takes_back_what_was_typed_step_by_step_across_places() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        type_in(hand, "length", "12 m")
        hand.app.save_now()
        hand.app.go(f"/visit/{visit.id}/works")
        hand.app.edit(with_work(hand.app.visit_in_hand(), "rolling"))
        hand.app.undo()
        assert hand.app.visit_in_hand().works == ()
        assert hand.app.state.place == f"/visit/{visit.id}/works"
        hand.app.undo()
        assert draft(hand.app.visit_in_hand()) == {}
        assert draft(hand.stored()) == {}
        assert hand.app.visit_in_hand().where == f"/visit/{visit.id}/works"

    played(story)


def test_taking_back_the_start_of_a_visit_leaves_it() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        hand.app.undo()
        assert hand.app.state.visit is None
        assert hand.app.state.place == "/"
        hand.app.save_now()
        assert not hand.app.book.has(Visit, visit.id)

    played(story)


def test_taking_back_a_sward_while_looking_at_it_goes_to_the_list() -> None:
    async def story(hand: Stand) -> None:
        sward = Sward(name="Front lawn")
        hand.app.save_all([sward], "add Front lawn")
        hand.app.go(f"/sward/{sward.id}")
        hand.app.undo()
        assert hand.app.state.place == "/"
        assert hand.said == "Taken back: add Front lawn."

    played(story)


def test_a_work_taken_out_comes_back_with_undo() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        hand.app.edit(with_work(hand.app.visit_in_hand(), "rolling"))
        hand.app.edit_undoable(without_work(hand.app.visit_in_hand(), 0), "take out a work")
        assert hand.app.state.notice is not None
        assert hand.app.state.notice.undo
        assert hand.stored().works == ()
        hand.app.undo()
        assert [w["operation"] for w in hand.stored().works] == ["rolling"]
        assert hand.said == "Taken back: take out a work."

    played(story)


def test_a_sward_put_in_the_bin_comes_back_with_its_visit() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        type_in(hand, "length", "12 m")
        hand.app.leave_visit()
        hand.app.delete(hand.app.sward_of(visit))
        hand.app.go("/")
        assert hand.said == "Back green is in the bin."
        assert not hand.app.book.has(Visit, visit.id)
        hand.app.undo()
        assert draft(hand.app.book.get(Visit, visit.id)) == {"length": "12 m"}

    played(story)


def test_nothing_to_take_back_is_said() -> None:
    async def story(hand: Stand) -> None:
        hand.app.undo()
        assert hand.said == "There is nothing to undo."

    played(story)


# --- places ---------------------------------------------------------------------------------------


def test_after_a_kill_the_app_opens_where_it_was_left() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        hand.app.edit(with_method(hand.app.visit_in_hand(), "circle"))
        type_in(hand, "diameter", "9 m")
        hand.app.go(f"/visit/{visit.id}/works")
        again = hand.killed()
        again.app.back_where_left()
        assert again.app.state.place == f"/visit/{visit.id}/works"
        assert method_key(again.app.visit_in_hand()) == "circle"
        assert draft(again.app.visit_in_hand()) == {"diameter": "9 m"}

    played(story)


def test_a_visit_that_was_left_is_not_opened_again() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        hand.app.leave_visit()
        again = hand.killed()
        again.app.back_where_left()
        assert again.app.state.place == "/"

    played(story)


@pytest.mark.parametrize(
    "place", ["/visit/gone/measure", "/visit", "/sward/gone", "/sward", "/edit/gone", "/edit"]
)
def test_an_address_of_something_gone_leads_to_the_list(place: str) -> None:
    async def story(hand: Stand) -> None:
        hand.app.arrive(place)
        assert hand.app.state.place == "/"
        assert hand.said == "That record is no longer in the book."
        assert hand.device.places[-1] == "/"

    played(story)


def test_what_was_found_damaged_is_said_until_it_is_put_away() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        data = hand.folder.contents()
        newest = max((name for name in data if name.startswith("book.")), key=lambda name: len(data[name]))
        data[newest] = data[newest][:-3]
        torn = stand(MemoryFolder(data))
        assert torn.app.state.notice is not None
        sentence = torn.said
        assert torn.app.state.notice.serious
        torn.app.back_where_left()
        torn.app.go("/settings")
        assert torn.said == sentence

    played(story)


def test_a_new_visit_takes_over_the_outline_of_the_one_before_and_the_latest_pace() -> None:
    async def story(hand: Stand) -> None:
        first = hand.open_visit()
        type_in(hand, "length", "12 m")
        old = Pace(person="Jo", counts=("25",), measured=datetime(2026, 1, 1, tzinfo=UTC))
        new = Pace(person="Kit", counts=("27",), measured=datetime(2026, 2, 1, tzinfo=UTC))
        hand.app.save_all([new, old], "paces")
        hand.app.go("/pace")
        hand.app.use_pace(new)
        hand.app.leave_visit()
        hand.app.start_visit(hand.app.sward_of(first))
        second = hand.app.visit_in_hand()
        assert second.id != first.id
        assert draft(second) == {"length": "12 m"}
        assert second.pace_id == new.id
        assert hand.app.latest_pace() == hand.app.book.get(Pace, new.id)

    played(story)


# --- records of a newer version -------------------------------------------------------------------


def test_a_visit_of_a_newer_version_can_be_looked_at_but_not_changed() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        type_in(hand, "length", "12 m")
        hand.app.leave_visit()
        newer = replace(hand.app.book.get(Visit, visit.id), read_only=True, where="/visit/elsewhere")
        hand.app.book._records[("visits", visit.id)] = newer
        hand.app.go(f"/visit/{visit.id}/measure")
        assert hand.app.state.place == f"/visit/{visit.id}/measure"
        type_in(hand, "length", "13 m")
        assert hand.said == NewerFormat.default
        assert draft(hand.app.visit_in_hand()) == {"length": "12 m"}
        hand.app.leave_visit()
        assert hand.app.state.place == f"/sward/{visit.sward_id}"

    played(story)


# --- long work ------------------------------------------------------------------------------------


def test_long_work_shows_its_progress_and_an_error_becomes_a_sentence() -> None:
    async def story(hand: Stand) -> None:
        async def well(progress: Callable[[float], None]) -> None:
            progress(0.5)

        async def badly(progress: Callable[[float], None]) -> None:
            raise BadValue("length", "Fill in the length.")

        async def broken(progress: Callable[[float], None]) -> None:
            raise RuntimeError

        await hand.app.with_progress("Making …", well)
        assert ("Making …", 0.5) in [(state.busy, state.progress) for state in hand.drawn]
        assert hand.app.state.busy == ""
        await hand.app.with_progress("Making …", badly)
        assert (hand.app.state.busy, hand.said) == ("", "Fill in the length.")
        with pytest.raises(RuntimeError):
            await hand.app.with_progress("Making …", broken)
        assert hand.app.state.busy == ""

    played(story)


def test_settings_are_kept() -> None:
    async def story(hand: Stand) -> None:
        hand.app.edit_settings(Settings(firm="Fern", units="imperial"))
        again = Book.open(hand.folder.killed())
        assert (again.settings.firm, again.settings.units) == ("Fern", "imperial")
        assert hand.app.system == "imperial"

    played(story)


# --- any day's work -------------------------------------------------------------------------------

ACTS = st.lists(
    st.one_of(
        st.tuples(
            st.just("type"), st.sampled_from(["length", "width"]), st.text("0123456789. m", max_size=5)
        ),
        st.tuples(st.just("method"), st.sampled_from(["rectangle", "circle", "ellipse"]), st.just("")),
        st.tuples(st.just("go"), st.sampled_from(["measure", "works", "paper"]), st.just("")),
        st.tuples(st.just("work"), st.sampled_from(["rolling", "coring", "overseeding"]), st.just("")),
        st.tuples(st.just("undo"), st.just(""), st.just("")),
    ),
    max_size=10,
)


@settings(max_examples=60)
@given(ACTS)
def test_after_any_day_s_work_and_a_kill_everything_saved_is_there(acts: list[tuple[str, str, str]]) -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        for kind, key, text in acts:
            if hand.app.state.visit is None:
                break
            visit = hand.app.visit_in_hand()
            if kind == "type":
                hand.app.edit(with_reading(visit, key, text))
            elif kind == "method":
                hand.app.edit(with_method(visit, key))
            elif kind == "go":
                hand.app.go(f"/visit/{visit.id}/{key}")
            elif kind == "work":
                hand.app.edit(with_work(visit, key))
            else:
                hand.app.undo()
        hand.app.save_now()
        if hand.app.state.visit is not None:
            left = hand.app.visit_in_hand()
            found = hand.stored()
            assert (found.outline, found.works, found.where) == (left.outline, left.works, left.where)
            again = hand.killed()
            again.app.back_where_left()
            assert again.app.state.place == hand.app.state.place

    played(story)
