"""Soil moisture by meter: mean and evenness, how much water brings it back, how far from wilting."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import DEFINITION, Figure, figure, step
from logic.survey.classes import limit, limit_source, limit_text
from logic.survey.kind import Finding, Kind, Spot
from logic.survey.several import readings_needed, several
from logic.units import nominal, quantity


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("readings", "moisture", key, label, **more)


FORM = Form(
    (
        _field("readings", "Meter readings", kind="list", entry="Reading", help="% by volume."),
        _field("depth", "Depth of roots, or of the probe", required=False),
        _field(
            "target", "Moisture wanted", required=False, help="This sward's own, a day or two after soaking."
        ),
        _field("wilt", "It wilted here at", required=False, help="This sward's own record beats any table."),
        _field("within", "Wanted to within, either way"),
        Field("meter", "Meter", kind="text", required=False, help="Meters differ on the same spot: use one."),
    )
)


def refill(now: Any, target: Any, depth: Any) -> Any:
    """Water that brings the root zone back [mm, which is L/m²]: (target − now) [%] ÷ 100 × depth [mm]; never
    less than 0. Source: definition of moisture by volume."""
    missing = (target - now) / 100 * depth
    return missing if nominal(missing) > 0 else 0.0


def read(v: Values, spot: Spot) -> Finding:
    """Mean moisture [% by volume], readings wanted, and the water that is missing [mm, L]."""
    if v.has("target") and v.has("wilt") and nominal(v.wilt) >= nominal(v.target):
        raise BadValue("wilt", "It must wilt at less than the moisture wanted.")
    found = several("moisture", "Moisture by volume", v.readings, "%")
    more = readings_needed("readings_needed", v.readings, "%", nominal(v.within))
    return Finding((*found, *more, *_refill(v, found[0], spot)), warnings=tuple(_warnings(v, found[0])))


def _refill(v: Values, mean: Figure, spot: Spot) -> tuple[Figure, ...]:
    if not (v.has("target") and v.has("depth")):
        return ()
    water = refill(mean.value.magnitude, v.target, v.depth)
    line = step(
        "({t} − {n}) over {d} = {w}",
        t=quantity(v.target, "%"),
        n=mean.value,
        d=quantity(v.depth, "mm"),
        w=quantity(water, "mm"),
    )
    found = [figure("refill", "Water to bring it back", water, "mm", line, source=DEFINITION, headline=True)]
    if spot.area is not None:
        litres = water * spot.area
        over = step(
            "{w} on {a} = {v}", w=quantity(water, "mm"), a=quantity(spot.area, "m^2"), v=quantity(litres, "L")
        )
        found.append(
            figure("refill_volume", "That is, on the whole sward", litres, "L", line, over, order=True)
        )
    return tuple(found)


def _warnings(v: Values, mean: Figure) -> Iterator[str]:
    if len(v.readings) < limit("moisture_count"):
        yield (
            f"Take at least {limit_text('moisture_count')} readings. Source: "
            f"{limit_source('moisture_count')}."
        )
    if v.has("wilt") and mean.nominal <= nominal(v.wilt):
        yield "At or below the moisture at which this sward has wilted: water by hand today."


KIND = Kind(
    key="moisture",
    name="Soil moisture",
    form=FORM,
    read=read,
    help="Probe as long as the roots are deep, always the same meter, straight in and not where it was "
    "before.",
    how_many="4 or more on a small green; 3 to 4 to every 93 m² on a sand rootzone.",
    tells_not="How much of it the roots can get at: that is the soil's own wilting point, which differs "
    "site by site.",
    alike=("meter", "depth"),
    group="soil",
    order=42,
)
