"""Laws of vibration, noise, lifting and petrol; the published rows are checked beside the others."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.programme.exposure import Use, noise, noise_time_left, points, time_left, vibration
from logic.programme.handling import Can, choices, lifting, petrol

few = settings(max_examples=100, deadline=None)
shaking = st.lists(st.tuples(st.floats(0.1, 12), st.floats(0, 3)), min_size=1, max_size=6)


@few
@given(shaking, shaking)
def test_points_add_up(one: list[tuple[float, float]], other: list[tuple[float, float]]) -> None:
    def total(parts: list[tuple[float, float]]) -> float:
        return vibration([Use("m", hours, vibration=a) for a, hours in parts]).figures[0].nominal

    assert total(one + other) == pytest.approx(total(one) + total(other))


@few
@given(shaking)
def test_the_daily_value_is_the_root_of_the_sum_of_squares(parts: list[tuple[float, float]]) -> None:
    # Control of Vibration at Work Regulations 2005, Schedule 1
    found = vibration([Use("m", hours, vibration=a) for a, hours in parts]).figure("a8").nominal
    assert found == pytest.approx(sum(a * a * hours / 8 for a, hours in parts) ** 0.5)


@few
@given(st.floats(0, 399), st.floats(0.5, 12))
def test_time_left_uses_up_what_is_left(used: float, a: float) -> None:
    hours = time_left(used, a).nominal
    assert used + points(a, hours) == pytest.approx(400)
    assert time_left(400 + used, a).nominal == 0


@few
@given(st.floats(60, 110), st.floats(0.1, 4))
def test_three_decibels_more_halve_the_time(level: float, hours: float) -> None:
    # twice the energy is 10 × log10 2 = 3.01 dB
    one = noise([Use("m", hours, noise=level)]).figures[0].nominal
    two = noise([Use("m", hours / 2, noise=level + 3.0103)]).figures[0].nominal
    assert one == pytest.approx(two, abs=0.001)


def test_eight_hours_at_a_level_are_that_level() -> None:
    assert noise([Use("m", 8, noise=85)]).figures[0].nominal == pytest.approx(85)
    assert noise_time_left([], 85).nominal == pytest.approx(8)
    assert noise_time_left([Use("m", 8, noise=85)], 90).nominal == 0


@pytest.mark.parametrize(
    ("level", "state", "says"),
    [
        (79.9, "below", "below 80"),
        (80, "action", "to hand"),
        (85, "action", "must be worn"),
        (87.1, "limit", "limit"),
    ],
)
def test_noise_states(level: float, state: str, says: str) -> None:
    found = noise([Use("m", 8, noise=level)])
    assert found.state == state
    assert says in found.sentence


def test_machines_without_a_figure_are_named_not_counted_as_nought() -> None:
    found = vibration([Use("mower", 1, vibration=4), Use("scarifier", 1)])
    assert found.unknown == ("scarifier",)
    assert "scarifier" in found.sentence
    assert "Local codes" in found.sentence


@pytest.mark.parametrize(
    "given_", [{"hours": 25}, {"hours": -1}, {"hours": 1, "vibration": -2}, {"hours": 1, "noise": 300}]
)
def test_what_cannot_be_is_refused(given_: dict[str, float]) -> None:
    with pytest.raises(BadValue):
        Use("m", **given_)


@pytest.mark.parametrize("where", [key for key, _ in choices("filter")])
@pytest.mark.parametrize("pace", [key for key, _ in choices("pace")])
def test_a_faster_pace_or_a_twist_never_allows_more(where: str, pace: str) -> None:
    easy = lifting(5, where).figure.nominal
    hard = lifting(5, where, pace, "over_90").figure.nominal
    assert hard <= lifting(5, where, pace).figure.nominal <= easy


def test_a_bag_from_the_ground_is_above_the_guide() -> None:
    found = lifting(25, "man_ground")
    assert not found.within
    assert "barrow" in found.sentence


def test_petrol_without_notice_and_cans_too_large() -> None:
    assert petrol([Can(10), Can(20, metal=True)]).within
    assert "licence" in petrol([Can(20, metal=True)] * 14).sentence
    large = petrol([Can(20)])
    assert not large.within
    assert "larger than allowed" in large.sentence
