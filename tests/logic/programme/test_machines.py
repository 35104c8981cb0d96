"""A machine's figures: one's own first, else a table's, always said which; and today's hours alone count."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from logic import tables
from logic.errors import BadValue
from logic.programme.day import Day, DayStep, act
from logic.programme.machines import Own, by_name, known, own_for, petrol_driven
from logic.programme.sheet import cautions_due, cautions_shown, day_steps, minutes_done, uses, with_works
from logic.programme.substitutes import machine_of, next_best_cost, with_next_best
from logic.works.operation import Ground
from logic.works.operations import work_out

AT = datetime(2026, 9, 1, 8, 0, tzinfo=UTC)
OWN = Own("Old corer", ("coring",), "4.2 m/s^2", "87 dB(A)", "its hand-book")


def test_ones_own_figures_go_first_and_say_so() -> None:
    found = known("Old corer", "coring", [OWN])
    assert (found.vibration, found.noise) == (4.2, 87)
    assert str(found.source) == "its hand-book (your own setting)"
    assert own_for("coring", [OWN]) == OWN
    assert own_for("mowing", [OWN]) is None


def test_a_gap_is_filled_from_the_table_and_said() -> None:
    found = known("Old corer", "coring", [Own("Old corer", ("coring",), vibration="4.2")])
    row = tables.row("exposure_machines", machine="Hollow-tine machine")
    assert (found.vibration, found.noise) == (4.2, float(row["noise"]))
    assert "noise of a usual machine" in str(found.source)
    assert "unverified" in str(found.source)


def test_what_nobody_knows_is_unknown_and_hand_tools_do_not_shake() -> None:
    assert not known("Lute", "levelling", []).engine
    found = known("Blower", "brushing", [Own("Blower", ("brushing",), vibration="a lot")])
    assert found.vibration is None
    assert petrol_driven("Old corer", "coring")
    assert not petrol_driven("Hollow-tine fork", "coring")
    assert not petrol_driven("Drag brush", "brushing")


def test_only_todays_hours_count_towards_the_day() -> None:
    day = Day((DayStep("coring-1", "coring", "Hollow coring", machine="Hollow-tine machine"),))
    for do, hours in (("start", 0), ("pause", 2), ("start", 24), ("pause", 25)):
        day = act(day, do, AT + timedelta(hours=hours), "coring-1")
    figures = by_name([known("Hollow-tine machine", "coring", [])])
    midnight = datetime(2026, 9, 2, tzinfo=UTC)
    (both,) = uses(day, figures, AT + timedelta(hours=26))
    (today,) = uses(day, figures, AT + timedelta(hours=26), midnight)
    assert (both.hours, today.hours) == (pytest.approx(3), pytest.approx(1))
    late = act(Day(day.steps), "start", midnight - timedelta(hours=1), "coring-1")  # runs past midnight
    (night,) = uses(late, figures, midnight + timedelta(minutes=30), midnight)
    assert night.hours == pytest.approx(0.5)


def test_a_caution_shown_yesterday_is_shown_again_today() -> None:
    day = Day((DayStep("coring-1", "coring", "Hollow coring", cautions=("vibration",)),))
    day = act(day, "caution", AT, key="vibration")
    assert cautions_due(day, "coring-1", cautions_shown(day, AT - timedelta(hours=8))) == ()
    due = cautions_due(day, "coring-1", cautions_shown(day, AT + timedelta(hours=16)))
    assert [one.key for one in due] == ["vibration"]


def entries(*keys: str) -> list[tuple[dict[str, Any], Any]]:
    return [({"operation": key}, None) for key in keys]


def test_works_changed_during_the_day_lose_nothing_that_was_written_down() -> None:
    day = with_works(Day(), day_steps(entries("mowing", "coring", "matting")))
    day = act(day, "note", AT, "coring-1", text="wet by the gate")
    changed = with_works(day, day_steps(entries("matting", "mowing", "brushing")))
    assert [one.id for one in changed.steps] == ["matting-1", "mowing-1", "brushing-1", "coring-1"]
    assert changed.log == day.log
    again = with_works(changed, day_steps(entries("coring", "mowing")))
    assert [one.id for one in again.steps] == ["coring-1", "mowing-1"]


def test_minutes_of_steps_that_are_done_are_learned() -> None:
    day = Day((DayStep("coring-1", "coring", "Hollow coring"), DayStep("mowing-1", "mowing", "Mowing")))
    for do, step, minute in (("start", "coring-1", 0), ("start", "mowing-1", 40), ("finish", "coring-1", 41)):
        day = act(day, do, AT + timedelta(minutes=minute), step)
    assert minutes_done(day) == {"coring": pytest.approx(40)}


def test_the_next_best_machine_is_agreed_on_by_name_and_used_in_the_day() -> None:
    entry = with_next_best({"operation": "coring", "values": {"depth": "70 mm"}}, " Ms Fen ", AT)
    assert machine_of(entry) == "Hollow-tine fork"
    assert entry["agreed"]["name"] == "Ms Fen"
    assert next_best_cost("coring")[0] in entry["agreed"]["words"]
    assert day_steps([(entry, None)])[0].machine == "Hollow-tine fork"
    with pytest.raises(BadValue, match="agreed"):
        with_next_best({"operation": "coring"}, "", AT)
    with pytest.raises(BadValue, match="stand in"):
        with_next_best({"operation": "running_sheet"}, "Ms Fen", AT)


def test_a_petrol_machine_brings_the_caution_on_petrol() -> None:
    worked = work_out(
        {"operation": "coring", "tine_diameter": "12 mm", "spacing_across": "50 mm", "spacing_along": "50 mm",
         "depth": "80 mm"},
        Ground(area=60.0, perimeter=28.0, longest_run=9.0),
    )  # fmt: skip
    (engine,) = day_steps([({"operation": "coring"}, worked)])
    (fork,) = day_steps([({"operation": "coring", "machine": "Hollow-tine fork"}, worked)])
    assert "petrol" in engine.cautions
    assert "petrol" not in fork.cautions


@pytest.mark.parametrize("row", tables.rows("exposure_machines"), ids=lambda row: row["machine"])
def test_the_table_of_machines_names_machines_and_says_what_it_can_be_trusted(row: dict[str, str]) -> None:
    listed = {name for r in tables.rows("programme_machines") for name in (r["machine"], r["next_best"])}
    assert row["machine"] in listed
    assert tables.source_of(row).trust == "memory"
    assert 0 < float(row["vibration"]) < 20
    assert 60 < float(row["noise"]) < 120
