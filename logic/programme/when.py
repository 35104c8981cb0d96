"""When the work falls: month, climate and soil as typed, and how long seed and surface then take."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form
from logic.figure import Figure
from logic.programme import season
from logic.programme.conflicts import Times
from logic.programme.germination import days_to_come_up, thermal_days
from logic.programme.recovery import days_to_cover
from logic.programme.season import Climate, climate_of
from logic.units import nominal
from logic.works.operation import Worked

TODAY = Form(
    (
        Field(
            "soil",
            "Soil temperature now",
            "degC",
            least=-20,
            most=45,
            usual=(0, 30),
            required=False,
            help="At 50 mm deep, in the morning. Seed goes by it.",
        ),
    )
)
LATITUDE = Form(
    (
        Field(
            "latitude",
            "Latitude, in degrees",
            least=-90,
            most=90,
            required=False,
            help="Optional. South of the equator it is negative, and the months turn round.",
        ),
    )
)
_OPENED = ("surface_removed", "surface_affected", "surface_holed")


def climate_read(raw: Any) -> Climate | None:
    """The climate of a sward's own log as typed; None until all twelve months can be read."""
    given = raw if isinstance(raw, Mapping) else {}
    values = season.FORM.read(given).values
    if values is None:
        return None
    place = LATITUDE.read(given).values
    latitude = nominal(place.latitude) if place is not None and place.has("latitude") else None
    try:
        return climate_of(values, latitude)
    except BadValue:
        return None


def times_of(programme: Mapping[str, Any], climate: Any, day: date) -> Times:
    """What is known of when: the month chosen or that of `day`, the climate, and today's soil as typed."""
    typed = TODAY.read(programme).values
    soil = nominal(typed.soil) if typed is not None and typed.has("soil") else None
    month = programme.get("month")
    chosen = month if isinstance(month, int) and 1 <= month <= 12 else day.month
    return Times(chosen, climate_read(climate), soil, programme.get("soil_falling") is True)


def soil_at(when: Times) -> float | None:
    """The soil temperature [°C] to reckon with: today's as typed, else the month's mean."""
    if when.soil is not None:
        return when.soil
    return when.climate.soil[when.month - 1] if when.climate and when.month else None


def how_long(
    worked: Worked, species: tuple[str, ...], when: Times
) -> tuple[tuple[Figure, ...], tuple[str, ...]]:
    """How long seed takes to come up and the surface to close after a work: figures, and sentences where a
    figure can't be given."""
    figures: list[Figure] = []
    said: list[str] = []
    if worked.operation.key == "overseeding":
        _coming_up(species, soil_at(when), figures, said)
    opened = next((f.nominal for f in worked.figures if f.key in _OPENED), 0.0)
    if opened > 0 and when.climate and when.month:
        try:
            figures.append(days_to_cover(max(0.0, 100 - opened), when.climate.growth(when.month)))
        except BadValue as bad:
            if bad.field_key != "cover":
                said.append(bad.sentence)
    return tuple(figures), tuple(said)


def _coming_up(species: tuple[str, ...], soil: float | None, figures: list[Figure], said: list[str]) -> None:
    for one in species:
        low, high, source = days_to_come_up(one)
        name = tables.row("timing_germination", species=one)["name"]
        said.append(f"{name} usually shows after {low:g} to {high:g} days in warm soil ({source}).")
        if soil is None:
            continue
        try:
            found = thermal_days(one, soil)
        except BadValue as cold:
            said.append(cold.sentence)
            continue
        if found is not None:
            figures.append(found)
