"""A sector: a slice of a circle, from its radius and the angle at the point."""

from __future__ import annotations

import math

from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import angle, deg, length, m, m2, with_margin
from logic.measure.curves import arc
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Sector: A = θ r² ÷ 2. OpenStax, Algebra and Trigonometry, Angles")


def trace(v: Values, ctx: Context) -> Trace:
    """Area π r² × angle ÷ 360 [m²] of a slice with radius r [m] and angle [degrees]."""
    whole = nominal(v.angle) == 360
    turn = v.angle if whole else with_margin(v.angle, "angle_margin", "angle")
    r, theta = nominal(v.radius), math.radians(nominal(turn))
    circle = math.pi * v.radius * v.radius
    area = circle * turn / 360
    bow = v.radius * turn * (math.pi / 180)
    curve = arc((0.0, 0.0), (r, r), 0.0, theta)
    return Trace(
        polygon=curve if whole else ((0.0, 0.0), *curve),
        area=area,
        perimeter=bow if whole else 2 * v.radius + bow,
        steps=(
            step("whole circle = π × radius {r} squared = {c}", r=m(v.radius), c=m2(circle)),
            step("area = {c} × {t} ÷ 360° = {a}", c=m2(circle), t=deg(turn), a=m2(area)),
        ),
        source=SOURCE,
        dimensions=(Dimension((0.0, 0.0), (r, 0.0), m(v.radius), "radius"),),
        perimeter_steps=(step("curved edge = {b}", b=m(bow)),),
    )


METHOD = Method(
    key="sector",
    name="Sector (slice of a circle)",
    form=Form(
        (
            length("radius", "Radius", "radius", help="From the point of the slice to the curved edge."),
            angle("angle", "Angle at the point", help="90° is a square corner. A half circle has 180°."),
        )
    ),
    trace=trace,
    help="A slice with its point at the middle of the circle: a corner bed, a quarter or half circle.",
    order=70,
)
