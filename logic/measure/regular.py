"""A regular polygon: all sides and corners the same, from one length."""

from __future__ import annotations

import math
from collections.abc import Callable

from logic.field import Field, Form, Values, Way
from logic.figure import Source, step
from logic.measure.asking import length, m, m2, usual
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal, quantity

SOURCE = Source("Regular polygon: A = perimeter × apothem ÷ 2. OpenStax, Contemporary Mathematics, Area")

# From what was taped to the side, as a factor; t is half the angle that one side takes up at the middle.
_SIDE: dict[str, tuple[str, Callable[[float], float]]] = {
    "side": ("one side", lambda t: 1.0),
    "radius": ("middle to a corner", lambda t: 2 * math.sin(t)),
    "apothem": ("middle to a side", lambda t: 2 * math.tan(t)),
}


def trace(v: Values, ctx: Context) -> Trace:
    """Area perimeter × apothem ÷ 2 [m²] of a polygon with `count` equal sides."""
    count = int(v.count)
    key = next(k for k in _SIDE if v.has(k))
    name, factor = _SIDE[key]
    t = math.pi / count
    side = v[key] * factor(t)
    apothem = side / (2 * math.tan(t))
    area = count * side * apothem / 2
    r = nominal(side) / (2 * math.sin(t))
    low = -math.pi / 2 - t
    polygon = tuple((r * math.cos(low + 2 * t * i), r * math.sin(low + 2 * t * i)) for i in range(count))
    drawn = {
        "side": (polygon[0], polygon[1]),
        "radius": ((0.0, 0.0), polygon[1]),
        "apothem": ((0.0, 0.0), (0.0, -nominal(apothem))),
    }
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=count * side,
        steps=(
            step(
                f"from {name} {{x}}: side {{s}}, middle to side {{p}}", x=m(v[key]), s=m(side), p=m(apothem)
            ),
            step(
                "area = {n} sides × {s} × {p} ÷ 2 = {a}",
                n=quantity(count, ""),
                s=m(side),
                p=m(apothem),
                a=m2(area),
            ),
        ),
        source=SOURCE,
        dimensions=(Dimension(*drawn[key], m(v[key]), key),),
    )


METHOD = Method(
    key="regular",
    name="Regular polygon",
    form=Form(
        (
            Field("count", "Number of sides", least=3, most=60, whole=True, usual=usual("sides")),
            length("side", "One side", "width", help="All sides are the same: tape the clearest."),
            length("radius", "Middle to a corner", "radius", help="From the middle to any corner."),
            length("apothem", "Middle to a side", "radius", help="From the middle, square to any side."),
        ),
        (
            Way("side", "One side", ("side",)),
            Way("radius", "Middle to a corner", ("radius",)),
            Way("apothem", "Middle to a side", ("apothem",)),
        ),
    ),
    trace=trace,
    help="A hexagon, an octagon: all sides and all corners alike.",
    order=88,
)
