"""An L: a rectangle with a corner left out, or two arms."""

from __future__ import annotations

from logic.errors import ImpossibleShape
from logic.field import Form, Values, Way
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.geometry import nominal_polygon, perimeter
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Figures added and subtracted: OpenStax, Prealgebra 2e, Irregular Figures")


def trace(v: Values, ctx: Context) -> Trace:
    """Area [m²] of arm + leg (both ways of splitting give the same), or of the whole less its corner."""
    return _arms(v) if v.has("arm_length") else _less_corner(v)


def _less_corner(v: Values) -> Trace:
    for corner, whole, name in (("cut_length", "length", "length"), ("cut_width", "width", "width")):
        if nominal(v[corner]) >= nominal(v[whole]):
            raise ImpossibleShape(f"The corner left out must be less than the whole {name}.", corner)
    whole, corner = v.length * v.width, v.cut_length * v.cut_width
    x, y = v.length - v.cut_length, v.width - v.cut_width
    corners = ((0.0, 0.0), (v.length, 0.0), (v.length, y), (x, y), (x, v.width), (0.0, v.width))
    p = nominal_polygon(corners)
    return Trace(
        polygon=p,
        area=whole - corner,
        perimeter=2 * (v.length + v.width),
        steps=(
            step("whole rectangle {l} × {w} = {a}", l=m(v.length), w=m(v.width), a=m2(whole)),
            step("corner left out {l} × {w} = {a}", l=m(v.cut_length), w=m(v.cut_width), a=m2(corner)),
            step("area = {w} − {c} = {a}", w=m2(whole), c=m2(corner), a=m2(whole - corner)),
        ),
        source=SOURCE,
        dimensions=(
            Dimension(p[0], p[1], m(v.length), "length"),
            Dimension(p[0], p[5], m(v.width), "width"),
            Dimension(p[3], p[2], m(v.cut_length), "cut_length"),
            Dimension(p[3], p[4], m(v.cut_width), "cut_width"),
        ),
    )


def _arms(v: Values) -> Trace:
    if nominal(v.leg_width) >= nominal(v.arm_length):
        raise ImpossibleShape("The leg must be narrower than the arm is long.", "leg_width")
    arm, leg = v.arm_length * v.arm_width, v.leg_length * v.leg_width
    top = v.arm_width + v.leg_length
    corners = (
        (0.0, 0.0),
        (v.arm_length, 0.0),
        (v.arm_length, v.arm_width),
        (v.leg_width, v.arm_width),
        (v.leg_width, top),
        (0.0, top),
    )
    p = nominal_polygon(corners)
    return Trace(
        polygon=p,
        area=arm + leg,
        perimeter=perimeter(corners),
        steps=(
            step("arm {l} × {w} = {a}", l=m(v.arm_length), w=m(v.arm_width), a=m2(arm)),
            step("leg beyond the arm {l} × {w} = {a}", l=m(v.leg_length), w=m(v.leg_width), a=m2(leg)),
            step("area = {arm} + {leg} = {a}", arm=m2(arm), leg=m2(leg), a=m2(arm + leg)),
        ),
        source=SOURCE,
        dimensions=(
            Dimension(p[0], p[1], m(v.arm_length), "arm_length"),
            Dimension(p[1], p[2], m(v.arm_width), "arm_width"),
            Dimension(p[3], p[4], m(v.leg_length), "leg_length"),
            Dimension(p[5], p[4], m(v.leg_width), "leg_width"),
        ),
    )


METHOD = Method(
    key="l_shape",
    name="L shape",
    form=Form(
        (
            length("length", "Whole length", help="Along the longer outside edge."),
            length("width", "Whole width", help="Along the other outside edge."),
            length(
                "cut_length", "Length of the corner left out", "width", help="In the direction of the length."
            ),
            length(
                "cut_width", "Width of the corner left out", "width", help="In the direction of the width."
            ),
            length("arm_length", "Arm length", help="The whole outside edge of one arm, corner included."),
            length("arm_width", "Arm width", "width", help="Across that arm."),
            length("leg_length", "Leg length", help="From the inside corner to the leg's far end."),
            length("leg_width", "Leg width", "width", help="Across the leg."),
        ),
        (
            Way("corner", "Whole, less a corner", ("length", "width", "cut_length", "cut_width")),
            Way("arms", "Two arms", ("arm_length", "arm_width", "leg_length", "leg_width")),
        ),
    ),
    trace=trace,
    help="Square corners throughout. Anything else: Compound, or Corners.",
    order=15,
)
