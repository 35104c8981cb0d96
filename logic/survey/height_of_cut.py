"""Height of cut by gauge: the true height, how even it is, and how far it is from the bench setting."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, figure, step
from logic.survey.classes import limit, limit_source, limit_text
from logic.survey.kind import Finding, Kind, Spot
from logic.survey.several import readings_needed, several
from logic.units import nominal, quantity, text_of


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("readings", "height_of_cut", key, label, **more)


FORM = Form(
    (
        _field(
            "readings",
            "Gauge readings",
            kind="list",
            entry="Reading",
            help="Middle, edge, shade and high spot.",
        ),
        _field("bench", "Bench setting of the mower", required=False),
        _field("within", "Wanted to within, either way"),
        _field("spread", "Scatter known from earlier visits", required=False),
    )
)


def read(v: Values, spot: Spot) -> Finding:
    """Mean, ends and scatter of the height [mm], readings wanted, and true height less bench setting."""
    heights = several("height_of_cut", "True height of cut", v.readings, "mm")
    known = nominal(v.spread) if v.has("spread") else None
    more = readings_needed("readings_needed", v.readings, "mm", nominal(v.within), known)
    figures = (*heights, *more, *_offset(v, heights[0]))
    return Finding(figures, warnings=tuple(_warnings(v, heights[0], figures)))


def _offset(v: Values, mean: Figure) -> tuple[Figure, ...]:
    if not v.has("bench"):
        return ()
    offset = mean.value.magnitude - v.bench
    line = step(
        "true {t} − bench {b} = {o}", t=mean.value, b=quantity(v.bench, "mm"), o=quantity(offset, "mm")
    )
    return (figure("bench_offset", "True height less bench setting", offset, "mm", line, headline=True),)


def _warnings(v: Values, mean: Figure, figures: tuple[Figure, ...]) -> Iterator[str]:
    if len(v.readings) < limit("few_readings"):
        yield (
            f"Fewer than {limit_text('few_readings')} readings: take more, at edge, middle, shade and high "
            f"spots."
        )
    if mean.nominal <= limit("prism_lowest"):
        yield (
            f"At {limit_text('prism_lowest')} and below a prism gauge is very hard to read. "
            f"Source: {limit_source('prism_lowest')}."
        )
    if mean.nominal < limit("bent_lowest"):
        yield (
            f"Below {limit_text('bent_lowest')}, the lowest for healthy upkeep of creeping bent; other "
            f"grasses want more. Source: {limit_source('bent_lowest')}."
        )
    offset = next((f.nominal for f in figures if f.key == "bench_offset"), 0.0)
    if abs(offset) > limit("offset_odd"):
        yield (
            f"True and bench height are {text_of(quantity(abs(offset), 'mm'))} apart. Check rollers, bench "
            f"bar and gauge before you trust either."
        )


KIND = Kind(
    key="height_of_cut",
    name="Height of cut",
    form=FORM,
    read=read,
    help="Dry leaf, after mowing. Press the gauge to first firmness, not into the thatch; read where most "
    "of the cut tips stand, not the longest.",
    how_many="10 on up to 100 m², 20 on more: middle, edge, shade, high spot.",
    tells_not="The bench setting: a mower sinks into soft thatch, so the true cut is lower than the bench "
    "says.",
    group="grass",
    order=10,
)
