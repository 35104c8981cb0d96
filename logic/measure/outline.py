"""What measuring gives: an Outline with its area, perimeter and polygon; and what a method declares."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from logic.errors import ImpossibleShape
from logic.field import Form, PaceLike, Values
from logic.figure import DEFINITION, Figure, Source, Step, figure, step
from logic.measure.geometry import Point, Polygon, longest_run
from logic.units import nominal, quantity, spread


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

    steps: how the area was worked out; perimeter_steps: what the way round rests on, where it needs saying.
    edge: length of all edges with those of the holes [m], None where it is the perimeter. pieces: further
    separate pieces of ground beside the polygon.
    """

    polygon: Polygon
    area: Any
    perimeter: Any
    steps: tuple[Step, ...]
    source: Source
    dimensions: tuple[Dimension, ...] = ()
    holes: tuple[Polygon, ...] = ()
    pieces: tuple[Polygon, ...] = ()
    warnings: tuple[str, ...] = ()
    north: float | None = None  # bearing of the polygon's y axis from north [degrees], where known
    perimeter_steps: tuple[Step, ...] = ()
    edge: Any = None


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
    edge_length: Figure
    polygon: Polygon
    holes: tuple[Polygon, ...] = ()
    pieces: tuple[Polygon, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    warnings: tuple[str, ...] = field(default_factory=tuple)
    north: float | None = None

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Area, perimeter, longest run, and the length of all edges where it differs from the perimeter."""
        edge = (self.edge_length,) if self.edge_length.nominal != self.perimeter.nominal else ()
        return (self.area, self.perimeter, self.longest_run, *edge)


def outline_from(method: Method, trace: Trace) -> Outline:
    """The Outline of a Trace. Raises ImpossibleShape when it encloses nothing."""
    if nominal(trace.area) <= 0:
        raise ImpossibleShape("These readings enclose no ground. Check them.")
    run = max(longest_run(polygon) for polygon in (trace.polygon, *trace.pieces))
    edge = trace.perimeter if trace.edge is None else trace.edge
    return Outline(
        method=method.key,
        area=figure(
            "area",
            "Area",
            trace.area,
            "m^2",
            *trace.steps,
            *_margin_step(trace.area),
            source=trace.source,
            headline=True,
        ),
        perimeter=figure(
            "perimeter",
            "Perimeter",
            trace.perimeter,
            "m",
            *trace.perimeter_steps,
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
        edge_length=figure(
            "edge_length",
            "Edge to cut",
            edge,
            "m",
            step("all edges, those of the holes too = {e}", e=quantity(edge, "m")),
            source=DEFINITION,
        ),
        polygon=trace.polygon,
        holes=trace.holes,
        pieces=trace.pieces,
        dimensions=trace.dimensions,
        warnings=trace.warnings,
        north=trace.north,
    )


#: What the tags of the uncertain readings are called in the working.
_CAUSES = {
    "pace": "the length of your pace",
    "count": "counting paces",
    "tape": "the edge under the tape",
    "stated": "the ± you gave",
    "shape": "the shape between readings",
    "angle": "the angles",
    "compass": "the compass",
    "closing": "the walk not closing",
}


def _margin_step(area: Any) -> tuple[Step, ...]:
    """The line that says how large the ± is and what it comes from, largest first."""
    margin = spread(area)
    if not margin:
        return ()
    squares: dict[str, float] = {}
    for reading, part in area.error_components().items():
        cause = _CAUSES.get(reading.tag, "other readings")
        squares[cause] = squares.get(cause, 0.0) + part**2
    parts = sorted(((value**0.5, cause) for cause, value in squares.items()), reverse=True)
    shown = [(value, cause) for value, cause in parts if value >= margin / 20]
    values = {f"part{i}": quantity(value, "m^2") for i, (value, _) in enumerate(shown)}
    causes = ", ".join(f"{cause} {{part{i}:2}}" for i, (_, cause) in enumerate(shown))
    values |= {"margin": quantity(margin, "m^2"), "share": quantity(100 * margin / nominal(area), "percent")}
    return (step(f"give or take {{margin:2}} ({{share:2}}), two times in three. From: {causes}", **values),)
