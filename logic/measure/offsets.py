"""Offsets from a baseline: widths measured square to a tape laid along the green, on one side or both."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from logic.errors import ImpossibleShape
from logic.field import Field, Form, Values, Way
from logic.figure import Source, Step, step
from logic.measure.asking import length, lengths, m, m2
from logic.measure.curves import without_repeats
from logic.measure.geometry import nominal_polygon, perimeter
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.measure.pacing import repeated
from logic.measure.rules import drawn_curve, shape_margin, simpson_runs, trapezoid
from logic.units import nominal, plus_minus, quantity

SOURCE = Source(
    "Area by offsets, Simpson's and the trapezoidal rule: surveying hand-outs; F. A. Griffiths, The "
    "Artillerist's Manual, p. 371; Clemson University Extension, HGIC 1220 (offset method)"
)


def trace(v: Values, ctx: Context) -> Trace:
    """Area [m²] between the outermost offsets, by v.rule, of the widths offsets + offsets_other [m].

    ± from the offsets, the stations (each strip its own reading) and the edge between offsets
    (`rules.shape_margin`).
    """
    upper, lower = list(v.offsets), list(v.offsets_other or ())
    stations = _stations(v, ctx, len(upper))
    _refuse(v, stations, upper, lower)
    widths = [a + b for a, b in zip(upper, lower, strict=True)] if lower else upper
    x, h = [nominal(s) for s in stations], [nominal(w) for w in widths]
    _refuse_pinched(h)
    simpson = v.rule == "simpson"
    runs = simpson_runs(x, widths)
    by_lines = trapezoid(x, widths)
    plain = sum(run.area for run in runs) if simpson else by_lines
    margin = shape_margin(x, h, simpson)
    # A station out of place shifts ground from one strip to the next: nothing on the whole but its ±.
    misplaced = trapezoid(stations, h) - trapezoid(x, h)
    area = plain + misplaced + plus_minus(0.0, margin, "shape")
    polygon, round_ = _edge(x, upper, lower, stations, simpson)
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=round_,
        steps=(*_lines(runs, x, widths, by_lines, plain, simpson), *_margin_lines(margin, simpson)),
        source=SOURCE,
        dimensions=_dimensions(v, x, upper, lower),
    )


def _stations(v: Values, ctx: Context, count: int) -> list[Any]:
    if v.has("stations"):
        return list(v.stations)
    stations: list[Any] = [0.0]
    for strip in repeated(v.spacing, max(0, count - 1), ctx.pace):
        stations.append(stations[-1] + strip)
    return stations


def _refuse(v: Values, stations: list[Any], upper: list[Any], lower: list[Any]) -> None:
    if len(stations) != len(upper):
        raise ImpossibleShape(
            f"There are {len(stations)} stations but {len(upper)} offsets: each station needs one.", "offsets"
        )
    if lower and len(lower) != len(upper):
        raise ImpossibleShape(
            f"There are {len(upper)} offsets on one side but {len(lower)} on the other. Where the edge "
            "meets the tape, write 0.",
            "offsets_other",
        )
    for i in range(len(stations) - 1):
        if nominal(stations[i + 1]) <= nominal(stations[i]):
            raise ImpossibleShape(
                f"Station {i + 2} does not lie beyond station {i + 1}. Give them as you come to them.",
                "stations",
            )


def _refuse_pinched(h: list[float]) -> None:
    if not any(h):
        raise ImpossibleShape("All offsets are 0, so there is no ground between tape and edge.", "offsets")
    for i in range(1, len(h) - 1):
        if h[i] == 0:
            raise ImpossibleShape(
                f"At offset {i + 1} the ground has no width. Measure the pieces on either side one by one, "
                "as a compound.",
                "offsets",
            )


def _edge(
    x: list[float], upper: list[Any], lower: list[Any], stations: list[Any], simpson: bool
) -> tuple[tuple[tuple[float, float], ...], Any]:
    """The polygon, and the way round it [m] with ±: the drawn curve, scaled as the straight-lined one is
    uncertain, and as far out as the two differ."""
    under = lower or [0.0] * len(upper)
    chords = [*((s, -o) for s, o in zip(stations, under, strict=True))]
    chords += [*reversed([*zip(stations, upper, strict=True)])]
    top = drawn_curve(x, [nominal(o) for o in upper], simpson)
    if lower:
        bottom = [(px, -py) for px, py in drawn_curve(x, [nominal(o) for o in lower], simpson)]
    else:
        bottom = [(x[0], 0.0), (x[-1], 0.0)]
    polygon = nominal_polygon(without_repeats([*bottom, *reversed(top)]))
    straight, curved = perimeter(chords), perimeter(polygon)
    unknown = plus_minus(0.0, abs(curved - nominal(straight)), "shape")
    return polygon, straight * (curved / nominal(straight)) + unknown


def _lines(
    runs: list[Any], x: Sequence[float], h: Sequence[Any], by_lines: Any, plain: Any, simpson: bool
) -> list[Step]:
    count = quantity(len(h), "")
    whole = m(x[-1] - x[0])
    lines = [step("{n} offsets over {l} of baseline", n=count, l=whole)]
    if not simpson:
        lines.append(step("straight lines between them (trapezoidal rule) = {a}", a=m2(plain)))
        if any(run.simpson for run in runs):
            by_curve = sum(run.area for run in runs)
            lines.append(step("Simpson's rule, with curves, would give {a}", a=m2(by_curve)))
        return lines
    for run in runs:
        first, last = m(x[run.first]), m(x[run.last])
        if run.simpson:
            inner = h[run.first : run.last + 1]
            lines.append(
                step(
                    "Simpson from {from_} to {to}: {d} ÷ 3 × (ends {e} + 4 × {odd} + 2 × {even}) = {a}",
                    from_=first,
                    to=last,
                    d=m(run.spacing),
                    e=m(inner[0] + inner[-1]),
                    odd=m(sum(inner[1::2])),
                    even=m(sum(inner[2:-1:2])),
                    a=m2(run.area),
                )
            )
        else:
            lines.append(
                step(
                    "a strip is left over, and Simpson takes them in pairs, so from {from_} to {to} by "
                    "straight line: {d} × ({p} + {q}) ÷ 2 = {a}",
                    from_=first,
                    to=last,
                    d=m(run.spacing),
                    p=m(h[run.first]),
                    q=m(h[run.last]),
                    a=m2(run.area),
                )
            )
    if len(runs) > 1:
        lines.append(step("together = {a}", a=m2(plain)))
    lines.append(step("straight lines instead of curves would give {a}", a=m2(by_lines)))
    return lines


def _margin_lines(margin: float, simpson: bool) -> list[Step]:
    share = "" if simpson else "1.64 of "
    text = f"between offsets the edge is guessed: {share}the difference between curves and lines = {{u:2}}"
    return [step(text, u=m2(margin))] if margin else []


def _dimensions(v: Values, x: list[float], upper: list[Any], lower: list[Any]) -> tuple[Dimension, ...]:
    along: list[Dimension] = []
    if v.has("spacing"):
        along = [Dimension((x[0], 0.0), (x[1], 0.0), m(v.spacing), "spacing")]
    else:
        along = [
            Dimension((x[i], 0.0), (x[i + 1], 0.0), m(v.stations[i + 1] - v.stations[i]), f"stations.{i + 1}")
            for i in range(len(x) - 1)
        ]
    up = [
        Dimension((s, 0.0), (s, nominal(o)), m(o), f"offsets.{i}")
        for i, (s, o) in enumerate(zip(x, upper, strict=True))
    ]
    down = [
        Dimension((s, 0.0), (s, -nominal(o)), m(o), f"offsets_other.{i}")
        for i, (s, o) in enumerate(zip(x, lower, strict=False))
    ]
    return (*along, *up, *down)


METHOD = Method(
    key="offsets",
    name="Offsets from a tape",
    form=Form(
        (
            length(
                "spacing",
                "Spacing",
                "spacing",
                help="From one offset to the next along the tape. 1 m for a green of 10 to 15 m.",
            ),
            lengths(
                "stations",
                "Stations",
                "side",
                entry="Station",
                fewest=3,
                help="Where along the tape each offset stands, first to last. Closer near round ends.",
            ),
            lengths(
                "offsets",
                "Offsets",
                entry="Offset",
                fewest=3,
                help="Square from the tape to the edge, or the full width across. Begin and end with 0 where "
                "the edge meets the tape.",
            ),
            lengths(
                "offsets_other",
                "Offsets on the other side",
                entry="Other side",
                required=False,
                fewest=3,
                help="Only if the tape runs through the green: the offsets to the far edge, same stations.",
            ),
            Field(
                "rule",
                "Edge between offsets",
                kind="choice",
                default="simpson",
                choices=(
                    ("simpson", "Curved (Simpson's rule)"),
                    ("trapezoid", "Straight (trapezoidal rule)"),
                ),
                help="Curved for mown, rounded edges. Straight for an edge with corners.",
            ),
        ),
        (
            Way("spacing", "Evenly spaced", ("spacing",)),
            Way("stations", "At chosen places", ("stations",)),
        ),
    ),
    trace=trace,
    help="Stretch a tape along the longest line and leave it. Every metre, measure square across from it to "
    "the edge. The best way for a shape with bays and bulges.",
    group="irregular",
    order=100,
)
