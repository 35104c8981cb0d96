"""A parallelogram: its base and the distance across, square to it."""

from __future__ import annotations

from uncertainties import umath

from logic.errors import ImpossibleShape
from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.geometry import nominal_polygon
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Parallelogram: A = b h. OpenStax, Contemporary Mathematics, Area")


def trace(v: Values, ctx: Context) -> Trace:
    """Area base × height [m²]; the slanting side, if taped, gives the lean and the perimeter."""
    side = v.side if v.has("side") else v.height
    if v.has("side") and nominal(side) < nominal(v.height):
        raise ImpossibleShape("The slanting side can't be shorter than the distance across.", "side")
    slants = nominal(side) > nominal(v.height)
    lean = umath.sqrt(side * side - v.height * v.height) if slants else 0.0
    area = v.base * v.height
    polygon = nominal_polygon(((0.0, 0.0), (v.base, 0.0), (v.base + lean, v.height), (lean, v.height)))
    inside = nominal(lean) if nominal(lean) < nominal(v.base) else nominal(v.base) / 2
    said = "as taped" if v.has("side") else "not taped, so drawn upright"
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=2 * (v.base + side),
        steps=(step("base {b} × distance across {h} = {a}", b=m(v.base), h=m(v.height), a=m2(area)),),
        source=SOURCE,
        dimensions=(
            Dimension(polygon[0], polygon[1], m(v.base), "base"),
            Dimension((inside, 0.0), (inside, nominal(v.height)), m(v.height), "height"),
        ),
        perimeter_steps=(step(f"slanting side {{s}} ({said})", s=m(side)),),
    )


METHOD = Method(
    key="parallelogram",
    name="Parallelogram",
    form=Form(
        (
            length("base", "Base", help="One of the two long edges."),
            length("height", "Distance across", help="Square across from the base to the edge opposite."),
            length(
                "side",
                "Slanting side",
                required=False,
                help="Along the slanting edge. Only for the way round; leave out if not taped.",
            ),
        )
    ),
    trace=trace,
    help="A leaning rectangle: opposite edges run the same way. Measure across square to the base.",
    order=55,
)
