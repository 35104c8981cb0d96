"""Published figures for vibration, noise, lifting and petrol. Rows of inputs.csv by id."""

from __future__ import annotations

from typing import Any

import pytest

from logic.programme.exposure import Use, noise, points, time_left, vibration
from logic.programme.handling import Can, lifting, petrol


@pytest.mark.parametrize(
    ("row", "said", "pace", "twist", "wanted", "within"),
    [
        ("I-C107", "one or two lifts a minute (cut 30 %)", "one_two", "none", "17.5", False),
        ("I-C108", "twist beyond 45 degrees (cut 10 %)", "half_hourly", "over_45", "22.5", False),
        ("I-C109", "five to eight lifts a minute (cut 50 %)", "five_eight", "none", "12.5", False),
    ],
)
def test_lifting_filters(
    check: Any, row: str, said: str, pace: str, twist: str, wanted: str, within: bool
) -> None:
    check(row).given(said)
    found = lifting(25.0, "man_elbow", pace, twist)
    check(row).holds(found.figure.nominal, wanted)
    assert found.within is within


def test_points_of_one_machine(check: Any) -> None:
    check("I-C113").given("4 m/s2 for 3 h")
    day = vibration([Use("mower", 3, vibration=4)])
    check("I-C113").holds(day.figure("vibration_points").nominal, "96")
    check("I-C113").holds(day.figure("a8").nominal, "2.45")
    assert day.state == "below"


@pytest.mark.parametrize(("a", "wanted", "state"), [(2.5, "100", "action"), (5.0, "400", "action")])
def test_points_that_equal_the_values(check: Any, a: float, wanted: str, state: str) -> None:
    check("I-C114").given(f"{a:g} m/s2 for 8 h")
    day = vibration([Use("machine", 8, vibration=a)])
    check("I-C114").holds(day.figure("vibration_points").nominal, wanted)
    assert day.state == state
    assert vibration([Use("machine", 8.1, vibration=a)]).state == ("limit" if a == 5 else "action")


def test_points_of_several_machines(check: Any) -> None:
    row = check("I-C115")
    row.given("6 m/s2 1.5 h", "4 m/s2 1 h", "8 m/s2 0.75 h")
    for a, hours, wanted in ((6, 1.5, "108"), (4, 1, "32"), (8, 0.75, "96")):
        row.holds(points(a, hours), wanted)
    day = vibration([Use("a", 1.5, 6), Use("b", 1, 4), Use("c", 0.75, 8)])
    row.holds(day.figure("vibration_points").nominal, "236")
    row.holds(day.figure("a8").nominal, "3.84")


def test_time_left(check: Any) -> None:
    check("I-C116").given("236 points used", "6 m/s2")
    check("I-C116").holds(time_left(236, 6).nominal, "2.28")


@pytest.mark.parametrize(
    ("row", "level", "wanted", "says"),
    [("I-C117", 94, "88.0", "above the limit of 87"), ("I-C118", 90, "84.0", "above 80")],
)
def test_noise_over_a_day(check: Any, row: str, level: float, wanted: str, says: str) -> None:
    check(row).given(f"{level} dB for 2 h")
    day = noise([Use("machine", 2, noise=level)])
    check(row).holds(day.figure("lep_d").nominal, wanted)
    assert says in day.sentence


def test_petrol_to_be_notified(check: Any) -> None:
    check("I-C120").given("two 10 L plastic cans", "one 20 L metal can")
    found = petrol([Can(10), Can(10), Can(20, metal=True)])
    check("I-C120").holds(found.figure.nominal, "40")
    assert not found.within
    assert "notify" in found.sentence
    assert petrol([Can(10), Can(20, metal=True)]).within
