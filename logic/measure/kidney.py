"""A kidney: its length and three widths.

The widths are taken where a rounded outline gives most away: in the middle and 15 % of the length in
from each end. Weighted so that the area is exact for every outline whose width across its length is that
of an ellipse times any even change from end to end (1, x, x²), which bent ovals very nearly are.
"""

from __future__ import annotations

import math

from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2, percent, setting
from logic.measure.curves import TURN
from logic.measure.geometry import nominal_polygon, perimeter
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal, plus_minus

SOURCE = Source(
    "Kidney by three widths (quadrature for rounded ends, worked out here); "
    "held against 400 drawn kidneys in the tests",
    "derived",
)
IN_FROM_END = 0.15
_X = 1 - 2 * IN_FROM_END  # of the half length from the middle
_ROUND = math.sqrt(1 - _X * _X)
END_WEIGHT = math.pi / 32 / (_X * _X * _ROUND)
MIDDLE_WEIGHT = math.pi / 4 - 2 * END_WEIGHT * _ROUND


def trace(v: Values, ctx: Context) -> Trace:
    """Area L (0.385 M + 0.281 (A + B)) [m²]; L: length, M: middle width, A, B: the widths near the ends [m].

    The area of a drawn kidney comes out within 2 %, mostly within 0.5 %; the setting kidney_shape (1 %)
    also covers a length or width not quite square.
    """
    shape = setting("kidney_shape")
    sum_ends = v.width_a + v.width_b
    plain = v.length * (MIDDLE_WEIGHT * v.middle + END_WEIGHT * sum_ends)
    area = plain + plus_minus(0.0, shape * nominal(plain), "shape")
    thumb = 0.45 * v.length * sum_ends
    polygon = _drawn(nominal(v.length), nominal(v.width_a), nominal(v.middle), nominal(v.width_b))
    round_ = perimeter(polygon)
    relative = setting("kidney_perimeter")
    half, inner = nominal(v.length) / 2, nominal(v.length) * _X / 2
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=plus_minus(round_, relative * round_, "shape"),
        steps=(
            step(
                "area = length {l} × (0.385 × middle {m} + 0.281 × ({a} + {b})) = {area}",
                l=m(v.length),
                m=m(v.middle),
                a=m(v.width_a),
                b=m(v.width_b),
                area=m2(area),
            ),
            step("kidneys are not all alike: {s} added to the ± for that", s=percent(shape)),
            step("the rule of thumb 0.45 × (a + b) × length reads too high: {t}", t=m2(thumb)),
        ),
        source=SOURCE,
        dimensions=(
            Dimension((-half, 0.0), (half, 0.0), m(v.length), "length"),
            _across(polygon, -inner, v.width_a, "width_a"),
            _across(polygon, 0.0, v.middle, "middle"),
            _across(polygon, inner, v.width_b, "width_b"),
        ),
        perimeter_steps=(
            step("the bend is drawn, not taped, so the way round is rough: ± {r}", r=percent(relative)),
        ),
    )


def _drawn(length: float, a: float, middle: float, b: float) -> tuple[tuple[float, float], ...]:
    """Corners of a kidney with these widths, bent so that its hollow side is hollow. Encloses the area."""
    slope = (b - a) / (2 * _X * _ROUND)
    curve = ((a + b) / (2 * _ROUND) - middle) / (_X * _X)
    bow = max(0.1 * middle, (a + b) / 2 - middle)

    def at(i: int) -> tuple[float, float, float]:
        x = -math.cos(math.pi * i / half)
        width = math.sqrt(max(0.0, 1 - x * x)) * (middle + slope * x + curve * x * x)
        return x * length / 2, bow * (1 - x * x), max(0.0, width) / 2

    half = TURN // 2
    spots = [at(i) for i in range(half + 1)]
    lower = [(x, c - w) for x, c, w in spots]
    upper = [(x, c + w) for x, c, w in spots[1:-1]]
    return nominal_polygon([*lower, *reversed(upper)])


def _across(polygon: tuple[tuple[float, float], ...], x: float, value: object, key: str) -> Dimension:
    column = sorted(polygon, key=lambda p: abs(p[0] - x))[:2]
    low, high = sorted(p[1] for p in column)
    return Dimension((x, low), (x, high), m(value), key)


METHOD = Method(
    key="kidney",
    name="Kidney",
    form=Form(
        (
            length("length", "Length", help="Straight from end to end, between the two farthest points."),
            length(
                "width_a",
                "Width near one end",
                help="15 % of the length in from the end (1.5 m in 10 m), square to the length, "
                "from edge to edge.",
            ),
            length(
                "middle", "Width in the middle", help="Halfway along, square to the length, edge to edge."
            ),
            length("width_b", "Width near the other end", help="Again 15 % of the length in from the end."),
        )
    ),
    trace=trace,
    help="Stretch the tape from end to end and leave it there. Measure three widths square to it, at 15 %, "
    "half and 85 % of its length. Quick, and good to about 1 %; Offsets every metre is better still.",
    group="irregular",
    order=105,
)
