"""What hollow and solid tines share: holes in a grid, their number and their share of the surface."""

from __future__ import annotations

import math
from typing import Any

from logic.errors import BadValue
from logic.field import Values
from logic.figure import DEFINITION, Figure, Step, figure, step
from logic.units import nominal, quantity


def holes_per_area(across: Any, along: Any) -> Figure:
    """Holes in a square metre [1/m²] of one pass: 1,000,000 / (across × along), spacings [mm]."""
    holes = 1e6 / (across * along)
    line = step(
        "one hole every {a} × {b} = {h}",
        a=quantity(across, "mm"),
        b=quantity(along, "mm"),
        h=quantity(holes, "1/m^2"),
    )
    return figure("holes_per_area", "Holes by area, one pass", holes, "1/m^2", line, source=DEFINITION)


def share_of_surface(diameter: Any, across: Any, along: Any) -> Any:
    """Share of the surface [%] of round holes: π d² / 4 ÷ (across × along), all in one unit of length.

    Source: area of a circle; agrees with the Grounds Management Association's 10 % for 18 mm at 50 mm.
    """
    return math.pi * diameter**2 / 4 / (across * along) * 100


def share_line(diameter: Any, across: Any, along: Any) -> Step:
    """The line of working for `share_of_surface`, lengths in mm."""
    return step(
        "a hole of {d} in each {a} × {b}: π × ({d})² ÷ 4 ÷ ({a} × {b}) = {s}",
        d=quantity(diameter, "mm"),
        a=quantity(across, "mm"),
        b=quantity(along, "mm"),
        s=quantity(share_of_surface(diameter, across, along), "%"),
    )


def holes_in_all(per_area: Figure, passes: int, area: Any) -> Figure:
    """Holes of all passes on an area [m², ± carried]."""
    count = per_area.value.magnitude * passes * area
    line = step(
        "{h} × {n} × {a} = {c}",
        h=per_area.value,
        n=f"{passes} pass" if passes == 1 else f"{passes} passes",
        a=quantity(area, "m^2"),
        c=count,
    )
    return figure("holes", "Holes in all", count, "", line, source=DEFINITION)


def refuse_touching(v: Values) -> None:
    """Raises BadValue when the holes of one pass would run into each other."""
    for key in ("spacing_across", "spacing_along"):
        if nominal(v[key]) <= nominal(v.tine_diameter):
            raise BadValue(key, "The holes would meet: the spacing must be more than the tine.")
