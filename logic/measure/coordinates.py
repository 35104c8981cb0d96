"""Corners by coordinates: along a baseline and square out from it, or from a plan."""

from __future__ import annotations

from typing import Any

from logic.errors import ImpossibleShape
from logic.field import Field, Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m2, with_margin
from logic.measure.curves import without_repeats
from logic.measure.geometry import crosses_itself, nominal_polygon, perimeter, shoelace
from logic.measure.outline import Context, Method, Trace
from logic.units import nominal, quantity

SOURCE = Source("Area by coordinates: J. Mahun, Open Access Surveying Library, Traverse computations, ch. G")


def trace(v: Values, ctx: Context) -> Trace:
    """Area ½ |Σ (xᵢ yᵢ₊₁ − xᵢ₊₁ yᵢ)| [m²] of the corners in walking order, either way round [m]."""
    corners = [(_read(p.x), _read(p.y)) for p in v.points]
    refuse_no_outline([(nominal(x), nominal(y)) for x, y in corners], "points")
    signed = shoelace(corners)
    area = signed if nominal(signed) > 0 else -signed
    count = len(corners)
    return Trace(
        polygon=nominal_polygon(corners),
        area=area,
        perimeter=perimeter(corners),
        steps=(
            step(
                "{n} corners in walking order: half the sum of x × next y − next x × y = {a}",
                n=quantity(count, ""),
                a=m2(area),
            ),
        ),
        source=SOURCE,
    )


def refuse_no_outline(corners: list[tuple[float, float]], field_key: str) -> None:
    """Raise ImpossibleShape unless the corners go round one piece of ground without crossing their path."""
    if len(without_repeats(corners)) < len(corners):
        raise ImpossibleShape("Two corners stand on the same spot. Give each corner once.", field_key)
    if len(corners) < 3:
        raise ImpossibleShape("An outline needs at least three corners.", field_key)
    if crosses_itself(corners):
        raise ImpossibleShape(
            "The outline crosses itself, so it has no inside. Give the corners in the order in which you "
            "walk round them.",
            field_key,
        )


def _read(value: Any) -> Any:
    return with_margin(value, "tape_edge", "tape")


def _coordinate(key: str, label: str, help: str) -> Field:
    return length(key, label, above=None, least=-10000, most=10000, usual=None, measured=False, help=help)


METHOD = Method(
    key="coordinates",
    name="Corners",
    form=Form(
        (
            Field(
                "points",
                "Corners",
                entry="Corner",
                kind="rows",
                fewest=3,
                row=(
                    _coordinate("x", "Along", "Along the tape that lies as the baseline."),
                    _coordinate(
                        "y", "Out", "Square out from the tape to the corner; minus on the other side."
                    ),
                ),
                help="In walking order, each corner once. Straight edges are taken between them.",
            ),
        )
    ),
    trace=trace,
    help="Lay one tape as a baseline. For each corner read how far along it stands, tape square out to it.",
    group="irregular",
    order=130,
)
