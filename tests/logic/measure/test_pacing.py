"""The walker's pace: calibrating, checking again, and what the choice of steps means."""

from __future__ import annotations

import math

import pytest

from logic.errors import BadValue
from logic.measure.pacing import calibrate, pace_of, recheck, repeated
from logic.units import nominal, plus_minus, spread

FW = [38, 40, 37, 37, 37]  # surveying field-work sheets, 25 m course (row M-P4)


def test_margin_is_the_standard_error_of_the_counts() -> None:
    """s = 1.304, SE = 0.583 paces = 1.54 % of the pace (worked out from the sheet's counts)."""
    pace = calibrate(25, FW)
    assert spread(pace.metres) / nominal(pace.metres) == pytest.approx(0.0154, abs=5e-5)
    assert "1.5 %" in pace.figure.working()[1]


def test_walks_that_agree_too_well_keep_the_margin_of_counting() -> None:
    pace = calibrate(25, [38, 38, 38, 38])
    assert spread(pace.metres) / nominal(pace.metres) == pytest.approx(0.25 / 2 / 38)


def test_one_walk_alone_gets_the_published_margin_of_one_in_fifty() -> None:
    """1:50 for ordinary pacing: K. Singh, Measurement of distance with tapes."""
    pace = calibrate(25, [38])
    assert spread(pace.metres) / nominal(pace.metres) == pytest.approx(0.02)
    assert "one walk only" in pace.figure.working()[1]


def test_an_unusual_pace_is_warned_of_unless_every_second_step_is_counted() -> None:
    double = {"course": "198 ft", "counts": [36]}  # 5.5 ft: wildfire crews count every second step
    single = pace_of(double)
    assert single is not None
    assert "unusual for one step" in single.warnings[0]
    every_second = pace_of({**double, "counting": "double"})
    assert every_second is not None
    assert not every_second.warnings
    assert not calibrate(25, FW).warnings


def test_a_new_calibration_is_held_against_the_old_one() -> None:
    old = calibrate(25, FW)
    assert recheck(old, calibrate(25, [38, 38.5, 37.5])) == ""
    assert "has changed from 0.661 m to 0.769 m" in recheck(old, calibrate(20, [26, 26, 26]))
    assert "different steps" in recheck(old, calibrate(25, [19, 19], "double"))


def test_readings_repeated_share_the_pace_and_not_the_count() -> None:
    pace = calibrate(25, FW)
    whole = sum(repeated(pace.length(2), 6, pace))
    assert nominal(whole) == pytest.approx(12 * 25 / 37.8)
    calibration = 12 * spread(pace.metres)
    counting = math.sqrt(6) * 0.25 * nominal(pace.metres)
    assert spread(whole) == pytest.approx(math.hypot(calibration, counting))


def test_taped_readings_repeated_are_each_their_own() -> None:
    assert spread(sum(repeated(plus_minus(2, 0.02), 9, None))) == pytest.approx(0.06)
    assert repeated(2.0, 3, None) == [2.0, 2.0, 2.0]


def test_a_calibration_without_counts_is_refused() -> None:
    assert pace_of(None) is None
    with pytest.raises(BadValue, match="Fill in the paces counted"):
        pace_of({"course": "20 m"})
    with pytest.raises(BadValue, match="more than 0"):
        pace_of({"course": "20 m", "counts": [27, 0]})
    with pytest.raises(BadValue, match="at least one walk"):
        calibrate(20, [])
