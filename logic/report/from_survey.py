"""From readings as they are held to what a paper shows of them: figures, maps, the core, how it has gone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from logic.figure import Figure, figure, step
from logic.report.charts import Chart
from logic.report.content import ReadingsMap, Section, Spot
from logic.report.profile import CoreLayer
from logic.survey.history import REACH, Point, Trend
from logic.survey.kind import Layer, Taken
from logic.survey.stored import Held, marks
from logic.units import plus_minus, quantity, text_of
from logic.works.operation import caution

_MOST_CHARTS = 8
_FEWEST_SPOTS = 2


def findings_of(held: Sequence[Held]) -> tuple[Section, ...]:
    """A section for each kind of reading, in the order in which they were taken."""
    kinds: dict[str, list[Held]] = {}
    for one in held:
        if one.taken:
            kinds.setdefault(one.taken.kind.key, []).append(one)
    return tuple(_section(several) for several in kinds.values())


def _section(several: Sequence[Held]) -> Section:
    figures: list[Figure] = []
    notes: list[str] = []
    keys: list[str] = []
    for place, one in enumerate(several, start=1):
        assert one.taken
        said = str(one.entry.get("note") or "").strip()
        where = (said or str(place)) if len(several) > 1 else ""
        figures += [replace(f, name=f"{f.name}, {where}" if where else f.name) for f in one.taken.figures]
        notes += [f"{where}: {text}" if where else text for text in _words(one.taken)]
        notes += [said] if said and not where else []
        keys += one.taken.finding.cautions
    cautions = tuple(caution(key) for key in dict.fromkeys(keys))
    taken = several[0].taken
    return Section(taken.kind.name if taken else "", tuple(figures), cautions, tuple(dict.fromkeys(notes)))


def _words(taken: Taken) -> list[str]:
    """Class words and warnings as sentences."""
    found = []
    for label in taken.finding.labels:
        if taken.has(label.figure):
            found.append(f"{taken.figure(label.figure).name}: {label.word}.")
    return [*found, *taken.finding.warnings]


def maps_of(held: Sequence[Held], system: str = "metric") -> tuple[ReadingsMap, ...]:
    """A map for each kind that was taken at two places of the sketch or more."""
    names = {one.taken.kind.key: one.taken.kind.name for one in held if one.taken}
    found = []
    for key, name in names.items():
        there = marks(held, key)
        if len(there) >= _FEWEST_SPOTS:
            shown = next(
                f
                for one in held
                if one.taken and one.taken.kind.key == key
                for f in one.taken.figures
                if f.headline
            )
            spots = (Spot(m.x, m.y, text_of(quantity(m.value, shown.unit), system)) for m in there)
            found.append(ReadingsMap(name, tuple(spots)))
    return tuple(found)


def core_of(held: Sequence[Held]) -> tuple[CoreLayer, ...]:
    """The layers of the core taken last, none where no core has any."""
    for one in reversed(held):
        layers = [d for d in one.taken.finding.drawing if isinstance(d, Layer)] if one.taken else []
        if layers:
            return tuple(CoreLayer(layer.name, _depth(layer.top), _depth(layer.bottom)) for layer in layers)
    return ()


def _depth(mm: float) -> Figure:
    return figure("depth", "Depth", mm, "mm", step("read off the core: {d}", d=quantity(mm, "mm")))


def charts_of(trends: Iterable[Trend], system: str = "metric") -> tuple[Chart, ...]:
    """A chart for each figure that was found on two days or more. Its sentence is in metric units only."""
    found = []
    for trend in trends:
        if len(trend.points) > 1:
            points = tuple((point.day, _point(trend, point)) for point in trend.points)
            found.append(Chart(trend.name, points, note=trend.sentence if system == "metric" else ""))
    return tuple(found[:_MOST_CHARTS])


def _point(trend: Trend, point: Point) -> Figure:
    margin = (point.high - point.low) / 2 / REACH
    value = plus_minus(point.value, margin, "readings") if margin > 0 else point.value
    count = quantity(point.count, "")
    line = step("{n} readings that day: {v}", n=count, v=quantity(point.value, trend.unit))
    return figure(trend.key, trend.name, value, trend.unit, line)
