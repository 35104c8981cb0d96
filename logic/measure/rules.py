"""Area under offsets from a baseline: the trapezoidal rule, Simpson's rule in runs, and what neither knows.

x: stations along the baseline [m], rising; h: widths there [m]; ± allowed in h.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

#: Share of the difference between the two rules that each is still wrong by. At a rounded end the width grows
#: with the root of the distance, so each rule's error falls with the spacing to the power 1.5. Then
#: true − T(d) = (T(d) − T(2d)) ÷ (2^1.5 − 1), while S − T(d) = (T(d) − T(2d)) ÷ 3, which leaves Simpson's
#: rule 0.64 and the trapezoidal rule 1.64 of the difference. Drawn greens are rounder than an ellipse's end,
#: so for Simpson's rule the whole difference is taken: six in ten of them lie within it, all within twice it.
TRAPEZOID_SHARE = 3 / (2**1.5 - 1)
SIMPSON_SHARE = 1.0


@dataclass(frozen=True)
class Run:
    """Strips `first` to `last` (indexes of their offsets) taken together by one rule. area [m²]."""

    first: int
    last: int
    simpson: bool
    spacing: float
    area: Any

    @property
    def strips(self) -> int:
        """How many strips."""
        return self.last - self.first


def trapezoid(x: Sequence[Any], h: Sequence[Any]) -> Any:
    """Area [m²] with straight lines between the offsets; any spacing.

    Source: F. A. Griffiths, The Artillerist's Manual, p. 371; surveying hand-outs, area by offsets.
    """
    return sum((x[i + 1] - x[i]) * (h[i] + h[i + 1]) / 2 for i in range(len(x) - 1))


def simpson_runs(x: Sequence[float], h: Sequence[Any]) -> list[Run]:
    """The runs of equal strips: Simpson's rule on an even number, the trapezoid on a strip left over.

    Source: surveying hand-outs, area by offsets (Simpson's rule; the last strip by trapezoid where the count
    is odd; each part of equal spacing by itself).
    """
    runs: list[Run] = []
    start = 0
    while start < len(x) - 1:
        d = x[start + 1] - x[start]
        end = start + 1
        while end < len(x) - 1 and math.isclose(x[end + 1] - x[end], d, rel_tol=1e-6):
            end += 1
        even = start + (end - start) // 2 * 2
        if even > start:
            runs.append(Run(start, even, True, d, _simpson(d, h[start : even + 1])))
        if end > even:
            runs.append(Run(even, end, False, d, d * (h[even] + h[end]) / 2))
        start = end
    return runs


def _simpson(d: float, h: Sequence[Any]) -> Any:
    return d / 3 * (h[0] + h[-1] + 4 * sum(h[1::2]) + 2 * sum(h[2:-1:2]))


def shape_margin(x: Sequence[float], h: Sequence[float], simpson: bool) -> float:
    """Standard uncertainty [m²] from the edge between the offsets, which nobody measured.

    Over each two strips, the parabola through the three offsets is held against the two straight lines. The
    differences are added up, or added in squares where they cancel, whichever is more; Simpson's rule is
    taken to be wrong by the whole of that, the trapezoidal rule by 1.64 of it (SIMPSON_SHARE says why).
    A last odd strip counts half.
    """
    gaps = [_bulge(x, h, i) for i in range(0, len(x) - 2, 2)]
    if len(x) % 2 == 0 and len(x) >= 4:
        gaps.append(_bulge(x, h, len(x) - 3) / 2)
    whole = max(abs(sum(gaps)), math.sqrt(sum(g * g for g in gaps)))
    return whole * (SIMPSON_SHARE if simpson else TRAPEZOID_SHARE)


def _bulge(x: Sequence[float], h: Sequence[float], i: int) -> float:
    """Area [m²] between the parabola through offsets i, i + 1, i + 2 and the lines that join them."""
    d, e = x[i + 1] - x[i], x[i + 2] - x[i + 1]
    bend = ((h[i + 2] - h[i + 1]) / e - (h[i + 1] - h[i]) / d) / (d + e)
    return -bend * (d**3 + e**3) / 6


def drawn_curve(
    x: Sequence[float], h: Sequence[float], simpson: bool, least: int = 96
) -> list[tuple[float, float]]:
    """Points (x, h) of the edge as the rule sees it: parabolas in Simpson's runs, straight lines elsewhere.

    A parabola that would dip below the baseline is drawn straight. least: points wanted over all strips.
    """
    points = [(x[0], h[0])]
    fine = max(4, math.ceil(least / max(1, len(x) - 1)))
    for run in simpson_runs(x, h):
        for i in range(run.first, run.last, 2 if run.simpson else 1):
            if not run.simpson:
                points.append((x[i + 1], h[i + 1]))
                continue
            d = run.spacing
            a, b = (h[i + 2] - 2 * h[i + 1] + h[i]) / (2 * d * d), (h[i + 2] - h[i]) / (2 * d)
            steps = [d * (k / fine - 1) for k in range(1, 2 * fine + 1)]
            curve = [(x[i + 1] + s, h[i + 1] + b * s + a * s * s) for s in steps]
            dips = any(y <= 0 for _, y in curve[:-1])
            straight = [(x[i + 1], h[i + 1]), (x[i + 2], h[i + 2])]
            points.extend(straight if dips or not simpson else [*curve[:-1], (x[i + 2], h[i + 2])])
    return points
