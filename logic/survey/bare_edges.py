"""Bare or thin edges, as lengths round the outline."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

from logic.field import Field, Form, Values, from_table
from logic.figure import figure, step
from logic.measure.geometry import Point, Polygon
from logic.survey.kind import Finding, Kind, Line, Spot
from logic.units import nominal, quantity


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("readings", "bare_edges", key, label, paces=True, measured=True, **more)


FORM = Form(
    (
        Field(
            "edges",
            "Bare edges",
            kind="rows",
            entry="Stretch",
            row=(
                _field(
                    "start", "Starts at, from corner A", help="Along the edge, anticlockwise.", required=False
                ),
                _field("length", "Length"),
                _field("width", "Width in from the edge", required=False),
            ),
        ),
    )
)


def along(polygon: Polygon, start: float, length: float) -> tuple[Point, ...]:
    """The stretch of a closed outline from `start` [m from its first corner] on for `length` [m]."""
    corners = [*polygon, polygon[0]]
    sides = [math.dist(a, b) for a, b in pairwise(corners)]
    round_ = math.fsum(sides)
    start, left = start % round_, min(length, round_)
    found: list[Point] = []
    passed, index = 0.0, 0
    while passed + sides[index] <= start:
        passed, index = passed + sides[index], (index + 1) % len(sides)
    offset = start - passed
    while True:
        (ax, ay), (bx, by) = corners[index], corners[index + 1]
        share = offset / sides[index] if sides[index] else 0.0
        found.append((ax + share * (bx - ax), ay + share * (by - ay)))
        room = sides[index] - offset
        if left <= room:
            share = (offset + left) / sides[index] if sides[index] else 0.0
            found.append((ax + share * (bx - ax), ay + share * (by - ay)))
            return tuple(found)
        left, offset, index = left - room, 0.0, (index + 1) % len(sides)


def read(v: Values, spot: Spot) -> Finding:
    """Length of bare edge [m], its share of the perimeter, its area [m²], and where it lies on the sketch."""
    total = sum(row.length for row in v.edges)
    added = step("{n} stretches together = {t}", n=quantity(len(v.edges), ""), t=quantity(total, "m"))
    found = [figure("bare_edge", "Bare edge", total, "m", added, headline=True)]
    warnings = []
    if spot.perimeter is not None and nominal(spot.perimeter) > 0:
        share = 100 * total / spot.perimeter
        line = step(
            "{t} of {p} = {s}",
            t=quantity(total, "m"),
            p=quantity(spot.perimeter, "m"),
            s=quantity(share, "%"),
        )
        found.append(figure("bare_edge_share", "Share of the edge that is bare", share, "%", added, line))
        if nominal(total) > nominal(spot.perimeter):
            warnings.append("These stretches are longer than the whole edge. Check them.")
    wide = [row for row in v.edges if row.has("width")]
    if wide:
        area = sum(row.length * row.width for row in wide)
        line = step("length × width, {n} stretches = {a}", n=quantity(len(wide), ""), a=quantity(area, "m^2"))
        found.append(figure("bare_area", "Bare ground at the edge", area, "m^2", line))
    return Finding(tuple(found), warnings=tuple(warnings), drawing=_drawing(v, spot))


def _drawing(v: Values, spot: Spot) -> tuple[Line, ...]:
    if len(spot.polygon) < 3:
        return ()
    return tuple(
        Line("bare edge", "sketch", along(spot.polygon, nominal(row.start), nominal(row.length)))
        for row in v.edges
        if row.has("start")
    )


KIND = Kind(
    key="bare_edges",
    name="Bare edges",
    form=FORM,
    read=read,
    help="Walk the edge and note where it is bare: from where, how long, how far in.",
    how_many="Every stretch longer than a hand.",
    tells_not="Why: look for shade, roots of trees, paths, scalping and dry banks.",
    group="grass",
    order=34,
)
