"""A ring: a round collar or the turf round a bed or bunker, from its two diameters."""

from __future__ import annotations

import math

from logic.errors import ImpossibleShape
from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.curves import arc
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Ring: A = π (R² − r²). Mathematics exercise collection, annulus (r 20, R 30)")


def trace(v: Values, ctx: Context) -> Trace:
    """Area π (D² − d²) ÷ 4 [m²] of a ring with outer and inner diameters D, d [m]."""
    if nominal(v.inner) >= nominal(v.outer):
        raise ImpossibleShape("The inner diameter must be less than the outer.", "inner")
    whole, hole = math.pi * v.outer * v.outer / 4, math.pi * v.inner * v.inner / 4
    big, small = nominal(v.outer) / 2, nominal(v.inner) / 2
    return Trace(
        polygon=arc((0.0, 0.0), (big, big)),
        area=whole - hole,
        perimeter=math.pi * v.outer,
        steps=(
            step("whole circle = π ÷ 4 × outer {d} squared = {w}", d=m(v.outer), w=m2(whole)),
            step("hole = π ÷ 4 × inner {d} squared = {h}", d=m(v.inner), h=m2(hole)),
            step("area = {w} − {h} = {a}", w=m2(whole), h=m2(hole), a=m2(whole - hole)),
        ),
        source=SOURCE,
        dimensions=(
            Dimension((-big, 0.0), (big, 0.0), m(v.outer), "outer"),
            Dimension((0.0, -small), (0.0, small), m(v.inner), "inner"),
        ),
        holes=(arc((0.0, 0.0), (small, small)),),
        edge=math.pi * (v.outer + v.inner),
    )


METHOD = Method(
    key="ring",
    name="Ring (collar)",
    form=Form(
        (
            length("outer", "Outer diameter", help="Straight across the whole, through the middle."),
            length("inner", "Inner diameter", "width", help="Straight across the hole, through the middle."),
        )
    ),
    trace=trace,
    help="Turf round something round: a collar, the surround of a bed or a bunker.",
    order=80,
)
