"""A triangle: three sides; base and height; or two sides and the angle between them."""

from __future__ import annotations

import math

from uncertainties import umath

from logic.field import Form, Values, Way
from logic.figure import Source, step
from logic.measure.asking import angle, deg, length, m, m2, with_margin
from logic.measure.geometry import perimeter
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.measure.triangles import SOURCE as THREE_SIDES
from logic.measure.triangles import heron, refuse_impossible, third_corner
from logic.units import nominal

BASE_HEIGHT = Source("Triangle: A = base × height ÷ 2. OpenStax, Contemporary Mathematics, Area")
TWO_SIDES = Source("Triangle: A = a b sin C ÷ 2. OpenStax, Algebra and Trigonometry, Non-right Triangles")


def trace(v: Values, ctx: Context) -> Trace:
    """Area [m²] from a, b, c (Heron), base and height, or a, b and the angle between them [degrees]."""
    if v.has("base"):
        return _from_height(v)
    if v.has("c"):
        return _from_sides(v)
    return _from_angle(v)


def _from_sides(v: Values) -> Trace:
    refuse_impossible(("a", "b", "c"), v.a, v.b, v.c)
    area, half = heron(v.a, v.b, v.c), (v.a + v.b + v.c) / 2
    corner = third_corner(nominal(v.a), nominal(v.b), nominal(v.c))
    polygon = ((0.0, 0.0), (nominal(v.a), 0.0), corner)
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=v.a + v.b + v.c,
        steps=(
            step(
                "half the way round s = ({a} + {b} + {c}) ÷ 2 = {s}", a=m(v.a), b=m(v.b), c=m(v.c), s=m(half)
            ),
            step("area = √(s × (s − a) × (s − b) × (s − c)) = {area}", area=m2(area)),
        ),
        source=THREE_SIDES,
        dimensions=(
            Dimension(polygon[0], polygon[1], m(v.a), "a"),
            Dimension(polygon[0], polygon[2], m(v.b), "b"),
            Dimension(polygon[1], polygon[2], m(v.c), "c"),
        ),
    )


def _from_height(v: Values) -> Trace:
    area = v.base * v.height / 2
    foot = v.foot if v.has("foot") else v.base / 2
    corners = ((0.0, 0.0), (v.base, 0.0), (foot, v.height))
    base, x, height = nominal(v.base), nominal(foot), nominal(v.height)
    polygon = ((0.0, 0.0), (base, 0.0), (x, height))
    said = "given" if v.has("foot") else "taken at the middle, where the way round is shortest"
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=perimeter(corners),
        steps=(step("area = base {b} × height {h} ÷ 2 = {a}", b=m(v.base), h=m(v.height), a=m2(area)),),
        source=BASE_HEIGHT,
        dimensions=(
            Dimension(polygon[0], polygon[1], m(v.base), "base"),
            Dimension((x, 0.0), polygon[2], m(v.height), "height"),
        ),
        perimeter_steps=(step(f"foot of the height {{x}} along the base ({said})", x=m(foot)),),
    )


def _from_angle(v: Values) -> Trace:
    turn = with_margin(v.angle, "angle_margin", "angle")
    radians = turn * (math.pi / 180)
    area = v.a * v.b * umath.sin(radians) / 2
    third = umath.sqrt(v.a * v.a + v.b * v.b - 2 * v.a * v.b * umath.cos(radians))
    b, theta = nominal(v.b), nominal(radians)
    polygon = ((0.0, 0.0), (nominal(v.a), 0.0), (b * math.cos(theta), b * math.sin(theta)))
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=v.a + v.b + third,
        steps=(
            step(
                "area = a {a} × b {b} × sin {angle} ÷ 2 = {area}",
                a=m(v.a),
                b=m(v.b),
                angle=deg(turn),
                area=m2(area),
            ),
        ),
        source=TWO_SIDES,
        dimensions=(
            Dimension(polygon[0], polygon[1], m(v.a), "a"),
            Dimension(polygon[0], polygon[2], m(v.b), "b"),
        ),
        perimeter_steps=(step("third side, by the law of cosines = {c}", c=m(third)),),
    )


METHOD = Method(
    key="triangle",
    name="Triangle",
    form=Form(
        (
            length("a", "Side a", help="Any side first."),
            length("b", "Side b", help="The side that meets a at its start."),
            length("c", "Side c", help="The side that closes the triangle."),
            length("base", "Base", help="Any side."),
            length("height", "Height", help="From the far corner to the base, square to it."),
            length(
                "foot",
                "Foot of the height",
                required=False,
                above=None,
                least=-1000,
                usual=None,
                help="Where the height meets the base, from the base's left end. "
                "Only for the way round; leave out if not taped.",
            ),
            angle("angle", "Angle between", most=180, usual=(10, 170), help="The angle where a and b meet."),
        ),
        (
            Way("sides", "Three sides", ("a", "b", "c")),
            Way("height", "Base and height", ("base", "height", "foot")),
            Way("angle", "Two sides and the angle", ("a", "b", "angle")),
        ),
    ),
    trace=trace,
    help="Tape the three sides: nothing else is needed and nothing has to be square.",
    order=40,
)
