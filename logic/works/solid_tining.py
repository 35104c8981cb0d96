"""Solid tining and spiking: holes that let in air and water without taking anything out."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, from_table
from logic.figure import DEFINITION, Figure, step
from logic.units import nominal, quantity
from logic.works import bulk, going_over, openings, substitutes
from logic.works.holes import (
    holes_in_all,
    holes_per_area,
    refuse_touching,
    share_line,
    share_of_surface,
)
from logic.works.operation import Ground, Operation, Work


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "solid_tining", key, label, **more)


FORM = Form(
    fields=(
        _field("tine_diameter", "Diameter of the tine or spike"),
        _field("spacing_across", "Spacing across the machine"),
        _field("spacing_along", "Spacing along the run"),
        _field("depth", "Depth"),
        _field("passes", "Passes", whole=True),
        _field(
            "fill_share",
            "Share of each hole that sand will fill",
            help="0 when the holes are left to close; they close from the sides, so seldom all of it.",
        ),
        substitutes.field("solid_tining"),
        _field("bulk_density", "Bulk density of the filling sand"),
        *going_over.fields("solid_tining"),
    )
)


def work(v: Values, ground: Ground) -> Work:
    """All figures of a solid tining. Raises BadValue when the holes would run into each other."""
    refuse_touching(v)
    passes = round(v.passes)
    share = share_of_surface(v.tine_diameter, v.spacing_across, v.spacing_along)
    line = share_line(v.tine_diameter, v.spacing_across, v.spacing_along)
    surface, truly = openings.surface_figures(
        "surface_holed", "Surface holed", share, passes, line, source=DEFINITION
    )
    holes = holes_per_area(v.spacing_across, v.spacing_along)
    figures = (
        *surface,
        *openings.visit_total(share * passes, ground),
        holes,
        holes_in_all(holes, passes, ground.area),
        *_volumes(v, ground, truly),
        *going_over.going_over(v, ground, passes, headline=True),
    )
    warnings = (*openings.visit_warnings(share * passes, ground), *substitutes.cost(v, "solid_tining"))
    return Work(figures, warnings, openings.depth_cautions(v.depth))


def _volumes(v: Values, ground: Ground, truly: Any) -> tuple[Figure, ...]:
    """The volume of the holes, and sand for the share of it that will take sand."""
    litres = truly / 100 * v.depth * ground.area
    pressed = openings.volume_line(truly, v.depth, ground.area, litres)
    volume = bulk.volume_figure(
        "hole_volume", "Volume pressed open, nothing removed", litres, pressed, source=openings.FILL
    )
    if nominal(v.fill_share) == 0:
        return (volume,)
    taken = litres * v.fill_share / 100
    part = step(
        "{v} × {s} that takes sand = {t}",
        v=bulk.volume(litres),
        s=quantity(v.fill_share, "%"),
        t=bulk.volume(taken),
    )
    return (volume, *openings.fill_figures(taken, ground.area, v.bulk_density, pressed, part))


OPERATION = Operation(
    key="solid_tining",
    name="Solid tining and spiking",
    form=FORM,
    work=work,
    help="Lets air and water in between corings; takes out no thatch.",
    cautions=("garden_wires", "vibration"),
    group="open up",
    order=22,
)
