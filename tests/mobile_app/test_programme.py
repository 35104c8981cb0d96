"""From readings and wishes to the works of a visit, on a real book."""

import asyncio
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from logic.programme.substitutes import machine, next_best_cost
from logic.records.types import Sward, Visit
from logic.records.visits import with_method, with_work_value
from logic.survey import stored
from mobile_app import programme
from tests.mobile_app.stand import PAUSE, Stand, played, type_in

YEAR = ["4.5", "4.8", "6.6", "8.9", "12", "14.8", "16.9", "16.6", "14.3", "11", "7.4", "5"]


def cored(hand: Stand, kind: str = "putting green") -> Visit:
    """A measured green of 12 m × 10 m whose core has 17 mm of thatch, visited in September."""
    visit = hand.open_visit()
    hand.app.save(replace(hand.app.sward_of(visit), kind=kind), "kind")
    hand.app.edit(with_method(visit, "rectangle"))
    type_in(hand, "length", "12 m")
    type_in(hand, "width", "10 m")
    visit = hand.app.visit_in_hand()
    readings = stored.added(visit.readings, "core", datetime(2026, 9, 14, 9, 0, tzinfo=UTC))
    readings = stored.with_value(readings, readings[0]["id"], "thatch", ["16 mm", "18 mm"])
    hand.app.edit(replace(visit, readings=readings, started=datetime(2026, 9, 14, 9, 0, tzinfo=UTC)))
    hand.app.save_now()
    return hand.app.visit_in_hand()


def keys(visit: Visit) -> list[str]:
    return [str(entry["operation"]) for entry in visit.works]


def test_a_core_with_thatch_proposes_and_the_proposal_becomes_works_that_say_why() -> None:
    async def story(hand: Stand) -> None:
        visit = cored(hand)
        found = programme.plan(hand.app, visit)
        assert [s.operation for s in found.steps] == [
            "mowing",
            "verticutting",
            "coring",
            "topdressing",
            "brushing",
        ]
        programme.take(hand.app, found, ("coring", "topdressing"))
        assert keys(hand.stored()) == ["coring", "topdressing"]
        assert "17 mm" in hand.stored().works[0]["why"][0]
        hand.app.undo()
        assert keys(hand.stored()) == []

    played(story)


def test_how_much_and_how_long_stand_at_each_step_that_can_be_worked_out() -> None:
    async def story(hand: Stand) -> None:
        visit = cored(hand)
        programme.wish(hand.app, "smoother")
        visit = hand.app.visit_in_hand()
        rows = {
            one.step.operation: one
            for one in programme.proposed(hand.app, visit, programme.plan(hand.app, visit))
        }
        assert rows["brushing"].worked is not None
        # labour.csv: 0.25 min/m² as a rough guess, on 120 m²
        assert rows["brushing"].times[0].nominal == pytest.approx(30)
        assert rows["coring"].worked is None
        assert "diameter" in rows["coring"].missing

    played(story)


def test_a_lawn_is_scarified_where_a_green_is_verticut() -> None:
    async def story(hand: Stand) -> None:
        visit = cored(hand, "lawn")
        found = {step.operation for step in programme.plan(hand.app, visit).steps}
        assert "scarifying" in found
        assert "verticutting" not in found

    played(story)


def test_works_that_are_there_keep_what_was_typed_and_take_their_place() -> None:
    async def story(hand: Stand) -> None:
        visit = cored(hand)
        typed = {"operation": "topdressing", "values": {"depth": "3 mm"}}
        hand.app.edit(replace(visit, works=(typed,)))
        found = programme.plan(hand.app, hand.app.visit_in_hand())
        programme.take(hand.app, found, ("coring", "topdressing"))
        visit = hand.app.visit_in_hand()
        assert keys(visit) == ["coring", "topdressing"]
        assert visit.works[1]["values"] == {"depth": "3 mm"}
        assert visit.works[1]["why"]

    played(story)


def test_the_year_is_typed_once_for_the_green_and_speaks_against_winter() -> None:
    async def story(hand: Stand) -> None:
        visit = cored(hand)
        for place, text in enumerate(YEAR):
            programme.set_climate(hand.app, f"air.{place}", text)
        await asyncio.sleep(PAUSE)
        assert hand.stored().programme["climate"]["air"][11] == "5"  # typed so far, were it killed now
        programme.keep_climate(hand.app)
        assert "climate" not in hand.stored().programme
        sward = hand.killed().app.book.get(Sward, visit.sward_id)
        assert list(sward.climate["air"]) == YEAR
        programme.take(hand.app, programme.plan(hand.app, hand.app.visit_in_hand()), ("coring",))
        assert programme.against(hand.app, hand.app.visit_in_hand()) == {}
        programme.set_when(hand.app, "month", 1)
        (said,) = programme.against(hand.app, hand.app.visit_in_hand())[0]
        assert said.sentence.startswith("Hollow coring in January")

    played(story)


def test_seed_before_the_soil_is_warm_and_works_the_wrong_way_about_are_said_at_the_work() -> None:
    async def story(hand: Stand) -> None:
        visit = cored(hand)
        works = tuple(
            {"operation": key, "values": {}} for key in ("mowing", "topdressing", "overseeding", "coring")
        )
        hand.app.edit(replace(visit, works=works))
        programme.set_when(hand.app, "soil", "6")
        found = programme.against(hand.app, hand.app.visit_in_hand())
        assert any(one.sentence.startswith("Seed before the soil is warm enough: 6") for one in found[2])
        assert any(one.kind == "order" for one in found[1])
        programme.move(hand.app, 3, -1)
        programme.move(hand.app, 2, -1)
        assert keys(hand.app.visit_in_hand()) == ["mowing", "coring", "topdressing", "overseeding"]
        assert not any(
            c.operation == "topdressing"
            for c in programme.against(hand.app, hand.app.visit_in_hand()).get(2, ())
            if "open" in c.sentence
        )

    played(story)


def test_another_machine_needs_the_customers_name_and_says_what_it_costs() -> None:
    async def story(hand: Stand) -> None:
        visit = cored(hand)
        hand.app.edit(replace(visit, works=({"operation": "coring", "values": {}},)))
        hand.app.edit(with_work_value(hand.app.visit_in_hand(), 0, "depth", "70 mm"))
        assert not programme.agree(hand.app, 0, "solid_tining", "  ")
        assert hand.said == "Write down who agreed to this."
        assert keys(hand.app.visit_in_hand()) == ["coring"]
        assert programme.agree(hand.app, 0, "", "Ada Fen")
        entry = hand.stored().works[0]
        assert entry["machine"] == machine("coring")[1]
        assert next_best_cost("coring")[0] in entry["agreed"]["words"]
        assert programme.agree(hand.app, 0, "solid_tining", "Ada Fen")
        entry = hand.stored().works[0]
        assert (entry["operation"], entry["values"]["depth"]) == ("solid_tining", "70 mm")
        assert "machine" not in entry
        assert datetime.fromisoformat(entry["agreed"]["at"]).tzinfo is not None

    played(story)
