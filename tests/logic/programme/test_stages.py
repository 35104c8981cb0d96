"""The weeks after: dates that follow from one another, cuts within the one-third rule, a calendar others can
read."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from logic import tables
from logic.errors import BadValue
from logic.programme.calendar import calendar
from logic.programme.stages import WHATS, Sown, due, stages, step_down
from logic.works.operations import operations

DONE = date(2026, 9, 1)
BENT = Sown(("browntop_bent", "chewings_fescue"))
ALL = ("mowing", "scarifying", "coring", "overseeding", "topdressing", "feeding", "drenching")
MADE = datetime(2026, 9, 1, 17, 30, tzinfo=UTC)


@settings(max_examples=100, deadline=None)
@given(st.floats(3, 40), st.floats(1, 5), st.integers(1, 14))
def test_a_step_down_never_takes_more_than_a_third(target: float, times: float, gap: int) -> None:
    # the one-third rule: How to mow your lawn in 8 steps, i newspaper, 2018
    cuts = step_down(target * times, target, DONE, gap)
    heights = [target * times, *(cut.height for cut in cuts)]
    for now, after in pairwise(heights):
        assert (now - after) / now <= 1 / 3 + 1e-9
    assert heights[-1] == pytest.approx(target)
    assert all((b.day - a.day).days == gap for a, b in pairwise(cuts))


def test_eighteen_to_six_in_three_cuts() -> None:
    # worked by hand: 18, less a third 12, 8, then 6
    cuts = step_down(18, 6, DONE, 5)
    assert [cut.height for cut in cuts] == pytest.approx([12, 8, 6])
    assert [cut.day for cut in cuts] == [date(2026, 9, 1), date(2026, 9, 6), date(2026, 9, 11)]


def test_new_seed_is_watered_kept_off_cut_and_visited() -> None:
    found = stages(("overseeding",), DONE, BENT, height_kept=8)
    whats = [line.what for line in found.lines]
    assert {"water", "keep off", "feed", "mow", "visit"} == set(whats)
    assert DONE < found.up < found.mown
    assert found.keep_off_until == found.mown
    assert found.mown == found.cuts[1].day  # mown twice
    assert [cut.height for cut in found.cuts] == pytest.approx([12, 8])
    water = [line for line in found.lines if line.what == "water"]
    assert [line.every for line in water] == [1, 2, 7]
    assert all(
        one.last == other.first for one, other in pairwise(water)
    )  # one stage ends where the next begins


@pytest.mark.parametrize("count", range(len(ALL) + 1))
def test_lines_run_forward_and_none_is_before_the_work(count: int) -> None:
    found = stages(ALL[:count], DONE, BENT, 6)
    assert all(DONE <= line.first <= line.last for line in found.lines)
    assert list(found.lines) == sorted(found.lines, key=lambda line: (line.first, line.last, line.key))
    assert len({line.key for line in found.lines}) == len(found.lines)
    if found.lines:
        assert found.visits


def test_new_seed_overrides_what_would_tread_on_it() -> None:
    keys = {line.key for line in stages(("overseeding", "topdressing", "coring"), DONE, BENT).lines}
    assert not keys & {"sand_mow", "core_off", "core_water"}
    assert "sand_mow" in {line.key for line in stages(("topdressing",), DONE).lines}


def test_slower_grass_and_colder_soil_come_up_later() -> None:
    quick, slow = (stages(("overseeding",), DONE, Sown((key,))) for key in ("ryegrass", "smooth_meadow"))
    assert quick.up < slow.up
    assert quick.mown < slow.mown
    cold = stages(("overseeding",), DONE, Sown(("ryegrass",), soil=6.0))
    # 63.9 ÷ (6 − 3.6) = 26.6 days (Larsen and Bibby, 2005), longer than the usual 10
    assert (cold.up - DONE).days == 27


def test_what_is_normal_and_what_to_ring_about() -> None:
    found = stages(("overseeding", "coring"), DONE)
    assert any("unevenly" in said for said in found.normal)
    assert any("limp" in said for said in found.ring)
    assert stages((), DONE).lines == ()


def test_a_height_that_is_none_is_refused() -> None:
    with pytest.raises(BadValue):
        stages(("overseeding",), DONE, BENT, 0)


def test_visits_due_and_overdue() -> None:
    found = stages(("overseeding",), DONE, BENT, 8)
    soon = due({"a": found.visits, "b": ()}, DONE + timedelta(days=20))
    assert [(one.sward, one.line.key, one.overdue) for one in soon] == [("a", "seed_visit", False)]
    late = due({"a": found.visits}, DONE + timedelta(days=100))
    assert all(one.overdue for one in late)
    assert due({"a": found.visits}, DONE, ahead=1) == ()


def test_tables_name_what_there_is() -> None:
    for row in tables.rows("aftercare_stages"):
        assert row["operation"] in operations()
        assert row["unless"] in {*operations(), ""}
        assert row["what"] in WHATS
    for row in tables.rows("aftercare_signs"):
        assert row["operation"] in operations()
    sown = {row["species"] for row in tables.rows("aftercare_first_cut")}
    assert sown == {row["species"] for row in tables.rows("timing_germination")}
    assert sown == {row["species"] for row in tables.rows("species")}


def test_the_calendar_reads_back_line_by_line() -> None:
    found = stages(ALL, DONE, BENT, 8)
    name = "Back green; by the “pond”, no. 2\nBEGIN:VEVENT"
    data = calendar(found.lines, MADE, "visit-1", name)
    events = list(Calendar.from_ical(data).walk("VEVENT"))
    assert len(events) == len(found.lines)
    for event, line in zip(events, found.lines, strict=True):
        assert event.decoded("dtstart") == line.first
        assert str(event["description"]) == line.sentence
        assert str(event["summary"]).endswith(name)
        if line.every and line.last > line.first:
            assert event["rrule"]["until"] == [line.last]
        else:
            assert event.decoded("dtend") == line.last + timedelta(days=1)
    assert len({str(event["uid"]) for event in events}) == len(events)


def test_the_calendar_keeps_to_the_standards_lines() -> None:
    # RFC 5545, 3.1: lines end in CRLF and hold at most 75 octets; 3.6: PRODID and VERSION; 3.6.1: UID and
    # DTSTAMP
    data = calendar(stages(ALL, DONE, BENT, 8).lines, MADE, "visit-1", "Lower lawn " * 12)
    lines = data.split(b"\r\n")
    assert lines[-1] == b""
    assert all(len(line) <= 75 and b"\n" not in line for line in lines)
    for wanted in (b"VERSION:2.0", b"PRODID:"):
        assert sum(line.startswith(wanted) for line in lines) == 1
    events = data.count(b"BEGIN:VEVENT")
    assert data.count(b"\r\nUID:") == data.count(b"\r\nDTSTAMP:20260901T173000Z") == events


def test_sent_again_it_replaces_itself() -> None:
    lines = stages(("overseeding",), DONE, BENT, 8).lines
    first, again = (calendar(lines, MADE + timedelta(days=n), "visit-1") for n in (0, 1))
    ids = [[str(e["uid"]) for e in Calendar.from_ical(data).walk("VEVENT")] for data in (first, again)]
    assert ids[0] == ids[1]
    other = Calendar.from_ical(calendar(lines, MADE, "visit-2")).walk("VEVENT")
    assert not {str(e["uid"]) for e in other} & set(ids[0])


def test_visits_take_up_the_contractors_day_and_nobody_elses() -> None:
    lines = stages(("overseeding",), DONE, BENT).lines

    def busy(contractor: bool) -> int:
        events = Calendar.from_ical(calendar(lines, MADE, "v", contractor=contractor)).walk("VEVENT")
        return sum(str(event["transp"]) == "OPAQUE" for event in events)

    assert busy(True) == 2
    assert busy(False) == 0
    with pytest.raises(ValueError, match="zone"):
        calendar(lines, datetime(2026, 9, 1), "v")
