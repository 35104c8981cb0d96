"""Hollow coring: holes, surface removed, cores to clear, and sand to fill the holes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import DEFINITION, PRACTICE, Figure, Source, Step, figure, step
from logic.units import quantity, text_of
from logic.works import going_over, openings
from logic.works.limits import limit, limit_quantity
from logic.works.operation import Ground, Operation, Work

SHARE = Source(
    "Bowling green maintenance: end of season, Grounds Management Association "
    "(18 mm at 50 mm centres: 10 %; 12.5 mm: 5 %)"
)

DENSITY = Source("density of moist cores", "memory")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "coring", key, label, **more)


CORES = (("clear", "cleared away"), ("return", "broken up and worked back in"))

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
        Field("cores", "Cores", kind="choice", choices=CORES, default="clear"),
        _field("sand_share", "Share of the cores that goes back as sand and soil", required=False),
        _field("core_density", "Density of the cores"),
        _field("bulk_density", "Bulk density of the filling sand"),
        *going_over.fields("coring"),
    ),
)


def holes_per_area(across: float, along: float) -> Figure:
    """Holes in a square metre [1/m²] of one pass: 1,000,000 / (across × along), spacings [mm]."""
    holes = 1e6 / (across * along)
    line = step(
        "one hole every {a} × {b} = {h}",
        a=quantity(across, "mm"),
        b=quantity(along, "mm"),
        h=quantity(holes, "1/m^2"),
    )
    return figure("holes_per_area", "Holes by area, one pass", holes, "1/m^2", line, source=DEFINITION)


def share_of_surface(diameter: float, across: float, along: float) -> float:
    """Share of the surface [%] of round holes: π d² / 4 ÷ (across × along), all in one unit of length.

    Source: area of a circle; agrees with the Grounds Management Association's 10 % for 18 mm at 50 mm.
    """
    return math.pi * diameter**2 / 4 / (across * along) * 100


def share_line(diameter: float, across: float, along: float) -> Step:
    """The line of working for `share_of_surface`, lengths in mm."""
    return step(
        "a hole of {d} in each {a} × {b}: π × ({d})² ÷ 4 ÷ ({a} × {b}) = {s}",
        d=quantity(diameter, "mm"),
        a=quantity(across, "mm"),
        b=quantity(along, "mm"),
        s=quantity(share_of_surface(diameter, across, along), "%"),
    )


def work(v: Values, ground: Ground) -> Work:
    """All figures of a coring. Raises BadValue when holes overlap or the tube is no wider than its bore."""
    _refuse_impossible(v)
    passes = round(v.passes)
    share = share_of_surface(v.tine_diameter, v.spacing_across, v.spacing_along)
    line = share_line(v.tine_diameter, v.spacing_across, v.spacing_along)
    surface, truly = openings.surface_figures("surface_removed", "Surface removed", share, passes, line)
    holes = holes_per_area(v.spacing_across, v.spacing_along)
    figures = (
        *surface,
        holes,
        _holes(holes, passes, ground.area),
        *_hurt(v),
        *_cores(v, ground, truly, surface[-1].steps),
        *going_over.going_over(v, ground, passes),
    )
    deep = v.depth >= limit("services_depth")
    return Work(figures, tuple(_warnings(v, share * passes, truly)), ("buried_services",) if deep else ())


def _refuse_impossible(v: Values) -> None:
    for key in ("spacing_across", "spacing_along"):
        if v[key] <= v.tine_diameter:
            raise BadValue(
                key, "The holes would run into each other: the spacing must be more than the tine."
            )
    if v.has("outside_diameter") and v.outside_diameter <= v.tine_diameter:
        raise BadValue("outside_diameter", "The outside diameter must be more than the inside one.")


def _holes(per_area: Figure, passes: int, area: Any) -> Figure:
    count = per_area.value.magnitude * passes * area
    line = step(
        "{h} × {n} × {a} = {c}",
        h=per_area.value,
        n=f"{passes} pass" if passes == 1 else f"{passes} passes",
        a=quantity(area, "m^2"),
        c=count,
    )
    return figure("holes", "Holes in all", count, "", line, source=DEFINITION)


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


def _cores(v: Values, ground: Ground, truly: float, shared: tuple[Step, ...]) -> tuple[Figure, ...]:
    """Cores to clear or work back in, and the sand that the holes then take."""
    litres = truly / 100 * v.depth * ground.area
    out = openings.volume_line(truly, v.depth, ground.area, litres)
    mass = litres * v.core_density / 1000
    kept, back = _worked_back(v, litres)
    words = "to clear" if v.cores == "clear" else "pulled"
    return (
        figure(
            "core_volume", f"Cores {words}", litres, "L", *shared, out, source=openings.FILL, headline=True
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
    if not v.has("sand_share"):
        raise BadValue("sand_share", "Say what share of the cores is sand and soil that goes back.")
    back = litres * v.sand_share / 100
    parts = {
        "c": quantity(litres, "L"),
        "s": quantity(v.sand_share, "%"),
        "b": quantity(back, "L"),
        "t": quantity(litres - back, "L"),
    }
    returned = step("{c} of cores × {s} sand and soil worked back in = {b}", **parts)
    left = step(
        "{c} of cores − {b} worked back in = {t} of thatch to rake off, and holes still open", **parts
    )
    return (
        figure("sand_returned", "Sand and soil returned", back, "L", returned, source=PRACTICE),
        figure("thatch_volume", "Thatch to rake off", litres - back, "L", returned, left, source=PRACTICE),
    ), back


def _warnings(v: Values, together: float, truly: float) -> Iterator[str]:
    if v.tine_diameter >= limit("outside_likely") and not v.has("outside_diameter"):
        wall = limit("tine_wall")
        inside = v.tine_diameter - 2 * wall
        less = 1 - (inside / v.tine_diameter) ** 2
        yield (
            f"{text_of(quantity(v.tine_diameter, 'mm'))} is often the outside of a tine. If it is, the bore "
            f"is about {text_of(quantity(inside, 'mm'))} and {text_of(quantity(less * 100, '%'), figures=2)} "
            "less comes out. Measure the bore."
        )
    if together > limit("surface_one_visit"):
        yield (
            f"{text_of(quantity(together, '%'))} of the surface in one visit is arithmetic only: above "
            f"{text_of(limit_quantity('surface_one_visit'))} the turf tears and is slow to close. "
            "Spread it over two visits."
        )
    if v.passes > 1 and min(v.spacing_across, v.spacing_along) < 3 * v.tine_diameter:
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
