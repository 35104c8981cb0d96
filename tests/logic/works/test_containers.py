"""Whole containers. Laws and the rounding; the published sums stand in tests/checks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.figure import figure
from logic.units import plus_minus
from logic.works.containers import containers, whole

SIZES = st.floats(0.1, 1000)


@given(needed=st.floats(0.001, 1e5), size=SIZES)
def test_enough_containers_and_not_one_too_many(needed: float, size: float) -> None:
    count = whole(needed, size, 0.9)
    assert count * size >= needed * (1 - 1e-6)
    assert (count - 1) * size < needed


@given(count=st.integers(1, 500), size=SIZES)
def test_an_amount_that_fills_them_exactly_takes_no_further_one(count: int, size: float) -> None:
    assert whole(count * size, size, 0.9) == count


def test_an_uncertain_amount_is_raised_to_what_is_enough() -> None:
    # z of 0.9 is 1.2816 (standard normal tables), so 100 ± 10 kg needs 112.8 kg: five bags of 25, not four
    assert whole(plus_minus(100, 10), 25, 0.9) == 5
    assert whole(plus_minus(100, 10), 25, 0.5) == 4


@pytest.mark.parametrize(("mass", "words"), [(20.0, "so 1 bag"), (30.0, "so 2 bags")])
def test_working_counts_in_plain_words(mass: float, words: str) -> None:
    needed = figure("m", "m", mass, "kg")
    assert containers("bags", "Bags", needed, 25, "kg", "bag", 0.9).working()[-1].endswith(words)


def test_working_says_what_was_taken_as_enough() -> None:
    needed = figure("m", "m", plus_minus(100.0, 10.0), "kg")
    counted = containers("bags", "Bags", needed, 25_000, "g", "bag", 0.9)
    assert counted.working() == (
        "100 kg, or 112.8 kg to be 90 % sure that it lasts",
        "112.8 kg ÷ 25 kg = 4.513, so 5 bags",
    )
    assert counted.order
