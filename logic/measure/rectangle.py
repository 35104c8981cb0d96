"""A rectangle: length × width."""

from __future__ import annotations

from logic.field import Field, Form, Values
from logic.figure import Source, step
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal, quantity

SOURCE = Source("Clemson University Extension, HGIC 1220, Measuring the Area of a Home Lawn: A = L × W")


def trace(v: Values, ctx: Context) -> Trace:
    """Area length × width [m²]; assumes square corners (tape both diagonals: equal when square)."""
    length, width = v.length, v.width
    area = length * width
    x, y = nominal(length), nominal(width)
    polygon = ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=2 * (length + width),
        steps=(
            step(
                "length {l} × width {w} = {a}",
                l=quantity(length, "m"),
                w=quantity(width, "m"),
                a=quantity(area, "m^2"),
            ),
        ),
        source=SOURCE,
        dimensions=(
            Dimension(polygon[0], polygon[1], quantity(length, "m"), "length"),
            Dimension(polygon[1], polygon[2], quantity(width, "m"), "width"),
        ),
    )


METHOD = Method(
    key="rectangle",
    name="Rectangle",
    form=Form(
        (
            Field("length", "Length", "m", above=0, most=1000, usual=(2, 60), paces=True, measured=True),
            Field("width", "Width", "m", above=0, most=1000, usual=(2, 60), paces=True, measured=True),
        )
    ),
    trace=trace,
    help="Tape or pace two sides. In doubt, tape both diagonals: they are equal when the corners are square.",
    order=10,
)
