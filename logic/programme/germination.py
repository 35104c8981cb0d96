"""When seed comes up: thermal time by species, and whether the soil is warm enough to sow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logic import tables
from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.programme.limits import limit, limit_source, limit_text
from logic.units import quantity, text_of

GO, WAIT, NO = "go", "wait", "no"


@dataclass(frozen=True)
class Sowing:
    """Whether to sow: state "go", "wait" or "no", the sentence that says why, and its source."""

    state: str
    sentence: str
    source: Source


def sowing(soil: float, falling: bool = False) -> Sowing:
    """Whether soil [°C] is warm enough to sow fine turf: go from 10 °C rising or steady, wait from 8 °C.

    Source: rows sow_go and sow_wait of timing_limits.csv.
    """
    found, go = text_of(quantity(soil, "degC")), limit_text("sow_go")
    source = limit_source("sow_go")
    if soil < limit("sow_wait"):
        said = f"Seed before the soil is warm enough: {found}, and fine grasses come up from about {go}."
        return Sowing(NO, said, limit_source("sow_wait"))
    if soil < limit("sow_go"):
        return Sowing(WAIT, f"Soil at {found} is just short of {go}: seed lies longer and rots more.", source)
    if falling:
        said = f"Soil at {found} is warm enough but cooling: sow at once or wait for spring."
        return Sowing(WAIT, said, source)
    return Sowing(GO, f"Soil at {found} is warm enough.", source)


def thermal_days(species: str, soil: float) -> Figure | None:
    """Days to half of final germination at a steady soil temperature [°C]: θ ÷ (T − base).

    None where nothing is published for the grass. Raises BadValue at or below its base temperature.
    Source: Larsen and Bibby, Crop Science 45:2030-2037, 2005; in dishes, 8 to 24 °C. The field is slower.
    """
    row = tables.row("timing_germination", species=species)
    if not row["base"]:
        return None
    base, theta = float(row["base"]), float(row["thermal"])
    if soil <= base:
        found = text_of(quantity(base, "degC"))
        raise BadValue("soil", f"{row['name']} does not germinate at or below {found}.")
    days = theta / (soil - base)
    line = step(
        "{h} degree-days ÷ ({t} − {b}) = {d}",
        h=theta,
        t=quantity(soil, "degC"),
        b=quantity(base, "degC"),
        d=quantity(days, "day"),
    )
    slower = step(
        "counted in dishes: in the field it takes longer, more so with cool nights or a dry surface"
    )
    return figure(
        "germination_days",
        f"{row['name']}: half germinated after",
        days,
        "day",
        line,
        slower,
        source=tables.source_of(row),
    )


def day_reached(species: str, soils: Sequence[float]) -> tuple[int | None, float]:
    """(day on which the daily sum Σ max(0, T − base) first reaches θ, or None; the sum by then or so far).

    soils: mean soil temperature of each day from sowing [°C]. Raises BadValue for a grass without a figure.
    Source: as thermal_days.
    """
    row = tables.row("timing_germination", species=species)
    if not row["base"]:
        raise BadValue("species", f"No thermal time is published for {row['name'].lower()}.")
    total, base, theta = 0.0, float(row["base"]), float(row["thermal"])
    for day, soil in enumerate(soils, start=1):
        total += max(0.0, soil - base)
        if total >= theta:
            return day, total
    return None, total


def days_to_come_up(species: str) -> tuple[float, float, Source]:
    """Days after which the grass usually shows in warm soil: (soonest, latest, source). Raises
    LookupError."""
    row = tables.row("timing_germination", species=species)
    return float(row["up_low"]), float(row["up_high"]), Source("", "memory")
