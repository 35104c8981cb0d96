"""Shares counted by points: Wilson's interval, and how many points are enough."""

from __future__ import annotations

import math

from logic.errors import BadValue
from logic.figure import Source
from logic.measure.sampling import whole, z_quantile

WILSON = Source(
    "Wilson's score interval, as in collections of its test cases; any statistics text", "second-hand"
)


def wilson(hits: float, count: float, confidence: float = 0.95) -> tuple[float, float]:
    """Where the true share lies, as fractions (low, high), when `hits` of `count` points hit.

    (p + z²/2n ± z √(p(1 − p)/n + z²/4n²)) ÷ (1 + z²/n). Behaves at 0 and at all.
    Raises BadValue unless 0 ≤ hits ≤ count and count > 0. Source: WILSON.
    """
    if count <= 0 or not 0 <= hits <= count:
        raise BadValue("", "The hits must lie between none and all of the points.")
    z = z_quantile((1 + confidence) / 2)
    share, square = hits / count, z * z / count
    centre = share + square / 2
    half = z * math.sqrt(share * (1 - share) / count + square / (4 * count))
    low, high = (centre - half) / (1 + square), (centre + half) / (1 + square)
    # rounding must not push the ends past what was counted
    return (0.0 if hits == 0 else min(low, share)), (1.0 if hits == count else max(high, share))


def points_needed(share: float, within: float, confidence: float = 0.95) -> int:
    """Points that place a share near `share` within ± `within` (fractions): z² p (1 − p) ÷ E², rounded up.

    Source: OpenStax, Introductory Statistics, sample size for a proportion.
    """
    if within <= 0:
        raise BadValue("within", "The wanted closeness must be more than 0.")
    z = z_quantile((1 + confidence) / 2)
    return max(1, whole(z * z * share * (1 - share) / within**2))


def apart(first: tuple[float, float], second: tuple[float, float]) -> bool:
    """True when two intervals do not overlap: only then is a change claimed (common practice, no source)."""
    return first[1] < second[0] or second[1] < first[0]
