"""Statistics of readings: mean, spread, how sure the mean is, how many readings are needed, evenness.

Plain numbers in and out, pure Python. Sources: OpenStax, Introductory Statistics (intervals, sample size);
Mississippi Administrative Code tit. 11 pt. 8 ch. 2 (sample adequacy with t); University of Florida,
overhead sprinkler uniformity (distribution uniformity).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from logic.errors import BadValue


@dataclass(frozen=True)
class Sample:
    """What readings say. deviation: standard deviation (n − 1); error: standard error of the mean."""

    count: int
    mean: float
    deviation: float

    @property
    def error(self) -> float:
        """Standard error of the mean, s ÷ √n."""
        return self.deviation / math.sqrt(self.count)

    @property
    def variation(self) -> float:
        """Coefficient of variation, s ÷ mean, as a fraction."""
        return self.deviation / self.mean

    def interval(self, confidence: float = 0.95) -> tuple[float, float]:
        """Where the true mean lies with that confidence: mean ± t(n − 1) × error. Needs two readings."""
        half = t_quantile((1 + confidence) / 2, self.count - 1) * self.error
        return self.mean - half, self.mean + half


def sample(values: Sequence[float]) -> Sample:
    """The Sample of readings. One reading has no spread to speak of: its deviation is nan.

    Raises BadValue when there is none.
    """
    if not values:
        raise BadValue("", "There are no readings yet.")
    count = len(values)
    mean = math.fsum(values) / count
    if count == 1:
        return Sample(1, mean, math.nan)
    return Sample(count, mean, math.sqrt(math.fsum((x - mean) ** 2 for x in values) / (count - 1)))


def trimmed_mean(values: Sequence[float], cut: int = 1) -> float:
    """Mean without the `cut` highest and lowest readings. Raises BadValue when none is left.

    Source: MAGM 230 Field Surveying (twelve counts of paces, highest and lowest dropped).
    """
    kept = sorted(values)[cut : len(values) - cut]
    if not kept:
        raise BadValue("", f"At least {2 * cut + 1} readings are needed to leave out the extremes.")
    return math.fsum(kept) / len(kept)


def needed_known(deviation: float, within: float, factor: float) -> float:
    """Readings for a mean within ± `within`, unrounded: (factor × s ÷ within)².

    factor: z for a known deviation (1.96 for 95 %), t for one from a pilot. Round up with `whole`.
    Source: OpenStax, Introductory Statistics.
    """
    if within <= 0:
        raise BadValue("", "The wanted closeness must be more than 0.")
    return (factor * deviation / within) ** 2


def needed(deviation: float, within: float, confidence: float = 0.95) -> int:
    """The fewest readings, at least 2, that give a mean within ± `within` with that two-sided confidence.

    deviation from a pilot; t at the count itself, which is where repeating (t s ÷ E)² comes to rest.
    Source: Mississippi Administrative Code tit. 11 pt. 8 ch. 2, addenda I and J (there one-sided).
    """
    count = max(2, whole(needed_known(deviation, within, z_quantile((1 + confidence) / 2))))
    while needed_known(deviation, within, t_quantile((1 + confidence) / 2, count - 1)) > count:
        count += 1
    return count


def whole(count: float) -> int:
    """A count of readings rounded up."""
    return math.ceil(count - 1e-9)


def low_quarter(values: Sequence[float]) -> float:
    """Mean of the lowest quarter; its size n ÷ 4 rounded to the nearest, halves up, never less than 1."""
    size = max(1, math.floor(len(values) / 4 + 0.5))
    return math.fsum(sorted(values)[:size]) / size


def distribution_uniformity(values: Sequence[float]) -> float:
    """Lowest-quarter distribution uniformity [%]: 100 × mean of the lowest quarter ÷ mean.

    Source: University of Florida, overhead sprinkler uniformity.
    """
    return 100 * low_quarter(values) / _mean_above_zero(values)


def uniformity_coefficient(values: Sequence[float]) -> float:
    """Christiansen's coefficient [%]: 100 × (1 − mean of |x − mean| ÷ mean)."""
    mean = _mean_above_zero(values)
    return 100 * (1 - math.fsum(abs(x - mean) for x in values) / len(values) / mean)


def _mean_above_zero(values: Sequence[float]) -> float:
    mean = sample(values).mean
    if mean <= 0:
        raise BadValue("", "The readings must have a mean above 0.")
    return mean


def z_quantile(probability: float) -> float:
    """The normal quantile: z with P(Z ≤ z) = probability."""
    return NormalDist().inv_cdf(probability)


def t_quantile(probability: float, freedom: int) -> float:
    """Student's quantile: t with P(T ≤ t) = probability, for `freedom` degrees of freedom (n − 1).

    Accurate to 1e-9 or better (held against published tables in the tests). Raises BadValue outside (0, 1)
    or below one degree of freedom.
    """
    if not 0 < probability < 1 or freedom < 1:
        raise BadValue("", "An interval needs at least two readings and a confidence between 0 and 1.")
    if probability == 0.5:
        return 0.0
    if probability < 0.5:
        return -t_quantile(1 - probability, freedom)
    low, high = 0.0, 1.0
    while t_probability(high, freedom) < probability:
        low, high = high, high * 2
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if t_probability(middle, freedom) < probability:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def t_probability(t: float, freedom: int) -> float:
    """P(T ≤ t) of Student's distribution, through the incomplete beta function."""
    tail = _beta_share(freedom / (freedom + t * t), freedom / 2, 0.5) / 2
    return 1 - tail if t > 0 else tail


def _beta_share(x: float, a: float, b: float) -> float:
    """Regularised incomplete beta function I_x(a, b), by its continued fraction (Lentz).

    Source: NIST Digital Library of Mathematical Functions, 8.17.22 (from memory, unverified; the quantiles
    it gives are held against published tables).
    """
    if x <= 0 or x >= 1:
        return 0.0 if x <= 0 else 1.0
    if x > (a + 1) / (a + b + 2):
        return 1 - _beta_share(1 - x, b, a)
    front = math.exp(
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    )
    tiny = 1e-300
    c, d = 1.0, 1 / (1 - (a + b) * x / (a + 1) or tiny)
    fraction = d
    for m in range(1, 500):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            d = 1 / (1 + term * d or tiny)
            c = 1 + term / c or tiny
            fraction *= d * c
        if abs(d * c - 1) < 1e-16:
            break
    return front * fraction / a
