"""What a change did not touch is taken over as it stood; and that is what would be worked out anew."""

from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from logic.records.standing import Standing, standing
from logic.records.types import Pace, Visit
from logic.records.visits import moved_work, with_reading, with_work, with_work_value, without_work

PACE = Pace(course="20 m", counts=("27", "26.5", "27"))
WORKS = {
    "coring": {
        "tine_diameter": "12 mm",
        "spacing_across": "50 mm",
        "spacing_along": "50 mm",
        "depth": "75 mm",
    },
    "overseeding": {"rate": "8 g/m^2"},
    "topdressing": {"depth": "2 mm"},
    "feeding": {"n": "12", "nutrient_rate": "3 g/m^2"},
}


def _visit() -> Visit:
    visit = with_reading(with_reading(Visit(), "length", "12 m"), "width", "16 paces")
    for place, (operation, values) in enumerate(WORKS.items()):
        visit = with_work(visit, operation)
        for key, value in values.items():
            visit = with_work_value(visit, place, key, value)
    return visit


def _stood() -> Standing:
    stood = standing(_visit(), PACE, 0.9)
    assert all(worked for worked, _ in stood.planned)
    return stood


def _said(stood: Standing) -> list[Any]:
    """All that a screen could show of it."""
    outline = [
        (f.key, f.text_with_margin(), f.working()) for f in (stood.outline.figures if stood.outline else ())
    ]
    works = [
        None if w is None else ([(f.key, f.text_with_margin(), f.working()) for f in w.figures], w.warnings)
        for w, _ in stood.planned
    ]
    return [outline, works, stood.measured.problems, [r and r.problems for _, r in stood.planned]]


def _is_taken_over(before: Standing, after: Standing) -> list[bool]:
    return [a[0] is b[0] for a, b in zip(before.planned, after.planned, strict=True)]


def test_nothing_changed_is_the_same_standing() -> None:
    before = standing(_visit(), PACE, 0.9)
    assert standing(replace(_visit(), notes="mind the roses"), PACE, 0.9, before) is before


def test_a_change_to_one_work_leaves_the_outline_and_the_works_that_do_not_ask_for_it() -> None:
    before = _stood()
    after = standing(with_work_value(_visit(), 3, "n", "20"), PACE, 0.9, before)
    assert after.outline is before.outline
    assert _is_taken_over(before, after) == [True, True, True, False]


def test_a_dressing_is_worked_out_anew_when_the_holes_that_it_fills_change() -> None:
    before = _stood()
    after = standing(with_work_value(_visit(), 0, "depth", "60 mm"), PACE, 0.9, before)
    assert _is_taken_over(before, after) == [False, True, False, True]


def test_a_change_of_the_ground_the_pace_or_the_confidence_works_everything_out_anew() -> None:
    before = _stood()
    for changed in (
        standing(with_reading(_visit(), "length", "13 m"), PACE, 0.9, before),
        standing(_visit(), replace(PACE, counts=("28",)), 0.9, before),
        standing(_visit(), PACE, 0.99, before),
    ):
        assert not any(_is_taken_over(before, changed))


_CHANGES = st.sampled_from(
    [
        lambda v: with_reading(v, "length", "12.5 m"),
        lambda v: with_reading(v, "width", ""),
        lambda v: with_reading(v, "width", "9 m"),
        lambda v: with_work_value(v, 0, "depth", "70 mm"),
        lambda v: with_work_value(v, 1, "rate", "9 g/m^2"),
        lambda v: with_work_value(v, 2, "depth", "nonsense"),
        lambda v: with_work_value(v, 2, "depth", "4 mm"),
        lambda v: moved_work(v, 2, -1),
        lambda v: without_work(v, 0) if len(v.works) > len(WORKS) else with_work(v, "coring"),
    ]
)


@settings(max_examples=15, deadline=None)
@given(st.lists(_CHANGES, max_size=5))
def test_what_is_taken_over_is_what_would_be_worked_out(changes: list[Any]) -> None:
    visit, stood = _visit(), standing(_visit(), PACE, 0.9)
    for change in changes:
        visit = change(visit)
        stood = standing(visit, PACE, 0.9, stood)
        assert _said(stood) == _said(standing(visit, PACE, 0.9))
