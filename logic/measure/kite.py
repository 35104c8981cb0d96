"""A kite or rhombus: its two diagonals, which cross at right angles."""

from __future__ import annotations

from logic.errors import ImpossibleShape
from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.geometry import nominal_polygon, perimeter
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Kite: A = product of the diagonals ÷ 2. OpenStax, Contemporary Mathematics, Area")


def trace(v: Values, ctx: Context) -> Trace:
    """Area long × cross ÷ 2 [m²]. crossing: from one tip of the long diagonal to where they cross [m]."""
    crossing = v.crossing if v.has("crossing") else v.long / 2
    if nominal(crossing) >= nominal(v.long):
        raise ImpossibleShape("The diagonals must cross before the end of the long one.", "crossing")
    half, area = v.cross / 2, v.long * v.cross / 2
    corners = ((0.0, 0.0), (crossing, -half), (v.long, 0.0), (crossing, half))
    polygon = nominal_polygon(corners)
    said = "as taped" if v.has("crossing") else "taken at the middle"
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=perimeter(corners),
        steps=(step("diagonals {p} × {q} ÷ 2 = {a}", p=m(v.long), q=m(v.cross), a=m2(area)),),
        source=SOURCE,
        dimensions=(
            Dimension(polygon[0], polygon[2], m(v.long), "long"),
            Dimension(polygon[1], polygon[3], m(v.cross), "cross"),
        ),
        perimeter_steps=(step(f"the diagonals cross {{x}} along the long one ({said})", x=m(crossing)),),
    )


METHOD = Method(
    key="kite",
    name="Kite",
    form=Form(
        (
            length("long", "Long diagonal", help="From tip to tip, along the line that halves the kite."),
            length("cross", "Cross diagonal", help="From side corner to side corner; it must cross square."),
            length(
                "crossing",
                "Tip to crossing",
                required=False,
                help="From one tip to where the two cross. Only for the way round; leave out if not taped.",
            ),
        )
    ),
    trace=trace,
    help="Two diagonals that cross at right angles. If they don't, use Four sides and a diagonal.",
    order=65,
)
