"""Compaction by cone probe: how hard roots find it at each depth, and where a pan begins and ends."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, figure, step
from logic.survey.classes import label
from logic.survey.kind import Finding, Kind, Label, Line, Spot
from logic.units import nominal, quantity

SCALE = "compaction"
HARD = ("restricting", "root-limiting")


def _field(key: str, label_: str, **more: Any) -> Field:
    return from_table("readings", "compaction", key, label_, **more)


FORM = Form(
    (
        Field(
            "profile",
            "Probe readings",
            kind="rows",
            entry="Depth",
            row=(_field("depth", "Depth"), _field("resistance", "Resistance", help="200 psi is 1,379 kPa.")),
            help="From the top down, pushed at about 25 mm a second.",
        ),
        _field("moisture", "Moisture of the surface", required=False, help="% by volume."),
        _field("field_capacity", "This sward's own moisture a day or two after soaking", required=False),
    )
)


def read(v: Values, spot: Spot) -> Finding:
    """Hardest reading [kPa] with its class and depth, and the pan. Raises BadValue when depths don't go down.

    Dry soil reads high: drier than its own field capacity it gets no class.
    """
    rows = [(nominal(row.depth), nominal(row.resistance)) for row in v.profile]
    if any(b[0] <= a[0] for a, b in pairwise(rows)):
        raise BadValue("profile", "Give the depths from the top down.")
    depth, hardest = max(rows, key=lambda row: row[1])
    dry = v.has("moisture") and v.has("field_capacity") and nominal(v.moisture) < nominal(v.field_capacity)
    line = step("hardest of {n} readings: {r}", n=quantity(len(rows), ""), r=quantity(hardest, "kPa"))
    at = step("it lies at {d}", d=quantity(depth, "mm"))
    figures = (
        figure("compaction", "Hardest reading", hardest, "kPa", line, headline=True),
        figure("compaction_depth", "Depth of the hardest reading", depth, "mm", line, at),
        *_pan(rows),
    )
    labels = () if dry else (label("compaction", SCALE, hardest),)
    drawing = (Line("resistance, kPa", "depth", tuple((r, d) for d, r in rows)),)
    return Finding(figures, labels, tuple(_warnings(v, dry, labels)), drawing=drawing)


def _pan(rows: list[tuple[float, float]]) -> tuple[Figure, ...]:
    """Top and bottom [mm] of the run of readings about the hardest in which roots suffer."""
    hard = [label("", SCALE, resistance).word in HARD for _, resistance in rows]
    place = max(range(len(rows)), key=lambda i: rows[i][1])
    if not hard[place]:
        return ()
    first = last = place
    while first > 0 and hard[first - 1]:
        first -= 1
    while last + 1 < len(rows) and hard[last + 1]:
        last += 1
    line = step(
        "roots suffer from {a} to {b}", a=quantity(rows[first][0], "mm"), b=quantity(rows[last][0], "mm")
    )
    return (
        figure("pan_top", "Hard from", rows[first][0], "mm", line),
        figure("pan_bottom", "Hard to", rows[last][0], "mm", line),
    )


def _warnings(v: Values, dry: bool, labels: tuple[Label, ...]) -> Iterator[str]:
    if dry:
        yield (
            "Drier than this soil's own field capacity: it reads too hard, so it is given no class. Soak "
            "and wait a day."
        )
    elif not (v.has("moisture") and v.has("field_capacity")):
        yield "Dry soil reads too hard: probe a day or two after soaking, and note the moisture beside it."
    if any(one.word in HARD for one in labels):
        yield f"Roots suffer here. Source: {labels[0].source}."


KIND = Kind(
    key="compaction",
    name="Compaction",
    form=FORM,
    read=read,
    help="A day or two after a thorough wetting, push the cone down steadily at about 25 mm a second; note "
    "the depth of any peak.",
    how_many="5 or more places, walked and unwalked.",
    tells_not="Anything while the soil is dry; and a stone reads like a pan.",
    alike=(),
    group="soil",
    order=40,
)
