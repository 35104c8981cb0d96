"""Sloping ground: level lengths from lengths along it, and the turf's own surface from a level area."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form
from logic.figure import Source, figure, step
from logic.measure.asking import m2, percent, setting
from logic.measure.outline import Outline
from logic.units import quantity

SOURCE = Source("Horizontal = slope length ÷ √(1 + g²): FAO, Topography for freshwater fish culture, ch. 2")

#: Asked of any outline whose lengths were taken level, or from a plan.
FIELD = Field(
    "slope",
    "Slope of the ground",
    "%",
    required=False,
    least=0,
    most=100,
    usual=(0, 25),
    help="Only if the lengths are level or from a plan and the ground falls more than 5 %: seed and sand go "
    "on the surface, which is larger. Lengths taped or paced along the ground are the surface's already.",
)


def level_length(along: Any, grade: float) -> Any:
    """The level length [m] of a length taken along ground that falls by `grade` (rise ÷ run).

    Source: FAO, Topography for freshwater fish culture, ch. 2.
    """
    return along / surface_factor(grade)


def surface_factor(grade: float) -> float:
    """How much larger the surface is than its plan: √(1 + g²). 10 % slope: 1.005."""
    return math.sqrt(1 + grade * grade)


def on_slope(outline: Outline, given: Any) -> Outline:
    """The outline with the area of the surface, when `given` (job-file text) says how the plan slopes.

    Polygon and perimeter stay those of the plan. Raises BadValue.
    """
    reading = Form((FIELD,)).read({"slope": given})
    if reading.values is None:
        raise BadValue("slope", reading.problems["slope"])
    slope = reading.values.slope
    if slope is None:
        return outline
    grade = float(getattr(slope, "nominal_value", slope)) / 100
    if grade <= setting("slope_level"):
        note = step("the ground falls {g}, so little that it counts as level", g=percent(grade))
        return replace(outline, area=replace(outline.area, steps=(*outline.area.steps, note)))
    plan, factor = outline.area.value.magnitude, surface_factor(grade)
    surface = figure(
        "area",
        "Area",
        plan * factor,
        "m^2",
        *outline.area.steps,
        step(
            "on the slope of {g} the turf's surface = plan {p} × {f} = {a}",
            g=percent(grade),
            p=m2(plan),
            f=quantity(factor, ""),
            a=m2(plan * factor),
        ),
        source=outline.area.source,
        headline=True,
    )
    return replace(outline, area=surface)
