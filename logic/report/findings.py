"""What was found, for a paper: readings with their class second, their map, the core, the trends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logic.figure import DEFINITION, Figure, figure, step
from logic.report.charts import Chart
from logic.report.content import Section, Spot
from logic.report.profile import CoreLayer
from logic.survey.history import Point, Trend
from logic.survey.kind import Layer, Taken
from logic.survey.stored import Held, marks
from logic.units import plus_minus, quantity

_CHARTS = 3  # trends that a paper shows; the others stand on the screen
_REACH = 1.96  # standard uncertainties that a day's range holds either way


@dataclass(frozen=True)
class Findings:
    """The parts of SummaryData that readings fill in: findings, spots, core and charts."""

    sections: tuple[Section, ...] = ()
    spots: tuple[Spot, ...] = ()
    core: tuple[CoreLayer, ...] = ()
    charts: tuple[Chart, ...] = ()


def findings(held: Sequence[Held], trends: Sequence[Trend] = ()) -> Findings:
    """What a visit's readings say to a customer.

    held: from logic.records.surveyed.held; trends: of the sward, from logic.survey.history. A reading that is
    not finished is left out. The map shows the first headline figure of each placed reading; the core drawn
    is the last one with layers.
    """
    taken = [one.taken for one in held if one.taken]
    kinds = dict.fromkeys(one.kind.key for one in taken)
    placed = [mark for kind in kinds for mark in marks(held, kind)]
    cores = [layers for one in taken if (layers := _layers(one))]
    return Findings(
        tuple(_section(one, held) for one in taken),
        tuple(Spot(mark.x, mark.y, mark.text) for mark in placed),
        cores[-1] if cores else (),
        tuple(_chart(trend) for trend in trends if len(trend.points) > 1)[:_CHARTS],
    )


def _section(taken: Taken, held: Sequence[Held]) -> Section:
    """A reading: its class words after its figures, then what to mind, then what was noted on the spot."""
    names = {one.key: one.name for one in taken.figures}
    classes = [
        f"{names[label.figure]}: {label.word}." for label in taken.finding.labels if label.figure in names
    ]
    note = next((str(one.entry.get("note") or "") for one in held if one.taken is taken), "")
    notes = (*classes, *taken.finding.warnings, *([note] if note else []))
    return Section(taken.kind.name, taken.figures, notes=notes)


def _layers(taken: Taken) -> tuple[CoreLayer, ...]:
    layers = [mark for mark in taken.finding.drawing if isinstance(mark, Layer)]
    return tuple(CoreLayer(one.name, _depth("top", one.top), _depth("bottom", one.bottom)) for one in layers)


def _depth(key: str, value: float) -> Figure:
    line = step("{d} below the surface", d=quantity(value, "mm"))
    return figure(key, "Depth", value, "mm", line, source=DEFINITION)


def _chart(trend: Trend) -> Chart:
    """A trend as the paper draws it; its sentence says whether the change can be believed."""
    points = tuple((point.day, _on(trend, point)) for point in trend.points)
    return Chart(trend.name, points, note=trend.sentence)


def _on(trend: Trend, point: Point) -> Figure:
    reach = (point.high - point.low) / 2 / _REACH
    value = plus_minus(point.value, reach, "readings") if reach > 0 else point.value
    line = step("mean of {n} on {d}", n=quantity(point.count, ""), d=point.day.isoformat())
    return figure(trend.key, trend.name, value, trend.unit, line)
