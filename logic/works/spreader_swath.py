"""The effective width of a rotary spreader, from a row of trays across its path."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, quantity, text_of
from logic.works.limits import limit, limit_quantity
from logic.works.operation import Ground, Operation, Work

HALF = Source(
    "P. Landschoot, Penn State, rotary swath steps, 2016: between the two trays with half of the centre"
)


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "spreader_swath", key, label, **more)


FORM = Form(
    fields=(
        _field("tray_spacing", "Trays apart", help="From middle to middle, across the path."),
        _field(
            "tray_masses",
            "Caught, tray by tray",
            kind="list",
            entry="Tray",
            fewest=5,
            help="An odd number, the middle one under the path. Pass over three times the same way.",
        ),
    )
)


def half_reach(masses: Sequence[float]) -> float:
    """Tray spacings from the middle (first of `masses`) to where half of its weight is caught.

    Straight-line interpolation between trays. Raises BadValue when no tray is that light.
    """
    half = masses[0] / 2
    for place in range(1, len(masses)):
        inner, outer = masses[place - 1], masses[place]
        if outer <= half:
            return place - 1 + (inner - half) / (inner - outer)
    raise BadValue(
        "tray_masses", "The outer trays still hold more than half of the middle one: set out more."
    )


def work(v: Values, ground: Ground) -> Work:
    """The effective width, and how uneven the two sides are."""
    masses = [nominal(mass) for mass in v.tray_masses]
    middle = len(masses) // 2
    if len(masses) % 2 == 0:
        raise BadValue("tray_masses", "Use an odd number of trays, so that one lies under the path.")
    if masses[middle] <= 0:
        raise BadValue("tray_masses", "The middle tray is empty: is the row in the right order?")
    left, right = half_reach(masses[middle::-1]), half_reach(masses[middle:])
    swath = (left + right) * v.tray_spacing
    line = step(
        "half of the middle is {h}: {l} trays to the left, {r} to the right, {d} apart = {w}",
        h=quantity(masses[middle] / 2, "g"),
        l=left,
        r=right,
        d=quantity(v.tray_spacing, "m"),
        w=quantity(swath, "m"),
    )
    width = figure("swath", "Walk passes this far apart", swath, "m", line, source=HALF, headline=True)
    sides = _sides(sum(masses[:middle]), sum(masses[middle + 1 :]))
    return Work((width, sides), _uneven(abs(sides.nominal)))


def _sides(left: float, right: float) -> Figure:
    off = (left - right) / (left + right) * 100 if left + right else 0.0
    line = step(
        "left {l}, right {r}: ({l} − {r}) ÷ both = {o}",
        l=quantity(left, "g"),
        r=quantity(right, "g"),
        o=quantity(off, "%"),
    )
    return figure(
        "side_difference", "Left heavier than right by", off, "%", line, source=Source("", "practice")
    )


def _uneven(off: float) -> tuple[str, ...]:
    if off <= limit("swath_sides"):
        return ()
    found, most = text_of(quantity(off, "%")), text_of(limit_quantity("swath_sides"))
    return (f"It throws {found} more to one side; above {most} set the skew, or go over it both ways.",)


OPERATION = Operation(
    key="spreader_swath",
    name="Spreader width",
    form=FORM,
    work=work,
    help="A row of trays across the path of a rotary spreader gives the width to walk at.",
    group="check",
    order=93,
)
