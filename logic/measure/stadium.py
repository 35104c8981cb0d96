"""A stadium: a rectangle with a half circle at each end, like many tees."""

from __future__ import annotations

import math

from logic.errors import ImpossibleShape
from logic.field import Form, Values, Way
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.curves import arc
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Rectangle and two half circles: OpenStax, Prealgebra 2e, Irregular Figures")


def trace(v: Values, ctx: Context) -> Trace:
    """Area s W + π W² ÷ 4 [m²]; s: length of the straight edges [m], or overall length L = s + W."""
    straight = v.straight if v.has("straight") else v.length - v.width
    if nominal(straight) <= 0:
        raise ImpossibleShape("The whole length must be more than the width.", "length")
    box, ends = straight * v.width, math.pi * v.width * v.width / 4
    s, r = nominal(straight), nominal(v.width) / 2
    right = arc((s / 2, 0.0), (r, r), -math.pi / 2, math.pi / 2)
    left = arc((-s / 2, 0.0), (r, r), math.pi / 2, 3 * math.pi / 2)
    if v.has("straight"):
        steps, along = [], Dimension((-s / 2, -r), (s / 2, -r), m(straight), "straight")
    else:
        steps = [
            step("straight edge = length {l} − width {w} = {s}", l=m(v.length), w=m(v.width), s=m(straight))
        ]
        along = Dimension((-s / 2 - r, 0.0), (s / 2 + r, 0.0), m(v.length), "length")
    return Trace(
        polygon=right + left,
        area=box + ends,
        perimeter=2 * straight + math.pi * v.width,
        steps=(
            *steps,
            step("rectangle {s} × {w} = {box}", s=m(straight), w=m(v.width), box=m2(box)),
            step("two half circles = π ÷ 4 × {w} squared = {ends}", w=m(v.width), ends=m2(ends)),
            step("area = {box} + {ends} = {a}", box=m2(box), ends=m2(ends), a=m2(box + ends)),
        ),
        source=SOURCE,
        dimensions=(along, Dimension((0.0, -r), (0.0, r), m(v.width), "width")),
    )


METHOD = Method(
    key="stadium",
    name="Round-ended strip",
    form=Form(
        (
            length("length", "Whole length", help="From the tip of one round end to the tip of the other."),
            length("straight", "Straight edge", help="Only the straight part of one long edge."),
            length("width", "Width", help="Square across between the straight edges."),
        ),
        (
            Way("length", "Whole length", ("length", "width")),
            Way("straight", "Straight edge", ("straight", "width")),
        ),
    ),
    trace=trace,
    help="A strip with a half circle at each end, like many tees.",
    order=85,
)
