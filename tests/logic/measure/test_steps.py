"""Steps from an accelerometer, on walks drawn by the law of a walking body: a hump at each step.

No published record of a walk is at hand, so the walks are invented: step rate 1.4 to 2.4 a second (usual
walking; from memory, unverified), humps of 2 to 6 m/s² on gravity, a second harmonic, and noise.
"""

import math
import random

import pytest

from logic.measure.steps import StepCounter

G = 9.81


def walk(
    steps: int, rate: float, height: float, noise: float = 0.4, hertz: int = 60, seed: int = 1
) -> StepCounter:
    """A walk of `steps`, standing still before and after."""
    chance = random.Random(seed)
    counter = StepCounter()
    walking = steps / rate
    for i in range(int((walking + 4) * hertz)):
        t = i / hertz
        phase = 2 * math.pi * rate * (t - 2)
        swing = height * (math.sin(phase) + 0.3 * math.sin(2 * phase)) / 2 if 2 <= t < 2 + walking else 0.0
        counter.take(t, *(chance.gauss(v, noise) for v in (0.3, 0.5, G + swing)))
    return counter


@pytest.mark.parametrize("rate", [1.4, 1.8, 2.4])
@pytest.mark.parametrize("height", [2.5, 4.0, 6.0])
def test_a_walk_is_counted_to_within_a_step_or_two(rate: float, height: float) -> None:
    assert abs(walk(30, rate, height).steps - 30) <= 2


@pytest.mark.parametrize("hertz", [30, 50, 100])
def test_the_rate_of_the_samples_does_not_matter(hertz: int) -> None:
    assert abs(walk(24, 1.8, 4.0, hertz=hertz).steps - 24) <= 2


def test_a_phone_that_lies_still_counts_nothing() -> None:
    assert walk(0, 1.8, 4.0, noise=0.15).steps == 0


def test_how_the_phone_is_turned_does_not_matter() -> None:
    counts = []
    for turned in ((0, 0, 1), (1, 0, 0), (0.6, 0, 0.8)):
        counter = StepCounter()
        for i in range(12 * 60):
            size = G + 3 * math.sin(2 * math.pi * 1.8 * i / 60)
            counter.take(i / 60, *(size * part for part in turned))
        counts.append(counter.steps)
    assert len(set(counts)) == 1
    assert abs(counts[0] - 12 * 1.8) <= 2


def test_samples_that_are_no_numbers_and_gaps_are_passed_over() -> None:
    counter = StepCounter()
    for at, size in ((0.0, math.nan), (math.inf, G), (0.1, G), (60.0, 30.0), (60.02, 30.0), (59.0, 30.0)):
        assert counter.take(at, 0, 0, size) is False
    assert counter.steps == 0
