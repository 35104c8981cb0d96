"""A trapezium: two parallel sides and the distance between them."""

from __future__ import annotations

from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.geometry import nominal_polygon, perimeter
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Trapezium: A = h (a + b) ÷ 2. OpenStax, Prealgebra 2e, Trapezoids")


def trace(v: Values, ctx: Context) -> Trace:
    """Area height × mean of the parallel sides [m²]. start: how far along a the side b begins [m]."""
    start = v.start if v.has("start") else (v.a - v.b) / 2
    said = "as taped" if v.has("start") else "taken as the same at both ends"
    area = v.height * (v.a + v.b) / 2
    corners = ((0.0, 0.0), (v.a, 0.0), (start + v.b, v.height), (start, v.height))
    polygon = nominal_polygon(corners)
    middle = (nominal(start) + nominal(v.b) / 2, nominal(v.height))
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=perimeter(corners),
        steps=(
            step(
                "mean of the parallel sides = ({a} + {b}) ÷ 2 = {w}", a=m(v.a), b=m(v.b), w=m((v.a + v.b) / 2)
            ),
            step(
                "area = {w} × distance between them {h} = {area}",
                w=m((v.a + v.b) / 2),
                h=m(v.height),
                area=m2(area),
            ),
        ),
        source=SOURCE,
        dimensions=(
            Dimension(polygon[0], polygon[1], m(v.a), "a"),
            Dimension(polygon[3], polygon[2], m(v.b), "b"),
            Dimension((middle[0], 0.0), middle, m(v.height), "height"),
        ),
        perimeter_steps=(step(f"b begins {{s}} along a ({said})", s=m(start)),),
    )


METHOD = Method(
    key="trapezium",
    name="Trapezium",
    form=Form(
        (
            length("a", "Parallel side a", help="One of the two sides that run the same way."),
            length("b", "Parallel side b", help="The side opposite."),
            length(
                "height",
                "Distance between them",
                help="Square across from one to the other, not along a slanting end.",
            ),
            length(
                "start",
                "Start of b",
                required=False,
                above=None,
                least=-1000,
                usual=None,
                help="How far along a the side b begins. Only for the way round; leave out if not taped.",
            ),
        )
    ),
    trace=trace,
    help="For ground with two edges that run the same way: tape both, and square across between them.",
    order=50,
)
