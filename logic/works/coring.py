"""Hollow coring: holes, surface removed, cores to clear, and sand to fill the holes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import PRACTICE, Figure, Source, figure
from logic.units import nominal, quantity, text_of
from logic.works import cores, going_over, openings
from logic.works.holes import (
    holes_in_all,
    holes_per_area,
    refuse_touching,
    share_line,
    share_of_surface,
)
from logic.works.limits import limit
from logic.works.operation import Ground, Operation, Work

SHARE = Source(
    "Bowling green maintenance: end of season, Grounds Management Association "
    "(18 mm at 50 mm centres: 10 %; 12.5 mm: 5 %)"
)


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "coring", key, label, **more)


FORM = Form(
    fields=(
        _field(
            "tine_diameter",
            "Inside diameter of the tine",
            help="The bore, not the tube: the outside is about 4 mm more.",
        ),
        _field(
            "outside_diameter",
            "Outside diameter of the tine",
            required=False,
            help="If known, for the hole in the surface; the inside one decides what comes out.",
        ),
        _field("spacing_across", "Spacing across the machine"),
        _field("spacing_along", "Spacing along the run"),
        _field("depth", "Depth", help="Measure it on a core, not on the scale."),
        _field("passes", "Passes", whole=True),
        Field("cores", "Cores", kind="choice", choices=cores.CHOICES, default="clear"),
        _field("sand_share", "Share of the cores that goes back as sand and soil"),
        _field("core_density", "Density of the cores"),
        _field("bulk_density", "Bulk density of the filling sand"),
        *going_over.fields("coring"),
    ),
)


def work(v: Values, ground: Ground) -> Work:
    """All figures of a coring. Raises BadValue when holes overlap or the tube is no wider than its bore."""
    refuse_touching(v)
    if v.has("outside_diameter") and nominal(v.outside_diameter) <= nominal(v.tine_diameter):
        raise BadValue("outside_diameter", "The outside diameter must be more than the inside one.")
    passes = round(v.passes)
    share = share_of_surface(v.tine_diameter, v.spacing_across, v.spacing_along)
    line = share_line(v.tine_diameter, v.spacing_across, v.spacing_along)
    surface, truly = openings.surface_figures(
        "surface_removed", "Surface removed", share, passes, line, source=SHARE
    )
    holes = holes_per_area(v.spacing_across, v.spacing_along)
    figures = (
        *surface,
        *openings.visit_total(share * passes, ground),
        holes,
        holes_in_all(holes, passes, ground.area),
        *_hurt(v),
        *cores.core_figures(v, ground, truly, surface[-1].steps),
        *going_over.going_over(v, ground, passes),
    )
    warnings = (*_warnings(v), *openings.visit_warnings(share * passes, ground))
    return Work(figures, warnings, openings.depth_cautions(v.depth))


def _hurt(v: Values) -> tuple[Figure, ...]:
    """The surface that the tube itself cuts, when the outside diameter is known."""
    if not v.has("outside_diameter"):
        return ()
    sizes = (v.outside_diameter, v.spacing_across, v.spacing_along)
    return (
        figure(
            "surface_cut",
            "Surface cut by the tube, one pass",
            share_of_surface(*sizes),
            "%",
            share_line(*sizes),
            source=PRACTICE,
        ),
    )


def _warnings(v: Values) -> Iterator[str]:
    tine = nominal(v.tine_diameter)
    if tine >= limit("outside_likely") and not v.has("outside_diameter"):
        wall = limit("tine_wall")
        inside = tine - 2 * wall
        less = 1 - (inside / tine) ** 2
        yield (
            f"{text_of(quantity(tine, 'mm'))} is often the outside of a tine. If it is, the bore "
            f"is about {text_of(quantity(inside, 'mm'))} and {text_of(quantity(less * 100, '%'), figures=2)} "
            "less comes out. Measure the bore."
        )
    closest = min(nominal(v.spacing_across), nominal(v.spacing_along))
    if v.passes > 1 and closest < limit("double_pass_gap") * tine:
        yield "Double passes this close tore the turf and ran holes into each other in a published trial."
    if v.cores == "return":
        yield (
            "Working cores back in returns the sand but also the organic matter in them; it saves carting, "
            "and dilutes thatch less than clearing and fresh sand."
        )


OPERATION = Operation(
    key="coring",
    name="Hollow coring",
    form=FORM,
    work=work,
    help="Takes out cores of thatch and soil; the holes are filled by the dressing that follows.",
    cautions=("garden_wires", "vibration"),
    group="open up",
    order=20,
)
