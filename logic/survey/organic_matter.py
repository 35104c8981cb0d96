"""Organic matter of the surface by loss on ignition, and whether enough turf was sampled for it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, figure, step
from logic.measure.sampling import whole
from logic.survey.classes import limit, limit_quantity, limit_source, limit_text
from logic.survey.kind import Finding, Kind, Spot
from logic.units import nominal, quantity, text_of

LOSS = Source("Loss on ignition: 100 × (dry − after burning) ÷ dry", "derived")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("readings", "organic_matter", key, label, **more)


FORM = Form(
    (
        _field("percent", "Organic matter, from the laboratory"),
        _field("dry", "Oven-dry weight"),
        _field("burned", "Weight after burning"),
        _field("top", "Slice from"),
        _field("bottom", "Slice to"),
        Field(
            "method",
            "How it was burned",
            kind="choice",
            choices=(
                ("whole_440", "Whole core, 440 °C"),
                ("sieved_360", "Ground or sieved, 360 °C"),
                ("other", "Another way, or not known"),
            ),
            default="other",
            help="Numbers of different ways are never compared.",
        ),
        _field("corer", "Diameter of the corer", required=False),
        _field("cores", "Cores from this sward", required=False, whole=True),
    ),
    ways=(
        Way("result", "From the laboratory", ("percent",)),
        Way("weighed", "By weights", ("dry", "burned")),
    ),
)


def loss_on_ignition(dry: Any, burned: Any) -> Figure:
    """Organic matter [% by weight] = 100 × (dry − burned) ÷ dry, weights [g].

    Raises BadValue when the burned weight is more than the dry one.
    Source: LOSS.
    """
    if nominal(burned) > nominal(dry):
        raise BadValue("burned", "It can't weigh more after burning than before.")
    percent = 100 * (dry - burned) / dry
    line = step(
        "({d} − {b}) ÷ {d} = {p}", d=quantity(dry, "g"), b=quantity(burned, "g"), p=quantity(percent, "%")
    )
    return figure("organic_matter", "Organic matter", percent, "%", line, source=LOSS, headline=True)


def core_area(diameter: Any, cores: int) -> Any:
    """Area of all cores together [cm²], diameter [mm]: cores × π d² ÷ 4."""
    return cores * math.pi * (diameter / 10) ** 2 / 4


def cores_for(diameter: Any) -> int:
    """Fewest cores of a corer [mm] that reach the least area of survey_limits.csv, never below its least
    count."""
    return max(int(limit("core_count")), whole(limit("core_area") / nominal(core_area(diameter, 1))))


def read(v: Values, spot: Spot) -> Finding:
    """Organic matter [%], area sampled, and cores wanted. Raises BadValue."""
    if nominal(v.bottom) <= nominal(v.top):
        raise BadValue("bottom", "The slice must end below where it begins.")
    if v.has("percent"):
        line = step("as the laboratory says: {p}", p=quantity(v.percent, "%"))
        setting = Source("", "setting")
        found = figure(
            "organic_matter", "Organic matter", v.percent, "%", line, source=setting, headline=True
        )
    else:
        found = loss_on_ignition(v.dry, v.burned)
    sampled = _sampled(v)
    return Finding((found, *sampled), warnings=tuple(_warnings(v, sampled)))


def _sampled(v: Values) -> tuple[Figure, ...]:
    if not v.has("corer"):
        return ()
    wanted, one = cores_for(v.corer), core_area(v.corer, 1)
    enough = step(
        "{a} ÷ {o} a core, and never fewer than {c} = {n}",
        a=limit_quantity("core_area"),
        o=quantity(one, "cm^2"),
        c=limit_quantity("core_count"),
        n=quantity(wanted, ""),
    )
    found = [figure("cores_wanted", "Cores wanted", wanted, "", enough, source=limit_source("core_area"))]
    if v.has("cores"):
        area = core_area(v.corer, round(v.cores))
        line = step(
            "{n} cores of {d} = {a}",
            n=quantity(v.cores, ""),
            d=quantity(v.corer, "mm"),
            a=quantity(area, "cm^2"),
        )
        found.append(figure("core_area", "Area of the cores", area, "cm^2", line))
    return tuple(found)


def _warnings(v: Values, sampled: tuple[Figure, ...]) -> Iterator[str]:
    yield (
        "No best value is agreed for organic matter: hold it against this sward's own earlier tests, by the "
        "same laboratory and method. Source: A standard method for measuring putting green surface organic "
        "matter, USGA Green Section Record 62(2), 2024."
    )
    area = next((f.nominal for f in sampled if f.key == "core_area"), None)
    if area is not None and area < limit("core_area"):
        yield (
            f"These cores cover {text_of(quantity(area, 'cm^2'))}, less than {limit_text('core_area')}: take "
            f"{cores_for(v.corer)}. Source: {limit_source('core_area')}."
        )
    depth = nominal(v.bottom) - nominal(v.top)
    if nominal(v.top) == 0 and not limit("slice_least") <= depth <= limit("slice_most"):
        yield (
            f"The standard slice is the top {limit_text('slice_least')} to {limit_text('slice_most')}; "
            f"another depth gives another number. Source: {limit_source('slice_least')}."
        )


KIND = Kind(
    key="organic_matter",
    name="Organic matter",
    form=FORM,
    read=read,
    help="Cores from the top 20 mm, green leaf left on, not ground or sieved, dried at once; away from "
    "walk-on paths and odd shade.",
    how_many="5 cores or more, and 25 cm² of cores together: 8 with a 20 mm corer.",
    tells_not="Whether it is good or bad for this green: fine greens are found from 5 to 12 %. The trend is "
    "what counts.",
    alike=("method", "top", "bottom"),
    group="soil",
    order=24,
)
