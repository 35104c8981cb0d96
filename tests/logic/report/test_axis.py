"""The axis of a chart: round values that hold both ends, few enough to letter."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from logic.report.axis import ticks

NUMBERS = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


@given(NUMBERS, st.floats(min_value=1e-3, max_value=1e6))
def test_ticks_hold_both_ends_in_even_steps(low: float, reach: float) -> None:
    high = low + reach
    marks = ticks(low, high, 3)
    slack = 1e-6 * max(abs(low), abs(high), reach)
    assert marks[0] <= low + slack
    assert marks[-1] >= high - slack
    assert 2 <= len(marks) <= 12
    steps = [b - a for a, b in pairwise(marks)]
    assert max(steps) - min(steps) <= slack


def test_an_axis_near_nought_begins_there() -> None:
    assert ticks(2.0, 9.0, 3) == [0.0, 5.0, 10.0]
    assert ticks(0.0, 0.0)[0] == 0.0
