"""The App with no room left on the device: one sentence, nothing lost, nothing called done that was not."""

from __future__ import annotations

import asyncio

from logic.errors import StorageFull
from logic.records.types import Sward, Visit
from logic.records.visits import draft, with_work, without_work
from tests.mobile_app.stand import PAUSE, Stand, played, type_in


def test_with_no_room_left_the_sentence_is_shown_and_what_was_typed_stays() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        type_in(hand, "length", "12 m")
        hand.app.save_now()
        hand.fill_up()
        type_in(hand, "width", "5 m")
        await asyncio.sleep(PAUSE)
        assert hand.said == StorageFull.default
        assert draft(hand.app.visit_in_hand()) == {"length": "12 m", "width": "5 m"}
        for leave in (lambda: hand.app.go("/"), hand.app.leave_visit, lambda: hand.app.arrive("/settings")):
            leave()
            assert hand.said == StorageFull.default
            assert draft(hand.app.visit_in_hand())["width"] == "5 m"
            assert hand.app.state.place == f"/visit/{visit.id}/measure"
        assert hand.device.places[-1] == f"/visit/{visit.id}/measure"  # the address follows
        hand.folder.quota = None
        hand.app.go("/")
        assert draft(hand.app.book.get(Visit, visit.id)) == {"length": "12 m", "width": "5 m"}

    played(story)


def test_with_no_room_left_one_can_still_go_and_look() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        hand.app.go("/")
        hand.fill_up()
        for place in (f"/visit/{visit.id}/works", "/settings", f"/sward/{visit.sward_id}", "/"):
            hand.app.go(place)
            assert hand.app.state.place == place

    played(story)


def test_a_change_that_could_not_be_saved_is_not_called_done() -> None:
    async def story(hand: Stand) -> None:
        visit = with_work(hand.open_visit(), "rolling")
        hand.app.edit(visit)
        hand.app.save_now()
        hand.fill_up()
        hand.app.edit_undoable(without_work(hand.app.visit_in_hand(), 0), "take out a work")
        assert hand.said == StorageFull.default
        assert hand.app.visit_in_hand().works == visit.works
        hand.app.delete(hand.app.sward_of(visit))
        assert hand.said == StorageFull.default
        assert hand.app.book.has(Sward, visit.sward_id)
        assert not hand.app.save_all([Sward(name="Front")], "add Front")
        assert hand.said == StorageFull.default

    played(story)


def test_a_visit_that_could_not_be_started_is_not_said_to_be_gone() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        hand.app.leave_visit()
        hand.fill_up()
        hand.app.start_visit(hand.app.sward_of(visit))
        assert hand.said == StorageFull.default
        assert hand.app.state.place == f"/sward/{visit.sward_id}"

    played(story)
