"""A rectangle: length × width."""

from __future__ import annotations

from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Clemson University Extension, HGIC 1220, Measuring the Area of a Home Lawn: A = L × W")


def trace(v: Values, ctx: Context) -> Trace:
    """Area length × width [m²]; assumes square corners (tape both diagonals: equal when square)."""
    area = v.length * v.width
    x, y = nominal(v.length), nominal(v.width)
    polygon = ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=2 * (v.length + v.width),
        steps=(step("length {l} × width {w} = {a}", l=m(v.length), w=m(v.width), a=m2(area)),),
        source=SOURCE,
        dimensions=(
            Dimension(polygon[0], polygon[1], m(v.length), "length"),
            Dimension(polygon[1], polygon[2], m(v.width), "width"),
        ),
    )


METHOD = Method(
    key="rectangle",
    name="Rectangle",
    form=Form(
        (
            length("length", "Length", help="Along the longer edge."),
            length("width", "Width", help="Square to it, edge to edge."),
        )
    ),
    trace=trace,
    help="Tape or pace two sides. In doubt, tape both diagonals: they are equal when the corners are square.",
    order=10,
)
