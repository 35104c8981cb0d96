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
from logic.survey.several import several
from logic.survey.stored import Held, marks
from logic.units import plus_minus, quantity, text_of
from logic.works.operation import caution

_MOST_CHARTS = 8
_MANY = 4  # readings of a kind that are shown as their mean
_FEWEST_SPOTS = 2


def findings_of(held: Sequence[Held]) -> tuple[Section, ...]:
    """A section for each kind of reading, in the order in which they were taken."""
    kinds: dict[str, list[Held]] = {}
    for one in held:
        if one.taken:
            kinds.setdefault(one.taken.kind.key, []).append(one)
    return tuple(_section(several) for several in kinds.values())


def _section(takes: Sequence[Held]) -> Section:
    figures: list[Figure] = _together([one.taken for one in takes if one.taken])
    mean = bool(figures)
    said: dict[str, list[str]] = {}  # each sentence, and the readings that it is said of
    keys: list[str] = []
    for place, one in enumerate(takes, start=1):
        assert one.taken
        note = str(one.entry.get("note") or "").strip()
        where = (note or str(place)) if len(takes) > 1 else ""
        for found in one.taken.figures:
            name = f"{found.name}, {where}" if where else found.name
            figures.append(replace(found, name=name, headline=found.headline and not mean))
        for text in (*_words(one.taken), *([note] if note and not where else [])):
            said.setdefault(text, []).append(where)
        keys += one.taken.finding.cautions
    notes = tuple(text if len(who) != 1 or not who[0] else f"{who[0]}: {text}" for text, who in said.items())
    taken = takes[0].taken
    cautions = tuple(caution(key) for key in dict.fromkeys(keys))
    return Section(taken.kind.name if taken else "", tuple(figures), cautions, notes)


def _together(takens: Sequence[Taken]) -> list[Figure]:
    """What many readings of a kind come to: mean, lowest and highest of each figure that all of them have."""
    if len(takens) < _MANY:
        return []
    found: list[Figure] = []
    for shown in (f for f in takens[0].figures if f.headline):
        if all(taken.has(shown.key) for taken in takens):
            values = [taken.figure(shown.key).nominal for taken in takens]
            mean, low, high, *_ = several(shown.key, shown.name, values, shown.unit)
            found += [mean, *(replace(f, headline=True) for f in (low, high))]
    return found


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
