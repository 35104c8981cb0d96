"""What scarifying and verticutting share: blades that cut grooves, in passes that cross."""

from __future__ import annotations

from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, Step, step
from logic.units import nominal, quantity
from logic.works import bulk, going_over, openings, substitutes
from logic.works.operation import Ground, Work

SHARE = Source(
    "Ervin and Nichols, Organic matter dilution programs, USGA Green Section Record 48(16), 2010 "
    "(3 mm blades at 1 in: 11.8 %)"
)
DEBRIS = Source("loose debris against what the blades cut out", "practice")


def form(operation: str) -> Form:
    """The form of a work with blades; ranges and defaults in works.csv under `operation`."""

    def field(key: str, label: str, **more: Any) -> Field:
        return from_table("works", operation, key, label, **more)

    return Form(
        fields=(
            field("blade_width", "Thickness of a blade"),
            field("blade_spacing", "Spacing of the blades"),
            field("depth", "Depth below the surface"),
            field("passes", "Passes", whole=True),
            going_over.angles_field(operation),
            substitutes.field(operation),
            field("debris_bulk", "Loose debris for each litre cut out"),
            field("bulk_density", "Bulk density of the filling sand"),
            *going_over.fields(operation),
        )
    )


def share_of_surface(width: Any, spacing: Any) -> Any:
    """Share of the surface [%] that blades of `width` every `spacing` cut in one pass, both in one unit."""
    return width / spacing * 100


def work(v: Values, ground: Ground, operation: str) -> Work:
    """Figures of one work with blades. Raises BadValue when the blades touch or directions don't match."""
    if nominal(v.blade_spacing) <= nominal(v.blade_width):
        raise BadValue("blade_spacing", "The spacing of the blades must be more than their thickness.")
    passes = round(v.passes)
    share = share_of_surface(v.blade_width, v.blade_spacing)
    line = step(
        "blades of {w} every {s} = {p}",
        w=quantity(v.blade_width, "mm"),
        s=quantity(v.blade_spacing, "mm"),
        p=quantity(share, "%"),
    )
    surface, truly = openings.surface_figures(
        "surface_affected", "Surface cut", share, passes, line, source=SHARE
    )
    figures = (
        *surface,
        *openings.visit_total(share * passes, ground),
        *_volumes(v, ground, truly, surface[-1].steps),
        *going_over.going_over(v, ground, passes, headline=True),
    )
    angles = going_over.directions(v, passes)
    warnings = (
        *going_over.crossing_warnings(angles),
        *openings.visit_warnings(share * passes, ground),
        *substitutes.cost(v, operation),
    )
    return Work(figures, warnings, openings.depth_cautions(v.depth))


def _volumes(v: Values, ground: Ground, truly: Any, shared: tuple[Step, ...]) -> tuple[Figure, ...]:
    litres = truly / 100 * v.depth * ground.area
    cut = openings.volume_line(truly, v.depth, ground.area, litres)
    loose = step(
        "{v} cut out lies about {b} times as loose: {d}",
        v=bulk.volume(litres),
        b=v.debris_bulk,
        d=bulk.volume(litres * v.debris_bulk),
    )
    return (
        bulk.volume_figure(
            "groove_volume", "Volume of the grooves", litres, *shared, cut, source=openings.FILL
        ),
        openings.per_area("groove_volume_per_area", "Grooves by area", litres, ground.area),
        bulk.volume_figure(
            "debris_volume",
            "Debris to rake off and cart",
            litres * v.debris_bulk,
            cut,
            loose,
            source=DEBRIS,
            headline=True,
        ),
        *openings.fill_figures(litres, ground.area, v.bulk_density, cut),
    )
