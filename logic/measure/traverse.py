"""A closed walk: bearings and distances round the edge, its misclosure shared out by the compass rule."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from uncertainties import umath

from logic.errors import ImpossibleShape
from logic.field import Field, Form, Values
from logic.figure import Source, Step, step
from logic.measure.asking import length, m, m2, percent, setting, with_margin
from logic.measure.coordinates import refuse_no_outline
from logic.measure.geometry import nominal_polygon, perimeter, shoelace
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal, plus_minus, quantity, spread, text_of

SOURCE = Source(
    "Closed traverse, compass (Bowditch) rule: Purdue University ASM 215, traverse calculation; "
    "J. Mahun, Open Access Surveying Library"
)


@dataclass(frozen=True)
class Adjusted:
    """A walk made to close. north, east: legs after the adjustment; gap_north, gap_east: their sums before;
    length: the whole way; all in the unit of the legs, ± allowed."""

    north: tuple[Any, ...]
    east: tuple[Any, ...]
    gap_north: Any
    gap_east: Any
    length: Any

    @property
    def misclosure(self) -> float:
        """How far the walk missed its start."""
        return math.hypot(nominal(self.gap_north), nominal(self.gap_east))

    @property
    def share(self) -> float:
        """The misclosure as a share of the way."""
        return self.misclosure / nominal(self.length)

    def corners(self) -> list[tuple[Any, Any]]:
        """(east, north) of each corner, the first at (0, 0)."""
        spots: list[tuple[Any, Any]] = [(0.0, 0.0)]
        for north, east in zip(self.north[:-1], self.east[:-1], strict=True):
            spots.append((spots[-1][0] + east, spots[-1][1] + north))
        return spots


def compass_rule(north: Sequence[Any], east: Sequence[Any], distances: Sequence[Any]) -> Adjusted:
    """Share the misclosure out over the legs by their length.

    north, east: latitudes and departures; correction to each = −(sum) × its length ÷ the whole way.
    Source: Purdue University ASM 215, traverse calculation (Bowditch's rule).
    """
    way, gap_n, gap_e = sum(distances), sum(north), sum(east)
    return Adjusted(
        tuple(n - gap_n * d / way for n, d in zip(north, distances, strict=True)),
        tuple(e - gap_e * d / way for e, d in zip(east, distances, strict=True)),
        gap_n,
        gap_e,
        way,
    )


def trace(v: Values, ctx: Context) -> Trace:
    """Area [m²] of the adjusted walk; bearings from north, clockwise [degrees], distances [m].

    Refused when it misses its start by more than 5 % of the way round, or crosses itself.
    """
    bearings = [with_margin(leg.bearing, "compass_margin", "compass") for leg in v.legs]
    distances = [leg.distance for leg in v.legs]
    turns = [b * (math.pi / 180) for b in bearings]
    north = [d * umath.cos(t) for d, t in zip(distances, turns, strict=True)]
    east = [d * umath.sin(t) for d, t in zip(distances, turns, strict=True)]
    walk = compass_rule(north, east, distances)
    warnings = _judged(walk)
    corners = walk.corners()
    refuse_no_outline([(nominal(x), nominal(y)) for x, y in corners], "legs")
    signed = shoelace(corners)
    area = signed if nominal(signed) > 0 else -signed
    area, widened = _widened(area, walk)
    spots = [(nominal(x), nominal(y)) for x, y in corners]
    ends = [*spots[1:], spots[0]]
    return Trace(
        polygon=nominal_polygon(corners),
        area=area,
        perimeter=perimeter(corners),
        steps=(
            step(
                "{n} legs, {way} in all, end {e} from where they began: {share} of the way",
                n=quantity(len(distances), ""),
                way=m(walk.length),
                e=m(walk.misclosure),
                share=percent(walk.share),
            ),
            step(
                "shared out by length (compass rule): {n} north and {e} east over the whole walk",
                n=m(-walk.gap_north),
                e=m(-walk.gap_east),
            ),
            step("area from the adjusted corners, half the sum of the cross products = {a}", a=m2(area)),
            *widened,
        ),
        source=SOURCE,
        dimensions=tuple(
            Dimension(p, q, m(d), f"legs.{i}.distance")
            for i, (p, q, d) in enumerate(zip(spots, ends, distances, strict=True))
        ),
        warnings=warnings,
        north=0.0,
    )


def _judged(walk: Adjusted) -> tuple[str, ...]:
    missed, share = text_of(m(walk.misclosure)), text_of(percent(walk.share), figures=2)
    if walk.share > setting("misclosure_refuse"):
        limit = text_of(percent(setting("misclosure_refuse")))
        raise ImpossibleShape(
            f"The walk ends {missed} from where it began: {share} of the way round, more than {limit}. "
            "A leg or a bearing is wrong; walk it again.",
            "legs",
        )
    if walk.share > setting("misclosure_warn"):
        sentence = (
            f"The walk ends {missed} from where it began ({share} of the way round). It has been made to "
            "close, but sharing an error out does not remove it: walk it again if you can."
        )
        return (sentence,)
    return ()


def _widened(area: Any, walk: Adjusted) -> tuple[Any, tuple[Step, ...]]:
    """The area with a larger ± when the walk missed by more than its readings' own ± explain."""
    expected = math.hypot(spread(walk.gap_north), spread(walk.gap_east))
    ratio = walk.misclosure / expected
    if ratio <= 1:
        return area, ()
    extra = spread(area) * math.sqrt(ratio * ratio - 1)
    line = step(
        "it misses by {r:2} times what the tape and compass explain ({x}), so the ± is made that much wider",
        r=quantity(ratio, ""),
        x=m(expected),
    )
    return area + plus_minus(0.0, extra, "closing"), (line,)


METHOD = Method(
    key="traverse",
    name="Walk round with a compass",
    form=Form(
        (
            Field(
                "legs",
                "Legs",
                entry="Leg",
                kind="rows",
                fewest=3,
                row=(
                    Field(
                        "bearing",
                        "Bearing",
                        "degree",
                        kind="bearing",
                        help="Where you walk to, clockwise from north: 0 to 360, or like N26 10E.",
                    ),
                    length("distance", "Distance", help="From this corner to the next, by tape or paces."),
                ),
                help="One row for each straight leg, the last one back to where you began.",
            ),
        )
    ),
    trace=trace,
    help="Walk from corner to corner and back to the start. The walk's own gap shows how good it was. "
    "Keep the compass away from steel edging, cars and reinforced slabs; where it can't be, use ties.",
    group="irregular",
    order=140,
)
