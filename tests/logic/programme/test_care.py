"""Aftercare of a visit: what was really done decides, and a follow-up is due until it is made or ticked."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from logic.programme.care import care_of, finished_on, is_agreed, operations_done, sown_of, still_to_do
from logic.programme.day import Day, DayStep, act
from logic.programme.day_json import to_json

AT = datetime(2026, 9, 3, 12, 0, tzinfo=UTC)
VISIT = date(2026, 9, 1)
WORKS = (
    {"operation": "coring", "values": {}},
    {"operation": "overseeding", "values": {"species": "browntop_bent"}},
)
STEPS = (
    DayStep("coring-1", "coring", "Hollow coring"),
    DayStep("overseeding-1", "overseeding", "Overseeding"),
)


def day_of(*doings: tuple[str, str, dict[str, Any]]) -> dict[str, Any]:
    day = Day(STEPS)
    for place, (do, step, more) in enumerate(doings):
        day = act(day, do, AT + timedelta(minutes=place), step, **more)
    return to_json(day)


CORED = day_of(("finish", "coring-1", {}), ("skip", "overseeding-1", {"reason": "soil too cold"}))


def test_without_a_day_all_works_count_and_dates_run_from_the_visit() -> None:
    found = care_of(WORKS, {}, {}, VISIT)
    assert operations_done(WORKS, {}) == ("coring", "overseeding")
    assert found.done == VISIT
    assert any(line.name == "First cut" for line in found.lines)


def test_what_was_skipped_brings_no_aftercare() -> None:
    found = care_of(WORKS, CORED, {}, VISIT)
    assert operations_done(WORKS, CORED) == ("coring",)
    assert found.done == date(2026, 9, 3)  # the day the last step was finished
    assert not any(line.key.startswith("seed") for line in found.lines)
    assert is_agreed(CORED, {})
    assert not is_agreed(day_of(("finish", "coring-1", {})), {})  # a step is still to do


def test_a_day_that_is_set_goes_before_the_day_it_was_finished() -> None:
    found = care_of(WORKS, CORED, {"start": "2026-09-05"}, VISIT)
    assert found.done == date(2026, 9, 5)
    assert care_of(WORKS, CORED, {"start": "soon"}, VISIT).done == finished_on(CORED)


def test_the_height_kept_sets_the_cuts_and_a_wrong_one_counts_as_not_said() -> None:
    found = care_of(WORKS, {}, {"height_kept": "8 mm", "soil": "?"}, VISIT)
    assert [cut.height for cut in found.cuts] == pytest.approx([12, 8])
    assert care_of(WORKS, {}, {"height_kept": "-3 mm"}, VISIT).cuts == ()


def test_where_the_contractor_cuts_the_first_cut_is_a_visit_due() -> None:
    theirs, ours = (care_of(WORKS, {}, {"cuts": who}, VISIT) for who in ("customer", "we"))
    assert "cut_1" in {line.key for line in ours.visits} - {line.key for line in theirs.visits}


def test_a_follow_up_is_due_until_it_is_ticked_or_made() -> None:
    found = care_of(WORKS, {}, {}, VISIT)
    first, *rest = found.visits
    assert still_to_do(found, {}) == found.visits
    assert first not in still_to_do(found, {"done": [first.key]})
    assert first not in still_to_do(found, {}, [first.first])
    assert first in still_to_do(found, {}, [first.first - timedelta(days=1), VISIT])
    assert set(rest) - {first} <= set(still_to_do(found, {"done": [first.key]}))


def test_what_was_sown_is_read_from_the_works_as_stored() -> None:
    mixed = (
        {"operation": "overseeding", "values": {"mixture": [{"species": "ryegrass"}, {"species": "x"}]}},
    )
    assert sown_of(WORKS).species == ("browntop_bent",)
    assert sown_of(mixed, 9.0).species == ("ryegrass",)
    assert sown_of(({"operation": "overseeding", "values": {"mixture": "torn"}},)).species == ()
