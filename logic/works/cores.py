"""What becomes of the cores: cleared away, or broken up and worked back in."""

from __future__ import annotations

from typing import Any

from logic.field import Values
from logic.figure import PRACTICE, Figure, Source, Step, figure, step
from logic.units import quantity
from logic.works import bulk, openings
from logic.works.operation import Ground

#: What can be done with them: key and words.
CHOICES = (("clear", "cleared away"), ("return", "broken up and worked back in"))
DENSITY = Source("density of moist cores", "memory")


def core_figures(v: Values, ground: Ground, truly: Any, shared: tuple[Step, ...]) -> tuple[Figure, ...]:
    """Cores to clear or work back in, and the sand that the holes then take."""
    litres = truly / 100 * v.depth * ground.area
    out = openings.volume_line(truly, v.depth, ground.area, litres)
    mass = litres * v.core_density / 1000
    kept, back = _worked_back(v, litres)
    words = "to clear" if v.cores == "clear" else "pulled"
    return (
        bulk.volume_figure(
            "core_volume", f"Cores {words}", litres, *shared, out, source=openings.FILL, headline=True
        ),
        openings.per_area("core_volume_per_area", "Cores by area", litres, ground.area),
        figure(
            "core_mass",
            f"Weight of the cores {words}",
            mass,
            "kg",
            out,
            openings.weight_line(litres, v.core_density, mass),
            source=DENSITY,
        ),
        *kept,
        *openings.fill_figures(litres - back, ground.area, v.bulk_density, out, *(k.steps[-1] for k in kept)),
    )


def _worked_back(v: Values, litres: Any) -> tuple[tuple[Figure, ...], Any]:
    """Figures of cores worked back in, and the litres of sand and soil that they return to the holes."""
    if v.cores == "clear":
        return (), 0.0
    back = litres * v.sand_share / 100
    parts = {
        "c": bulk.volume(litres),
        "s": quantity(v.sand_share, "%"),
        "b": bulk.volume(back),
        "t": bulk.volume(litres - back),
    }
    returned = step("{c} of cores × {s} sand and soil worked back in = {b}", **parts)
    left = step(
        "{c} of cores − {b} worked back in = {t} of thatch to rake off, and holes still open", **parts
    )
    return (
        bulk.volume_figure("sand_returned", "Sand and soil returned", back, returned, source=PRACTICE),
        bulk.volume_figure(
            "thatch_volume", "Thatch to rake off", litres - back, returned, left, source=PRACTICE
        ),
    ), back
