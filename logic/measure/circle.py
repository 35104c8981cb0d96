"""A circle: from its diameter, or from the distance once round it."""

from __future__ import annotations

import math

from logic.field import Form, Values, Way
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.curves import arc
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source(
    "Circle: A = π d² ÷ 4, d = girth ÷ π. OpenStax, Contemporary Mathematics, Area; Prealgebra 2e, Circles"
)


def trace(v: Values, ctx: Context) -> Trace:
    """Area π d²/4 [m²] of a circle of diameter d [m], or of girth C = π d [m]."""
    if v.has("diameter"):
        diameter, girth, key = v.diameter, math.pi * v.diameter, "diameter"
        steps = [step("radius = diameter {d} ÷ 2 = {r}", d=m(diameter), r=m(diameter / 2))]
    else:
        diameter, girth, key = v.circumference / math.pi, v.circumference, "circumference"
        steps = [
            step("diameter = distance round {c} ÷ π = {d}", c=m(girth), d=m(diameter)),
            step("radius = {d} ÷ 2 = {r}", d=m(diameter), r=m(diameter / 2)),
        ]
    area = math.pi * diameter * diameter / 4
    r = nominal(diameter) / 2
    return Trace(
        polygon=arc((0.0, 0.0), (r, r)),
        area=area,
        perimeter=girth,
        steps=(*steps, step("area = π × radius {r} squared = {a}", r=m(diameter / 2), a=m2(area))),
        source=SOURCE,
        dimensions=(Dimension((-r, 0.0), (r, 0.0), m(diameter), key),),
    )


METHOD = Method(
    key="circle",
    name="Circle",
    form=Form(
        (
            length(
                "diameter", "Diameter", help="Straight across through the middle: the longest line there is."
            ),
            length(
                "circumference", "Distance round", "girth", help="Once round the edge, back to the start."
            ),
        ),
        (
            Way("diameter", "Across", ("diameter",)),
            Way("circumference", "Round the edge", ("circumference",)),
        ),
    ),
    trace=trace,
    help="Tape or pace straight across through the middle, or once round the edge. "
    "Measure across a second way too: if the two differ by more than a hand, use Ellipse.",
    order=20,
)
