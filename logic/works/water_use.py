"""What the turf uses in a day: reference evaporation by weather, times a factor for cool-season turf."""

from __future__ import annotations

from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, quantity
from logic.works.operation import Ground, Operation, Work
from logic.works.sun import extraterrestrial_radiation

HARGREAVES = Source(
    "Hargreaves' equation, as in Allen et al., Crop evapotranspiration, FAO Irrigation and Drainage Paper "
    "56, 1998",
    "memory",
)
USE = Source("Brown and Kopec, AZ1195, University of Arizona, 2014: turf use = factor × reference")

#: Megajoules that evaporate a kilogram of water, turned round [mm per MJ/m²]. Source: FAO paper 56.
MM_PER_MJ = 0.408


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "water_use", key, label, **more)


FORM = Form(
    fields=(
        _field("et0", "Reference evaporation", help="Of a day, from a weather service."),
        _field("t_max", "Warmest of the day"),
        _field("t_min", "Coldest of the day"),
        _field("latitude", "Latitude", help="South is negative."),
        _field("day", "Day of the year", whole=True, help="1 January is 1, 1 July is 182."),
        Field(
            "season",
            "Month, for the factor",
            kind="choice",
            choices=tuple((r["key"], r["name"]) for r in tables.rows("crop_factors")),
            default="year",
        ),
        _field("crop_factor", "Factor, if you have your own", required=False),
        _field("days", "Days to make up for", required=False, whole=True),
    ),
    ways=(
        Way("et0", "From a weather service", ("et0",)),
        Way("temperature", "From the day's temperatures", ("t_max", "t_min", "latitude", "day")),
    ),
)


def hargreaves(t_max: Any, t_min: Any, radiation: Any) -> Any:
    """Reference evaporation [mm a day] = 0.0023 × (mean + 17.8) × √(max − min) × 0.408 Ra.

    Temperatures [°C], radiation Ra above the air [MJ/m²/day]. Source: Hargreaves, as in FAO paper 56.
    """
    mean, swing = (t_max + t_min) / 2, t_max - t_min
    return 0.0023 * (mean + 17.8) * swing**0.5 * MM_PER_MJ * radiation


def work(v: Values, ground: Ground) -> Work:
    """Reference evaporation, the turf's use, and the litres that make up for it. Raises BadValue."""
    reference = [*_reference(v)]
    factor, factor_source = _factor(v)
    use = reference[-1].value.magnitude * factor
    line = step("{e} × {k} = {u}", e=reference[-1].value, k=factor, u=quantity(use, "mm"))
    used = figure("turf_use", "The turf uses, a day", use, "mm", line, source=USE, headline=True)
    days = round(nominal(v.days or 1))
    litres = use * days * ground.area
    lost = step(
        "{u} × {n} on {a} = {v}",
        u=quantity(use, "mm"),
        n=f"{days} days" if days != 1 else "1 day",
        a=quantity(ground.area, "m^2"),
        v=quantity(litres, "L"),
    )
    return Work(
        (
            *reference,
            figure(
                "crop_factor",
                "Factor for the turf",
                factor,
                "",
                step("taken as {k}", k=factor),
                source=factor_source,
            ),
            used,
            figure(
                "water_volume", "Water to make up for it", litres, "L", line, lost, source=USE, headline=True
            ),
        )
    )


def _factor(v: Values) -> tuple[Any, Source]:
    if v.has("crop_factor"):
        return v.crop_factor, Source("", "setting")
    row = tables.row("crop_factors", key=v.season)
    return float(row["value"]), tables.source_of(row)


def _reference(v: Values) -> tuple[Figure, ...]:
    if v.has("et0"):
        line = step("as given: {e} a day", e=quantity(v.et0, "mm"))
        return (
            figure("et0", "Reference evaporation, a day", v.et0, "mm", line, source=Source("", "setting")),
        )
    if nominal(v.t_max) < nominal(v.t_min):
        raise BadValue("t_max", "The warmest of the day can't be below the coldest.")
    radiation = extraterrestrial_radiation(nominal(v.latitude), round(nominal(v.day)))
    et0 = max(0.0, hargreaves(nominal(v.t_max), nominal(v.t_min), radiation))
    sun = step("latitude {l}, day {d}: {r} MJ/m² a day above the air", l=v.latitude, d=v.day, r=radiation)
    line = step(
        "0.0023 × ({m} °C + 17.8) × √{s} × 0.408 × {r} = {e} a day",
        m=(v.t_max + v.t_min) / 2,
        s=v.t_max - v.t_min,
        r=radiation,
        e=quantity(et0, "mm"),
    )
    return (
        figure("radiation", "Sun above the air", radiation, "MJ/m^2", sun, source=HARGREAVES),
        figure("et0", "Reference evaporation, a day", et0, "mm", sun, line, source=HARGREAVES),
    )


OPERATION = Operation(
    key="water_use",
    name="What the turf uses",
    form=FORM,
    work=work,
    help="Water lost in a day by weather, to know when and how much to put back.",
    group="check",
    order=96,
)
