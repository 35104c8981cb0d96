"""From readings and wishes to an ordered programme, and what speaks against it."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise, permutations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic import tables
from logic.errors import BadValue
from logic.programme.conflicts import Times
from logic.programme.order import must_come_before, ordered, out_of_order
from logic.programme.plan import Plan, as_works, propose, review
from logic.programme.rules import wishes
from logic.programme.season import Climate
from logic.programme.substitutes import machine, substituted, substitutes
from logic.survey.kind import Spot
from logic.survey.kinds import kinds, take
from logic.works.operations import operations

YEAR = (4.5, 4.8, 6.6, 8.9, 12.0, 14.8, 16.9, 16.6, 14.3, 11.0, 7.4, 5.0)
CLIMATE = Climate(YEAR, YEAR)


def plan_for(*readings: dict[str, Any], surface: str = "green", wanted: tuple[str, ...] = ()) -> Plan:
    return propose([take(one, Spot(surface=surface, area=60.0)) for one in readings], wanted, surface)


def steps(plan: Plan) -> list[str]:
    return [step.operation for step in plan.steps]


def test_deep_thatch_on_a_green_is_cored_filled_and_brushed_in_that_order() -> None:
    found = plan_for({"kind": "core", "thatch": [16, 18]})
    assert steps(found) == ["mowing", "verticutting", "coring", "topdressing", "brushing"]
    coring = found.steps[2]
    assert coring.reasons[0].sentence == "thatch is 17 mm deep: cores take it out and make room for sand"
    assert {rule.first for rule in coring.before} == {"mowing", "verticutting"}
    assert coring.machine == "Hollow-tine machine"
    assert {s.used for s in coring.substitutes} == {"scarifying", "verticutting", "solid_tining"}


def test_the_same_thatch_on_a_lawn_is_scarified_and_sown() -> None:
    found = steps(plan_for({"kind": "core", "thatch": [16, 18]}, surface="lawn"))
    assert found.index("scarifying") < found.index("overseeding") < found.index("topdressing")
    assert "verticutting" not in found


def test_a_good_sward_needs_nothing() -> None:
    found = plan_for({"kind": "core", "thatch": [8]}, {"kind": "cover", "grass": 99, "bare": 1})
    assert found.steps == ()
    assert found.advice == ()


def test_moss_brings_advice_that_sends_to_a_qualified_person() -> None:
    found = plan_for({"kind": "cover", "grass": 80, "moss": 20})
    assert "cause" in found.advice[0].sentence
    assert "qualified" in found.advice[0].sentence
    assert "iron" not in steps(found)


def test_a_reading_fills_in_its_values() -> None:
    hard = {"kind": "compaction", "profile": [["50 mm", "900"], ["120 mm", "1.8 MPa"]]}
    found = plan_for(hard)
    (solid,) = (step for step in found.steps if step.operation == "solid_tining")
    assert solid.values == {"depth": "120 mm"}


def test_a_value_that_is_filled_in_can_be_read_by_the_operation() -> None:
    dry = {"kind": "moisture", "readings": [10, 10], "target": "20 %", "depth": "100 mm"}
    (watering,) = (step for step in plan_for(dry).steps if step.operation == "watering")
    reading = operations()["watering"].form.read(watering.values)
    assert reading.values is not None
    assert reading.values.depth == pytest.approx(10)


@pytest.mark.parametrize("wish", [key for key, _ in wishes()])
@pytest.mark.parametrize("surface", ["green", "lawn"])
def test_every_wish_leads_to_a_programme_in_order(wish: str, surface: str) -> None:
    found = plan_for(surface=surface, wanted=(wish,))
    assert found.steps
    assert out_of_order(steps(found)) == ()
    assert all(step.reasons for step in found.steps)
    assert len(set(steps(found))) == len(found.steps)


def test_a_plan_becomes_works_that_say_why() -> None:
    works = as_works(plan_for(wanted=("smoother",)))
    assert [work["operation"] for work in works] == ["topdressing", "levelling", "brushing"]
    assert "a smoother surface is wanted" in works[0]["why"][0]
    assert review(works) == ()


def test_works_put_the_wrong_way_about_are_explained() -> None:
    (said,) = review([{"operation": "topdressing"}, {"operation": "coring"}])
    assert said.kind == "order"
    assert said.operation == "topdressing"
    assert said.sentence.startswith("Topdressing before hollow coring: the holes have to be open")


def test_cold_soil_speaks_against_seed() -> None:
    cold = review([{"operation": "overseeding"}], Times(soil=6.0))
    assert cold[0].sentence.startswith("Seed before the soil is warm enough")
    assert cold[0].serious
    (short,) = review([{"operation": "overseeding"}], Times(soil=9.0))
    assert not short.serious
    assert review([{"operation": "overseeding"}], Times(soil=12.0)) == ()
    (cooling,) = review([{"operation": "overseeding"}], Times(soil=12.0, soil_falling=True))
    assert not cooling.serious


def test_the_season_speaks_against_coring_in_winter_and_names_better_months() -> None:
    (said,) = review([{"operation": "coring"}], Times(month=1, climate=CLIMATE))
    assert said.serious
    assert "Better: June, July, August, September." in said.sentence
    assert review([{"operation": "coring"}], Times(month=8, climate=CLIMATE)) == ()


def test_iron_and_seed_clash() -> None:
    (said,) = review([{"operation": "overseeding"}, {"operation": "iron"}])
    assert said.kind == "clash"
    assert "seedlings" in said.sentence


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(sorted(operations())), unique=True, max_size=10))
def test_an_order_always_keeps_every_rule(keys: list[str]) -> None:
    found = ordered(keys)
    assert sorted(found) == sorted(keys)
    assert out_of_order(found) == ()
    assert ordered(found) == found


def test_the_order_does_not_depend_on_how_it_was_given() -> None:
    keys = ("overseeding", "coring", "topdressing", "mowing")
    assert {ordered(given_) for given_ in permutations(keys)} == {
        ("mowing", "coring", "overseeding", "topdressing")
    }


def test_the_rules_of_order_run_in_no_circle() -> None:
    keys = ordered(tuple(operations()))
    for place, key in enumerate(keys):
        assert {rule.first for rule in must_come_before(key, keys)} <= set(keys[:place])
    assert all(one != other for one, other in pairwise(keys))


def test_tables_name_what_there_is() -> None:
    known = set(operations())
    for row in tables.rows("programme_rules"):
        assert row["operation"] in known | {""}, row
        if row["on"] == "reading":
            assert row["kind"] in kinds(), row
            float(row["limit"])
        if row["on"] == "step":
            assert row["name"] in known, row
        if row["on"] == "wish":
            assert row["name"] in dict(wishes()), row
    for name, columns in (
        ("programme_order", ("first", "then")),
        ("programme_clashes", ("operation", "with")),
    ):
        for row in tables.rows(name):
            assert {row[column] for column in columns} <= known, row
    for row in tables.rows("programme_machines"):
        assert row["operation"] in known
        assert machine(row["operation"]) == (row["machine"], row["next_best"])


def test_values_of_rules_are_fields_of_their_operation() -> None:
    for row in tables.rows("programme_rules"):
        for part in filter(None, row["values"].split(";")):
            assert part.partition("=")[0] in set(operations()[row["operation"]].form.keys()), row


def test_a_substitute_keeps_what_it_can_and_records_who_agreed() -> None:
    at = datetime(2026, 9, 1, 9, 0, tzinfo=UTC)
    entry = {
        "operation": "coring",
        "values": {"depth": "70 mm", "tine_diameter": "12 mm", "cores": "10"},
        "why": ["x"],
    }
    found = substituted(entry, "solid_tining", " A. Customer ", at)
    assert found["operation"] == "solid_tining"
    assert found["values"] == {"depth": "70 mm", "tine_diameter": "12 mm", "stands_in_for": "coring"}
    assert found["agreed"]["name"] == "A. Customer"
    assert found["agreed"]["at"] == at.isoformat()
    assert found["agreed"]["words"] == next(s.cost for s in substitutes("coring") if s.used == "solid_tining")
    assert found["why"] == ["x"]
    reading = operations()["solid_tining"].form.read(found["values"])
    assert "stands_in_for" not in reading.problems


def test_a_substitute_must_be_one_and_somebody_must_agree() -> None:
    at = datetime(2026, 9, 1, tzinfo=UTC)
    with pytest.raises(BadValue, match="agreed"):
        substituted({"operation": "coring"}, "solid_tining", " ", at)
    with pytest.raises(BadValue, match="stand in"):
        substituted({"operation": "coring"}, "watering", "A. Customer", at)
