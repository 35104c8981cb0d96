"""How wrong offsets and radii are on shapes whose area is known, and that the ± told is of that size."""

from __future__ import annotations

import math

import pytest

from logic.measure.radii import between_margin
from logic.measure.rules import drawn_curve, shape_margin, simpson_runs, trapezoid

OVAL = math.pi * 6 * 4  # 12 × 8 m


def oval_widths(d: float) -> tuple[list[float], list[float]]:
    x = [i * d for i in range(round(12 / d) + 1)]
    return x, [8 * math.sqrt(max(0.0, 1 - ((s - 6) / 6) ** 2)) for s in x]


@pytest.mark.parametrize(
    ("d", "by_lines", "by_curves"), [(2.0, -7.1, -2.9), (1.0, -2.5, -1.0), (0.5, -0.9, -0.4)]
)
def test_offsets_across_an_oval(d: float, by_lines: float, by_curves: float) -> None:
    """Errors in per cent worked out apart; the ± told covers them, and not wastefully."""
    x, h = oval_widths(d)
    lines, curves = trapezoid(x, h) / OVAL - 1, sum(run.area for run in simpson_runs(x, h)) / OVAL - 1
    assert (100 * lines, 100 * curves) == pytest.approx((by_lines, by_curves), abs=0.06)
    assert shape_margin(x, h, simpson=False) / OVAL == pytest.approx(-lines, rel=0.25)
    assert -curves < shape_margin(x, h, simpson=True) / OVAL < -2 * curves


def test_nothing_is_told_where_the_edge_is_straight() -> None:
    assert shape_margin([0, 1, 3, 4, 6], [1, 2, 4, 5, 7], simpson=True) == pytest.approx(0, abs=1e-12)


def test_differences_that_cancel_are_told_all_the_same() -> None:
    """A bay as large as a bulge: by their sum the rules agree, by their squares they do not."""
    x, h = [float(i) for i in range(5)], [4.0, 5.0, 4.0, 3.0, 4.0]
    assert trapezoid(x, h) == sum(run.area for run in simpson_runs(x, h))
    each = 1 / 3  # between parabola and lines over two strips of 1 m that bend by 1 m
    assert shape_margin(x, h, simpson=True) == pytest.approx(each * math.sqrt(2), rel=0.01)


@pytest.mark.parametrize(
    ("length", "width", "x", "y", "low"),
    [(10, 8, 0, 0, 0.6), (12, 8, 1, 0.5, 4.2), (12, 6, 0, 0, 5.8), (16, 6, 0, 0, 11.1)],
)
def test_the_published_rule_for_radii_is_low_and_ours_is_not(
    length: float, width: float, x: float, y: float, low: float
) -> None:
    """36 radii of an ellipse from a point off its middle by (x, y): per cent worked out apart."""
    r = []
    for i in range(36):
        c, s = math.cos(math.pi * i / 18), math.sin(math.pi * i / 18)
        p = (2 * c / length) ** 2 + (2 * s / width) ** 2
        q = x * c * 4 / length**2 + y * s * 4 / width**2
        k = (2 * x / length) ** 2 + (2 * y / width) ** 2 - 1
        r.append((-q + math.sqrt(q * q - p * k)) / p)
    truth = math.pi * length * width / 4
    assert math.pi * (sum(r) / 36) ** 2 / truth - 1 == pytest.approx(-low / 100, abs=6e-4)
    ours = math.pi * sum(a * a for a in r) / 36
    assert ours == pytest.approx(truth, rel=3e-4)
    assert abs(ours - truth) < between_margin(r)


def test_a_circle_from_its_middle_has_nothing_between_its_radii() -> None:
    assert between_margin([5.0] * 12) == 0


def test_an_edge_that_would_dip_below_the_tape_is_drawn_straight() -> None:
    x, h = [0.0, 1.0, 2.0], [9.0, 0.5, 1.0]
    assert drawn_curve(x, h, simpson=True) == [(0, 9), (1, 0.5), (2, 1)]
    assert len(drawn_curve(x, [1.0, 2.0, 1.0], simpson=True)) > 90
