"""Statistics of readings, against published tables and examples (rows M-N1 to M-N10 stand in checks)."""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.measure import sampling

# Student's t, two decimals more than the usual table (NIST/SEMATECH e-Handbook of Statistical Methods,
# 1.3.6.7.2, critical values of Student's t; from memory, unverified beyond three decimals).
TABLE = [
    (0.90, 1, 3.078),
    (0.90, 9, 1.383),
    (0.95, 2, 2.920),
    (0.95, 10, 1.812),
    (0.95, 19, 1.729),
    (0.975, 1, 12.706),
    (0.975, 4, 2.776),
    (0.975, 11, 2.201),
    (0.975, 14, 2.145),
    (0.975, 30, 2.042),
    (0.975, 100, 1.984),
    (0.99, 5, 3.365),
    (0.995, 20, 2.845),
    (0.999, 8, 4.501),
]


@pytest.mark.parametrize(("probability", "freedom", "t"), TABLE)
def test_student_quantiles_as_in_the_table(probability: float, freedom: int, t: float) -> None:
    assert sampling.t_quantile(probability, freedom) == pytest.approx(t, abs=5.1e-4)


@pytest.mark.parametrize("probability", [0.001, 0.2, 0.5, 0.6, 0.9, 0.975, 0.9995])
def test_student_quantiles_in_closed_form_to_a_billionth(probability: float) -> None:
    """One degree of freedom: tan(π (p − ½)); two: 2a √(2 / (1 − 4a²)), a = p − ½; four: by arc cosine."""
    a = probability - 0.5
    assert sampling.t_quantile(probability, 1) == pytest.approx(math.tan(math.pi * a), rel=1e-9, abs=1e-9)
    two = 2 * a * math.sqrt(2 / (1 - 4 * a * a))
    assert sampling.t_quantile(probability, 2) == pytest.approx(two, rel=1e-9, abs=1e-9)
    alpha = math.sqrt(4 * probability * (1 - probability))
    four = math.copysign(2 * math.sqrt(max(0.0, math.cos(math.acos(alpha) / 3) / alpha - 1)), a)
    assert sampling.t_quantile(probability, 4) == pytest.approx(four, rel=1e-6, abs=1e-7)


def test_student_becomes_normal_with_many_readings() -> None:
    assert sampling.t_quantile(0.975, 10**7) == pytest.approx(NormalDist().inv_cdf(0.975), rel=1e-6)


@given(p=st.floats(0.001, 0.999), freedom=st.integers(1, 200))
def test_the_quantile_undoes_the_probability(p: float, freedom: int) -> None:
    assert sampling.t_probability(sampling.t_quantile(p, freedom), freedom) == pytest.approx(p, abs=1e-9)
    assert sampling.t_quantile(1 - p, freedom) == pytest.approx(
        -sampling.t_quantile(p, freedom), rel=1e-6, abs=1e-9
    )


def test_readings_needed_give_the_closeness_asked_for_and_one_fewer_does_not() -> None:
    for deviation, within in ((1.67, 1.0), (5.0, 1.0), (0.2, 1.0), (30.0, 3.0)):
        count = sampling.needed(deviation, within)

        def half(n: int, s: float = deviation) -> float:
            return sampling.t_quantile(0.975, n - 1) * s / math.sqrt(n)

        assert half(count) <= within
        assert count == 2 or half(count - 1) > within


def test_spread_and_variation_of_the_published_sample() -> None:
    """OpenStax, Introductory Statistics: mean 8.2267, s 1.6722; CV 20.33 % worked out from them."""
    values = [8.6, 9.4, 7.9, 6.8, 8.3, 7.3, 9.2, 9.6, 8.7, 11.4, 10.3, 5.4, 8.1, 5.5, 6.9]
    found = sampling.sample(values)
    assert (found.mean, found.deviation) == pytest.approx((8.2267, 1.6722), abs=5e-5)
    assert found.variation == pytest.approx(0.2033, abs=5e-5)


def test_catch_cans_by_the_rule_of_the_nearest_quarter() -> None:
    """15 cans, low quarter of 4: DU 49.62039 % as printed (the cans of row M-N9b)."""
    cans = [47, 42, 45, 24, 13, 26, 33, 34, 27, 30, 40, 44, 32, 12, 12]
    assert sampling.distribution_uniformity(cans) == pytest.approx(49.62039, abs=1e-5)


@pytest.mark.parametrize(("count", "quarter"), [(1, 1), (4, 1), (5, 1), (6, 2), (8, 2), (10, 3), (15, 4)])
def test_the_low_quarter_rounds_halves_up(count: int, quarter: int) -> None:
    values = [float(i) for i in range(count)]
    assert sampling.low_quarter(values) == pytest.approx((quarter - 1) / 2)


def test_too_few_readings_are_refused() -> None:
    with pytest.raises(BadValue, match="no readings"):
        sampling.sample([])
    with pytest.raises(BadValue, match="at least two readings"):
        sampling.sample([5.0]).interval()
    assert math.isnan(sampling.sample([5.0]).deviation)
    with pytest.raises(BadValue, match="At least 3"):
        sampling.trimmed_mean([1.0, 2.0])
    with pytest.raises(BadValue, match="more than 0"):
        sampling.needed(1.0, 0.0)
    with pytest.raises(BadValue, match="above 0"):
        sampling.distribution_uniformity([0.0, 0.0])
