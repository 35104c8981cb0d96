"""What measuring gives: an Outline with its area, perimeter and polygon; and what a method declares."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from logic.errors import ImpossibleShape
from logic.field import Form, PaceLike, Values
from logic.figure import DEFINITION, Figure, Source, Step, figure, step
from logic.measure.geometry import Point, Polygon, longest_run
from logic.units import nominal, quantity


@dataclass(frozen=True)
class Dimension:
    """A measured length on the sketch: from `start` to `end` [m], its value, and the field it came from."""

    start: Point
    end: Point
    value: Any
    field: str = ""


@dataclass(frozen=True)
class Trace:
    """What a method makes of its readings. area [m²] and perimeter [m] carry ±; polygon, holes [m].

    steps: how the area was worked out. curve_margin: standard uncertainty [m²] that the shape itself adds
    (an edge that is not what the method assumes), 0 when none; how it is estimated stands in the steps.
    """

    polygon: Polygon
    area: Any
    perimeter: Any
    steps: tuple[Step, ...]
    source: Source
    dimensions: tuple[Dimension, ...] = ()
    holes: tuple[Polygon, ...] = ()
    warnings: tuple[str, ...] = ()
    north: float | None = None  # bearing of the polygon's y axis from north [degrees], where known


@dataclass(frozen=True)
class Context:
    """What a method may need beside its own values: the pace, and how to read an outline inside another."""

    pace: PaceLike | None
    outline_of: Callable[[Mapping[str, Any], PaceLike | None], Outline]


@dataclass(frozen=True)
class Method:
    """One way of measuring. trace: values → Trace; raises ImpossibleShape when they close no outline.

    group: "tape" (simple shapes) or "irregular"; order: place in the list of choices; help: how to do it.
    """

    key: str
    name: str
    form: Form
    trace: Callable[[Values, Context], Trace]
    help: str = ""
    group: str = "tape"
    order: int = 50


@dataclass(frozen=True)
class Outline:
    """A measured piece of ground. polygon runs anticlockwise, without the first corner repeated [m]."""

    method: str
    area: Figure
    perimeter: Figure
    longest_run: Figure
    polygon: Polygon
    holes: tuple[Polygon, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    warnings: tuple[str, ...] = field(default_factory=tuple)
    north: float | None = None

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Area, perimeter, longest run."""
        return (self.area, self.perimeter, self.longest_run)


def outline_from(method: Method, trace: Trace) -> Outline:
    """The Outline of a Trace. Raises ImpossibleShape when it encloses nothing."""
    if nominal(trace.area) <= 0:
        raise ImpossibleShape("These readings enclose no ground. Check them.")
    run = longest_run(trace.polygon)
    return Outline(
        method=method.key,
        area=figure("area", "Area", trace.area, "m^2", *trace.steps, source=trace.source, headline=True),
        perimeter=figure(
            "perimeter",
            "Perimeter",
            trace.perimeter,
            "m",
            step("once round the edge = {p}", p=quantity(trace.perimeter, "m")),
            source=DEFINITION,
        ),
        longest_run=figure(
            "longest_run",
            "Longest run",
            run,
            "m",
            step("longest straight line across the outline = {r}", r=quantity(run, "m")),
            source=DEFINITION,
        ),
        polygon=trace.polygon,
        holes=trace.holes,
        dimensions=trace.dimensions,
        warnings=trace.warnings,
        north=trace.north,
    )
