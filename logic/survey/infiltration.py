"""How fast water goes in: a single ring, a double ring, or a falling head on a core."""

from __future__ import annotations

import math
from typing import Any

from uncertainties import umath

from logic.errors import BadValue
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import DEFINITION, Figure, Source, figure, step
from logic.survey.classes import label
from logic.survey.kind import Finding, Kind, Spot
from logic.units import nominal, quantity

DARCY = Source("Falling head on a confined core, Darcy's law: K = L ÷ t × ln(h0 ÷ h1)", "memory")
RING = Source("Infiltration test, Soil quality test kit ch. 3, USDA: fall over time in a ring")


def _field(key: str, label_: str, **more: Any) -> Field:
    return from_table("readings", "infiltration", key, label_, **more)


FORM = Form(
    (
        Field(
            "ring_kind",
            "Ring",
            kind="choice",
            choices=(("single", "One ring"), ("double", "Two rings, level kept in both")),
            default="single",
        ),
        _field("ring", "Inside diameter of the (inner) ring"),
        _field("fall", "Fall of the water, or depth poured in"),
        _field("minutes", "Time it took"),
        _field("core_length", "Length of the core"),
        _field("head_start", "Head at the start"),
        _field("head_end", "Head at the end"),
        _field("seconds", "Time between"),
    ),
    ways=(
        Way("ring", "By ring", ("ring_kind", "ring", "fall", "minutes")),
        Way("falling", "Falling head on a core", ("core_length", "head_start", "head_end", "seconds")),
    ),
)


def ring_volume(diameter: Any, depth: Any) -> Any:
    """Water that stands `depth` [mm] deep in a ring of that inside diameter [mm], in mL: π d² ÷ 4 × depth."""
    return math.pi * diameter**2 / 4 * depth / 1000


def falling_head(length: Any, start: Any, end: Any, seconds: Any) -> Any:
    """Conductivity [mm/h] = L ÷ t × ln(h0 ÷ h1), lengths [mm], time [s]. Source: DARCY."""
    return length / seconds * 3600 * umath.log(start / end)


def read(v: Values, spot: Spot) -> Finding:
    """Rate [mm/h] with its class, and for a ring the water to bring. Raises BadValue."""
    found = _falling(v) if v.has("core_length") else _ring(v)
    warnings = []
    if v.has("fall"):
        if v.ring_kind == "single":
            warnings.append(
                "One ring reads high, as water also goes sideways. Wet first, run it twice, use the second."
            )
        warnings.append("Never hold a single ring, a double ring and a falling head against each other.")
    return Finding(found, (label("infiltration", "infiltration", found[0].nominal),), tuple(warnings))


def _ring(v: Values) -> tuple[Figure, ...]:
    rate = v.fall / v.minutes * 60
    line = step(
        "{f} in {t}: {f} ÷ {t} × 60 = {r}",
        f=quantity(v.fall, "mm"),
        t=quantity(v.minutes, "minute"),
        r=quantity(rate, "mm/hour"),
    )
    water = ring_volume(v.ring, v.fall)
    poured = step(
        "π × ({d})² ÷ 4 × {f} = {w}",
        d=quantity(v.ring, "mm"),
        f=quantity(v.fall, "mm"),
        w=quantity(water, "mL"),
    )
    return (
        figure("infiltration", "Water goes in at", rate, "mm/hour", line, source=RING, headline=True),
        figure("ring_volume", "Water for that depth in the ring", water, "mL", poured, source=DEFINITION),
    )


def _falling(v: Values) -> tuple[Figure, ...]:
    if nominal(v.head_end) >= nominal(v.head_start):
        raise BadValue("head_end", "The head must be lower at the end than at the start.")
    rate = falling_head(v.core_length, v.head_start, v.head_end, v.seconds)
    line = step(
        "{l} ÷ {t} × ln({a} ÷ {b}) = {r}",
        l=quantity(v.core_length, "mm"),
        t=quantity(v.seconds, "second"),
        a=quantity(v.head_start, "mm"),
        b=quantity(v.head_end, "mm"),
        r=quantity(rate, "mm/hour"),
    )
    return (figure("infiltration", "Water goes in at", rate, "mm/hour", line, source=DARCY, headline=True),)


KIND = Kind(
    key="infiltration",
    name="Infiltration",
    form=FORM,
    read=read,
    help="Knock the ring in level, wet the soil and let it drain, then fill, time the fall, and do it "
    "again: the second run counts.",
    how_many="3 or more places: one ring in a hollow says nothing of the green.",
    tells_not="Drainage below the rings. One ring reads high through sideways flow; methods are never mixed.",
    alike=("ring_kind", "ring"),
    group="soil",
    order=44,
)
