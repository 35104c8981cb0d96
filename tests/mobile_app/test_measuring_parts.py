"""What the measuring screens do to text, and what they draw, without a browser."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.field import Field, Form
from logic.measure.methods import methods
from logic.measure.pacing import pace_of
from logic.records.levelled import take_levels
from logic.records.types import Pace
from logic.works.operations import operation_named
from mobile_app.parts import cells
from mobile_app.parts.glyphs import GLYPHS
from mobile_app.parts.hands import Hands
from mobile_app.parts.rows import rows_of
from mobile_app.parts.shapes import hint
from mobile_app.screens.measure_levels import fill_text
from mobile_app.screens.pace import age, is_old
from tests.mobile_app.stand import Stand, played

WIDTH = Field("width", "Width", "m", kind="list", least=0, paces=True, entry="Offset")
JO = {"course": "20 m", "counts": ["27", "26.5", "27"]}
NOW = datetime(2026, 5, 1, 12, 0, tzinfo=UTC)


def _hands(paced: bool = True) -> Hands:
    nothing = lambda *_: None  # noqa: E731
    return Hands("metric", "a", nothing, nothing, nothing, None, pace_of(JO) if paced else None)


def test_every_way_of_measuring_has_a_drawing_that_stays_in_its_frame() -> None:
    assert set(GLYPHS) == set(methods())
    points = [
        (key, x, y) for key, g in GLYPHS.items() for line in (g.edge, *g.lines, g.hole) for x, y in line
    ]
    assert [p for p in points if not (-0.1 <= p[1] <= 12.1 and -0.1 <= p[2] <= 8.1)] == []


@pytest.mark.parametrize(
    ("method", "said"),
    [
        ("rectangle", "Length, width"),
        ("traverse", "Bearing, distance"),
        ("compound", "Each in its own way"),
        ("offsets", "Spacing, offsets"),
    ],
)
def test_the_hint_of_a_shape_says_what_is_asked(method: str, said: str) -> None:
    assert hint(methods()[method]) == said


@settings(max_examples=60, deadline=None)
@given(st.floats(-500, 500, allow_nan=False).map(lambda x: f"{x:.2f}"))
def test_changing_the_sign_twice_changes_nothing(text: str) -> None:
    assert float(cells.flipped(text)) == -float(text)
    assert float(cells.flipped(cells.flipped(text))) == float(text)


@pytest.mark.parametrize(
    ("entries", "unit"),
    [([], "m"), (["", ""], "m"), (["3 m", "", "4 m"], "m"), (["3 paces"], "paces"), (["3 m", "4 paces"], "")],
)
def test_a_list_is_in_the_unit_that_all_its_entries_have(entries: list[str], unit: str) -> None:
    assert cells.unit_of_all(WIDTH, entries, "m", "metric") == unit


def test_switching_the_unit_keeps_the_numbers_and_leaves_blanks_blank() -> None:
    stored = ["3.1 m", "", "12 paces", "about 4"]
    switched = [cells.in_other_unit(WIDTH, entry, "paces", "metric") for entry in stored]
    assert switched == ["3.1 paces", "", "12 paces", "about 4"]


@pytest.mark.parametrize(
    ("stored", "paced", "said"),
    [
        ("3 m", False, ""),
        ("", False, ""),
        ("-3 m", False, "The offset 3 can't be negative."),
        ("4 paces", True, ""),
        ("4 paces", False, "Measure your pace first: walk a taped course and count."),
    ],
)
def test_an_entry_says_itself_what_is_wrong_with_it(stored: str, paced: bool, said: str) -> None:
    assert cells.own_problem(WIDTH, "Offset 3", stored, _hands(paced)) == said


def test_every_sentence_that_only_waits_is_said_quietly() -> None:
    legs = methods()["traverse"].form
    for given_legs in ([{}], [{"bearing": "10"}], []):
        reading = legs.read({"legs": given_legs})
        assert reading.problems
        assert all(cells.unfinished(said) for said in reading.problems.values())
    assert not cells.unfinished(Form((WIDTH,)).read({"width": ["-3 m"]}).problems["width"])


def test_rows_given_as_plain_lists_are_read_by_their_order() -> None:
    item = methods()["traverse"].form.field("legs")
    assert rows_of(item, [["10", "8 m"], {"bearing": "20"}]) == [
        {"bearing": "10", "distance": "8 m"},
        {"bearing": "20"},
    ]
    assert rows_of(item, "") == []


def test_the_fill_of_the_levels_is_read_by_the_topdressing_with_its_margin() -> None:
    hollow = {"length": "2 m", "width": "1.5 m", "depths": ["40 mm"]}
    found, _ = take_levels({"method": "hollows", "hollows": [hollow]})
    assert found
    read = operation_named("topdressing").form.read({"hollows": fill_text(found.volume), "depth": "1 mm"})
    hollows = read.values["hollows"] if read.values else None
    assert hollows is not None
    assert hollows.nominal_value == pytest.approx(found.volume.nominal * 1000, rel=1e-3)
    assert hollows.std_dev == pytest.approx(found.volume.plus_minus * 1000, rel=1e-2)


@pytest.mark.parametrize(
    ("days", "said", "old"),
    [
        (0, "today", False),
        (1, "yesterday", False),
        (59, "59 days ago", False),
        (89, "2 months ago", False),
        (90, "3 months ago", True),
        (800, "2 years ago", True),
    ],
)
def test_a_pace_says_its_age_and_is_walked_again_after_90_days(days: int, said: str, old: bool) -> None:
    """90 days: common practice, no source."""
    pace = Pace(measured=NOW - timedelta(days=days))
    assert age(pace, NOW) == said
    assert is_old(pace, NOW) is old


def test_each_person_has_one_pace_the_latest() -> None:
    async def story(hand: Stand) -> None:
        for person, days in (("Jo", 9), ("jo ", 2), ("Sam", 5), ("", 1)):
            hand.app.save(Pace(person=person, counts=("27",), measured=NOW - timedelta(days=days)), "pace")
        hand.app.save(Pace(person="Kit"), "pace")  # has counted nothing yet

    assert [p.person for p in played(story).app.paces()] == ["", "jo ", "Sam"]


def test_a_new_pace_is_not_lost_for_an_older_one_while_it_is_being_walked() -> None:
    async def story(hand: Stand) -> None:
        hand.app.save(Pace(person="Jo", counts=("27",)), "pace")
        hand.app.show_pace(Pace(person="Sam"))

    assert played(story).app.pace_in_hand().person == "Sam"
