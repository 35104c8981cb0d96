"""How evenly water falls: distribution uniformity and what it makes of the run time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from logic.figure import Figure, Source, figure, step
from logic.units import quantity

QUARTER = Source(
    "L. Oki, Measuring distribution uniformity, UC Davis: mean of the lowest quarter ÷ mean of all"
)
MULTIPLIER = Source("Run-time multiplier 1 ÷ (0.4 + 0.6 × DU)", "memory")


def low_quarter(depths: Sequence[float]) -> float:
    """Mean of the lowest quarter of `depths` (a quarter of a can counts as a whole one). Source: UC Davis."""
    count = math.ceil(len(depths) / 4)
    return sum(sorted(depths)[:count]) / count


def run_time_multiplier(uniformity: Any) -> Figure:
    """Factor on the run time, 1 / (0.4 + 0.6 × DU), DU in percent. From memory, unverified."""
    factor = 1 / (0.4 + 0.6 * uniformity / 100)
    line = step("1 ÷ (0.4 + 0.6 × {d}) = {f}", d=quantity(uniformity, "%"), f=factor)
    return figure("run_time_multiplier", "Run longer by the factor", factor, "", line, source=MULTIPLIER)


def low_quarter_depth(mean: Any, uniformity: Any) -> Figure:
    """Mean depth of the driest quarter [mm] = mean depth [mm] × DU [%]. Source: the definition of DU."""
    depth = mean * uniformity / 100
    line = step(
        "{m} × {d} = {q}", m=quantity(mean, "mm"), d=quantity(uniformity, "%"), q=quantity(depth, "mm")
    )
    return figure("low_quarter_depth", "The driest quarter got", depth, "mm", line, source=QUARTER)
