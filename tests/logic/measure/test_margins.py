"""± as propagated against a Monte Carlo run of the same errors, for every way of measuring."""

from __future__ import annotations

import math
import random
import statistics

import pytest

from logic.measure.methods import methods, outline_of
from logic.measure.pacing import pace_of
from logic.measure.radii import turning_margin
from tests.logic.measure.examples import EXAMPLES, PACE
from tests.logic.measure.montecarlo import hold

DRAWS = 1000  # the played ± is then itself known to 2.2 %
_DRAWN = ("kidney", "offsets", "radii", "twice", "compound")  # their way round is drawn, not a formula


def test_every_way_of_measuring_has_an_example() -> None:
    assert {job["method"] for job in EXAMPLES.values()} == set(methods())


@pytest.mark.parametrize("name", EXAMPLES)
def test_margin_is_that_of_playing_the_same_errors(name: str) -> None:
    held = hold(EXAMPLES[name], PACE, DRAWS, seed=2026)
    assert held.ratio == pytest.approx(1, abs=0.1)
    if EXAMPLES[name]["method"] not in _DRAWN:
        assert held.perimeter_ratio == pytest.approx(1, abs=0.1)


def test_the_pace_counts_twice_in_an_area() -> None:
    """u(A)/A = 2 u(p)/p when both sides are paced with one pace: law of propagation, A proportional to p²."""
    pace = pace_of(PACE)
    area = outline_of({"method": "rectangle", "length": "16 paces", "width": "9.5 paces"}, pace).area
    magnitude = area.value.magnitude
    of_pace = sum(u for reading, u in magnitude.error_components().items() if reading.tag == "pace")
    assert of_pace / area.nominal == pytest.approx(2 * 0.5831 / 37.8, rel=1e-3)


def test_directions_by_eye_add_what_playing_them_adds() -> None:
    """Radii of an ellipse taken in directions that are each off by 3°, against `turning_margin`."""
    a, b, count, rng = 6.0, 4.5, 16, random.Random(7)

    def radius(angle: float) -> float:
        return 1 / math.hypot(math.cos(angle) / a, math.sin(angle) / b)

    angles = [2 * math.pi * i / count for i in range(count)]
    played = [
        math.pi / count * sum(radius(t + rng.gauss(0, math.radians(3))) ** 2 for t in angles)
        for _ in range(4000)
    ]
    told = turning_margin([radius(t) for t in angles], math.radians(3))
    assert told == pytest.approx(statistics.stdev(played), rel=0.1)


def test_working_says_what_the_margin_comes_from() -> None:
    pace = pace_of(PACE)
    area = outline_of({"method": "rectangle", "length": "16 paces", "width": "7.5 m"}, pace).area
    last = area.working()[-1]
    assert last.startswith("give or take 1.8 m² (2.2 %)")
    assert last.index("counting paces") < last.index("the length of your pace") < last.index("the tape")
