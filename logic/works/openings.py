"""What every operation that opens the surface shares: passes put together, and sand to fill what is open."""

from __future__ import annotations

from typing import Any

from logic.figure import DEFINITION, Figure, Source, Step, figure, step
from logic.units import nominal, quantity, text_of
from logic.works import bulk
from logic.works.limits import limit
from logic.works.operation import Ground

ADDED = Source(
    "Ervin and Nichols, Organic matter dilution programs, USGA Green Section Record 48(16), 2010: "
    "the percentages of several passes are added"
)
FILL = Source("Sand to fill = share of the surface × depth: arithmetic of the volumes", "derived")


def added(share: Any, passes: int) -> Any:
    """Share of the surface [%] of `passes` passes, simply added as published programmes do."""
    return share * passes


def overlapped(shares: list[Any]) -> Any:
    """Share of the surface [%] truly opened by passes that cross at random: 1 − ∏(1 − p).

    shares: percent of the surface that each pass opens. Source: probability of independent events.
    """
    left: Any = 1.0
    for share in shares:
        left *= 1 - share / 100
    return (1 - left) * 100


def surface_figures(
    key: str, name: str, share: Any, passes: int, one_pass: Step, source: Source
) -> tuple[tuple[Figure, ...], Any]:
    """The figures of the surface opened, and the share truly open [%] once crossings are counted once.

    key, name: of the main figure, in which passes are added. share: percent of one pass; one_pass: its line;
    source: of the formula for one pass.
    """
    total = added(share, passes)
    truly = overlapped([share] * passes)
    if passes == 1:
        return (figure(key, name, total, "%", one_pass, source=source, headline=True),), truly
    one, both, once = (quantity(x, "%") for x in (share, total, truly))
    more = step("{n} passes, added: {n} × {p} = {t}", n=passes, p=one, t=both)
    crossing = step(
        "where passes cross, the same turf is opened twice; counted once: 1 − (1 − {p})^{n} = {t}",
        p=one,
        n=passes,
        t=once,
    )
    return (
        figure(key, f"{name}, passes added", total, "%", one_pass, more, source=ADDED, headline=True),
        figure(f"{key}_overlap", f"{name}, crossings counted once", truly, "%", one_pass, crossing),
    ), truly


def opened_before(ground: Ground) -> list[float]:
    """Surface [%] that each earlier work on this visit opened, its passes added."""
    return [f.nominal for f in ground.before("surface_removed", "surface_affected", "surface_holed")]


def visit_total(share: Any, ground: Ground) -> tuple[Figure, ...]:
    """Surface opened [%] by this work and those before it, added; nothing when this is the first."""
    before = opened_before(ground)
    if not before:
        return ()
    terms = " + ".join(text_of(quantity(x, "%"), figures=4) for x in (*before, share))
    total = sum(before) + share
    line = step("{terms} = {t}", terms=terms, t=quantity(total, "%"))
    return (figure("surface_this_visit", "Surface opened so far", total, "%", line, source=ADDED),)


def visit_warnings(share: Any, ground: Ground) -> tuple[str, ...]:
    """A sentence when this visit opens more of the surface than is sensible."""
    total, most = nominal(sum(opened_before(ground)) + share), limit("surface_one_visit")
    if total <= most:
        return ()
    sentence = (
        f"{text_of(quantity(total, '%'))} of the surface opened in one visit is arithmetic only: above "
        f"{text_of(quantity(most, '%'))} the turf tears and is slow to close. Spread it over two visits."
    )
    return (sentence,)


def depth_cautions(depth: Any) -> tuple[str, ...]:
    """Keys of the cautions that a tine or blade of this depth [mm] calls for."""
    return ("buried_services",) if nominal(depth) >= limit("services_depth") else ()


def volume_line(share: Any, depth: Any, area: Any, litres: Any) -> Step:
    """ "10 % of 120 m² × 80 mm deep = 960 L"."""
    return step(
        "{s} of {a} × {d} deep = {v}",
        s=quantity(share, "%"),
        a=quantity(area, "m^2"),
        d=quantity(depth, "mm"),
        v=bulk.volume(litres),
    )


def weight_line(litres: Any, density: Any, kilos: Any) -> Step:
    """ "240 L × 1600 kg/m³ = 384 kg"."""
    return step(
        "{v} × {d} = {m}",
        v=bulk.volume(litres),
        d=quantity(density, "kg/m^3"),
        m=quantity(kilos, "kg"),
    )


def per_area(key: str, name: str, litres: Any, area: Any) -> Figure:
    """`litres` over `area` [m²] as a Figure [L/m², which is mm]."""
    line = step(
        "{v} over {a} = {r}",
        v=bulk.volume(litres),
        a=quantity(area, "m^2"),
        r=bulk.by_area(litres / area),
    )
    return bulk.by_area_figure(key, name, litres / area, line, source=DEFINITION)


def fill_figures(litres: Any, area: Any, density: Any, *steps: Step) -> tuple[Figure, ...]:
    """Sand that fills `litres` of open holes or grooves level, by volume, by area and by mass.

    area [m²]; density: bulk density of the sand [kg/m³]; steps: how the litres came about. A dressing
    that follows reads fill_volume, so it must hold only what is truly open.
    """
    mass = litres * density / 1000
    return (
        bulk.volume_figure("fill_volume", "Sand to fill them level", litres, *steps, source=FILL),
        per_area("fill_rate", "Sand to fill, by area", litres, area),
        figure(
            "fill_mass",
            "Sand to fill, by weight",
            mass,
            "kg",
            *steps,
            weight_line(litres, density, mass),
            source=FILL,
        ),
    )
