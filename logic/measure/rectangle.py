"""A rectangle: length × width."""

from __future__ import annotations

from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.measure.ties import checked
from logic.units import nominal

SOURCE = Source("Clemson University Extension, HGIC 1220, Measuring the Area of a Home Lawn: A = L × W")

NOT_SQUARE = "If it stays so, the corners are not square: use Four sides and a diagonal."


def trace(v: Values, ctx: Context) -> Trace:
    """Area length × width [m²]; assumes square corners, which a taped diagonal [m] shows."""
    area = v.length * v.width
    x, y = nominal(v.length), nominal(v.width)
    check, warnings = checked((0.0, 0.0), (v.length, v.width), v.diagonal, "of the diagonal")
    polygon = ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=2 * (v.length + v.width),
        steps=(step("length {l} × width {w} = {a}", l=m(v.length), w=m(v.width), a=m2(area)), *check),
        source=SOURCE,
        warnings=(*warnings, *(NOT_SQUARE for _ in warnings)),
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
            length(
                "diagonal",
                "Diagonal",
                required=False,
                help="The check, corner to corner: it shows whether the corners are square.",
            ),
        )
    ),
    trace=trace,
    help="Tape or pace two sides. In doubt, tape a diagonal too: it shows whether the corners are square.",
    order=10,
)
