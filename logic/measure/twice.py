"""Measured twice: two independent measurements of one piece of ground are compared, and combined."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from logic.field import Field, Form, Values
from logic.figure import Source, Step, step
from logic.measure.asking import m2
from logic.measure.outline import Context, Method, Outline, Trace
from logic.units import nominal, plus_minus, spread, text_of

SOURCE = Source(
    "Weighted mean of two measurements, and their difference held against its ± (95 %)", "derived"
)
Z95 = 1.96


@dataclass(frozen=True)
class Compared:
    """Two measurements held together. difference, combined: numbers with ±; agree: within 95 %."""

    difference: Any
    agree: bool
    combined: Any


def compare(first: Any, second: Any) -> Compared:
    """Compare two values (± allowed; errors that both share, like one pace, cancel in the difference).

    They agree when their difference is no more than 1.96 of its own ±. Combined: the mean weighted by
    1/u²; where they disagree, the plain mean, with half the difference added to its ±.
    Source: weighted mean of independent measurements (any statistics text).
    """
    difference = first - second
    gap, margin = abs(nominal(difference)), spread(difference)
    agree = gap <= Z95 * margin or gap == 0
    u, w = spread(first) ** 2, spread(second) ** 2
    if not agree:
        combined = (first + second) / 2 + plus_minus(0.0, gap / 2, "twice")
    elif u + w == 0:
        combined = (first + second) / 2
    else:
        combined = (first * w + second * u) / (u + w)
    return Compared(difference, agree, combined)


def trace(v: Values, ctx: Context) -> Trace:
    """Area [m²] of two outlines of the same ground, combined. Drawn as the surer of the two."""
    one, two = ctx.outline_of(v.first, ctx.pace), ctx.outline_of(v.second, ctx.pace)
    found = compare(one.area.value.magnitude, two.area.value.magnitude)
    surer = one if one.area.plus_minus <= two.area.plus_minus else two
    round_ = surer.perimeter.value.magnitude
    return Trace(
        polygon=surer.polygon,
        holes=surer.holes,
        pieces=surer.pieces,
        area=found.combined,
        perimeter=round_,
        edge=surer.edge_length.value.magnitude,
        steps=_lines(one, two, found),
        source=SOURCE,
        dimensions=tuple(
            replace(d, field=f"{'first' if surer is one else 'second'}.{d.field}") for d in surer.dimensions
        ),
        warnings=(*one.warnings, *two.warnings, *_disagreement(one, two, found)),
        north=surer.north,
    )


def _lines(one: Outline, two: Outline, found: Compared) -> tuple[Step, ...]:
    lines = [
        step(
            f"{name} ({outline.method.replace('_', ' ')}) = {{a}} ± {{u:2}}",
            a=outline.area.value,
            u=m2(outline.area.plus_minus),
        )
        for name, outline in (("first", one), ("second", two))
    ]
    gap = abs(nominal(found.difference))
    lines.append(
        step(
            "they differ by {d:2}; up to {m:2} is within their ±",
            d=m2(gap),
            m=m2(Z95 * spread(found.difference)),
        )
    )
    how = (
        "mean, the surer one counting for more"
        if found.agree
        else "plain mean, half the difference added to its ±"
    )
    lines.append(step(f"{how} = {{a}}", a=m2(found.combined)))
    return tuple(lines)


def _disagreement(one: Outline, two: Outline, found: Compared) -> tuple[str, ...]:
    if found.agree:
        return ()
    first, second = (text_of(o.area.value) for o in (one, two))
    return (f"The two measurements disagree beyond their ±: {first}, {second}. Measure again.",)


METHOD = Method(
    key="twice",
    name="Measured twice",
    form=Form(
        (
            Field("first", "First measurement", kind="outline", help="One way of measuring the green."),
            Field(
                "second",
                "Second measurement",
                kind="outline",
                help="Another way, or the same again from the start.",
            ),
        )
    ),
    trace=trace,
    help="The surest check there is: measure the same ground in two ways. If they agree, the two together "
    "are better than either; if not, you know before the seed is bought.",
    group="irregular",
    order=160,
)
