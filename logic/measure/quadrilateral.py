"""Four sides: taped with one diagonal, or a diagonal with the two perpendiculars to it."""

from __future__ import annotations

from logic.errors import ImpossibleShape
from logic.field import Form, Values, Way
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.geometry import crosses_itself, nominal_polygon, perimeter
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.measure.ties import checked, fan
from logic.measure.triangles import heron
from logic.units import nominal

SIDES = Source("Four sides and a diagonal as two triangles (Heron's formula): student survey report")
PERPENDICULARS = Source(
    "Diagonal × mean of the two perpendiculars: F. A. Griffiths, The Artillerist's Manual, p. 370"
)


def trace(v: Values, ctx: Context) -> Trace:
    """Area [m²] of ABCD from its sides and AC as two triangles, or AC × mean perpendicular."""
    return _perpendiculars(v) if v.has("diagonal") else _sides(v)


def _sides(v: Values) -> Trace:
    corners = fan((v.ab, v.bc, v.cd, v.da), (v.ac,), ("ab", "bc", "cd", "da"), ("ac",))
    first, second = heron(v.ab, v.bc, v.ac), heron(v.ac, v.cd, v.da)
    polygon = nominal_polygon(corners)
    check_steps, warnings = checked(corners[1], corners[3], v.bd, "B to D")
    return Trace(
        polygon=polygon,
        area=first + second,
        perimeter=v.ab + v.bc + v.cd + v.da,
        steps=(
            step("triangle A B C from {a}, {b}, {c} = {t}", a=m(v.ab), b=m(v.bc), c=m(v.ac), t=m2(first)),
            step("triangle A C D from {a}, {b}, {c} = {t}", a=m(v.ac), b=m(v.cd), c=m(v.da), t=m2(second)),
            step("area = {p} + {q} = {a}", p=m2(first), q=m2(second), a=m2(first + second)),
            *check_steps,
        ),
        source=SIDES,
        dimensions=(
            Dimension(polygon[0], polygon[1], m(v.ab), "ab"),
            Dimension(polygon[1], polygon[2], m(v.bc), "bc"),
            Dimension(polygon[2], polygon[3], m(v.cd), "cd"),
            Dimension(polygon[3], polygon[0], m(v.da), "da"),
            Dimension(polygon[0], polygon[2], m(v.ac), "ac"),
        ),
        warnings=warnings,
    )


def _perpendiculars(v: Values) -> Trace:
    foot_b = v.foot_b if v.has("foot_b") else v.diagonal / 2
    foot_d = v.foot_d if v.has("foot_d") else v.diagonal / 2
    corners = ((0.0, 0.0), (foot_b, -v.perpendicular_b), (v.diagonal, 0.0), (foot_d, v.perpendicular_d))
    polygon = nominal_polygon(corners)
    if crosses_itself(polygon):
        raise ImpossibleShape(
            "With these feet the sides cross. Check where the perpendiculars stand.", "foot_b"
        )
    area = v.diagonal * (v.perpendicular_b + v.perpendicular_d) / 2
    taped = v.has("foot_b") and v.has("foot_d")
    said = "as taped" if taped else "not taped, so taken at the middle: the way round is rough"
    b, d = nominal(foot_b), nominal(foot_d)
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=perimeter(corners),
        steps=(
            step(
                "area = diagonal {d} × ({p} + {q}) ÷ 2 = {a}",
                d=m(v.diagonal),
                p=m(v.perpendicular_b),
                q=m(v.perpendicular_d),
                a=m2(area),
            ),
        ),
        source=PERPENDICULARS,
        dimensions=(
            Dimension(polygon[0], polygon[2], m(v.diagonal), "diagonal"),
            Dimension((b, 0.0), polygon[1], m(v.perpendicular_b), "perpendicular_b"),
            Dimension((d, 0.0), polygon[3], m(v.perpendicular_d), "perpendicular_d"),
        ),
        perimeter_steps=(
            step(
                f"feet of the perpendiculars {{b}} and {{d}} along the diagonal ({said})",
                b=m(foot_b),
                d=m(foot_d),
            ),
        ),
    )


METHOD = Method(
    key="quadrilateral",
    name="Four sides and a diagonal",
    form=Form(
        (
            length("ab", "Side A to B", help="Name the corners A, B, C, D as you walk round."),
            length("bc", "Side B to C"),
            length("cd", "Side C to D"),
            length("da", "Side D to A"),
            length("ac", "Diagonal A to C", help="Without it four sides have no fixed shape."),
            length(
                "bd", "Diagonal B to D", required=False, help="The check: tape it too and it is compared."
            ),
            length("diagonal", "Diagonal", help="From corner to corner, the longer one."),
            length(
                "perpendicular_b",
                "Perpendicular to one side",
                "width",
                help="Square from the diagonal to the corner.",
            ),
            length(
                "perpendicular_d",
                "Perpendicular to the other side",
                "width",
                help="Square to the corner opposite.",
            ),
            length(
                "foot_b",
                "Foot of the first",
                required=False,
                help="How far along the diagonal it stands. Only for the way round.",
            ),
            length(
                "foot_d",
                "Foot of the second",
                required=False,
                help="How far along the diagonal it stands. Only for the way round.",
            ),
        ),
        (
            Way("sides", "Four sides and a diagonal", ("ab", "bc", "cd", "da", "ac", "bd")),
            Way(
                "perpendiculars",
                "A diagonal and two perpendiculars",
                ("diagonal", "perpendicular_b", "perpendicular_d", "foot_b", "foot_d"),
            ),
        ),
    ),
    trace=trace,
    help="Four straight edges, no square corners needed. Tape one extra line: it is the only check there is.",
    order=60,
)
