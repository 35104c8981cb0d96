"""Getting it there: the vehicle's payload with people and tools on board, trailer, barrow loads and
walking."""

from __future__ import annotations

from typing import Any

from logic.errors import BadValue
from logic.field import Form, Values, from_table
from logic.figure import PRACTICE, Figure, Source, figure, step
from logic.units import nominal, quantity
from logic.works.containers import whole

PLATE = Source("gross mass on the plate − kerb mass − people − tools; check the axles too", "derived")

VEHICLE = Form(
    (
        from_table("supply", "vehicle", "gross", "Gross mass on the plate", help="Of the van alone, laden."),
        from_table(
            "supply", "vehicle", "kerb", "Kerb mass", help="Empty, as in the papers or over a bridge."
        ),
        from_table("supply", "vehicle", "people", "People on board", whole=True),
        from_table("supply", "vehicle", "person_mass", "Each person"),
        from_table("supply", "vehicle", "tools", "Tools and machines on board"),
        from_table("supply", "vehicle", "trailer_gross", "Trailer, gross mass on its plate", required=False),
        from_table("supply", "vehicle", "trailer_empty", "Trailer, empty", required=False),
    )
)
BARROW = Form(
    (
        from_table("supply", "barrow", "load", "Sand in a barrow"),
        from_table("supply", "barrow", "distance", "From the heap to the green", help="One way."),
        from_table("supply", "barrow", "speed", "Walking speed"),
        from_table("supply", "barrow", "turn", "To fill and tip one"),
    )
)


def payload(v: Values) -> Figure:
    """What may be loaded [kg], the trailer included: plate − kerb − people − tools, + trailer plate − empty.

    v: as VEHICLE reads it. Raises BadValue when nothing may be loaded at all.
    """
    people = v.people * v.person_mass
    room = v.gross - v.kerb - people - v.tools
    lines = [
        step(
            "{g} − {k} − {n} × {p} − {t} = {r}",
            g=quantity(v.gross, "kg"),
            k=quantity(v.kerb, "kg"),
            n=v.people,
            p=quantity(v.person_mass, "kg"),
            t=quantity(v.tools, "kg"),
            r=quantity(room, "kg"),
        )
    ]
    if nominal(room) <= 0:
        raise BadValue("tools", "With these people and tools on board the vehicle is full already.")
    if v.has("trailer_gross"):
        empty = v.trailer_empty if v.has("trailer_empty") else 0.0
        if nominal(empty) >= nominal(v.trailer_gross):
            raise BadValue("trailer_empty", "The empty trailer must weigh less than its plate allows.")
        more = v.trailer_gross - empty
        said = {"g": quantity(v.trailer_gross, "kg"), "e": quantity(empty, "kg"), "m": quantity(more, "kg")}
        lines.append(step("trailer: {g} − {e} = {m}", **said))
        room = room + more
        lines.append(step("together {r}", r=quantity(room, "kg")))
    return figure("payload", "Payload", room, "kg", *lines, source=PLATE)


def vehicle_loads(mass: float, room: Figure) -> tuple[Figure, ...]:
    """Runs with the vehicle for `mass` [kg], and the mass of each when they are shared out evenly."""
    count = whole(mass, room.nominal, 0.5)
    line = step(
        "{m} ÷ {r} = {x}, so {n}", m=quantity(mass, "kg"), r=room.value, x=mass / room.nominal, n=count
    )
    runs = figure("vehicle_loads", "Runs with the vehicle", count, "", line, source=PLATE, headline=True)
    if count < 1:
        return (runs,)
    each = mass / count
    parted = step("{m} ÷ {n} = {e}", m=quantity(mass, "kg"), n=count, e=quantity(each, "kg"))
    return runs, figure("load_mass", "On each run", each, "kg", line, parted, source=PLATE)


def barrowing(mass: float, v: Values) -> tuple[Figure, ...]:
    """Barrow loads for `mass` [kg], the way walked there and back [m] and the time it takes [min].

    v: as BARROW reads it. The way back from the last load counts. Source: arithmetic.
    """
    loads = whole(mass, nominal(v.load), 0.5)
    counted = step(
        "{m} ÷ {b} = {x}, so {n}", m=quantity(mass, "kg"), b=quantity(v.load, "kg"),
        x=mass / nominal(v.load), n=loads,
    )  # fmt: skip
    way = 2 * loads * v.distance
    walked = step("{n} loads × 2 × {d} = {w}", n=loads, d=quantity(v.distance, "m"), w=quantity(way, "m"))
    minutes = way / (v.speed * 1000 / 60) + loads * v.turn
    timed = step(
        "{w} at {s} + {n} × {t} = {m}",
        w=quantity(way, "m"),
        s=quantity(v.speed, "km/hour"),
        n=loads,
        t=quantity(v.turn, "minute"),
        m=quantity(minutes, "minute"),
    )
    return (
        figure("barrow_loads", "Barrow loads", loads, "", counted, source=PRACTICE, headline=True),
        figure("barrow_way", "Walked with the barrow", way, "m", counted, walked, source=PRACTICE),
        figure("barrow_time", "Time with the barrow", minutes, "minute", walked, timed, source=PRACTICE),
    )


def mass_of(need: Figure, density: float = 1.0) -> float | None:
    """The mass [kg] of an amount to carry; liquids as water unless `density` [kg/L] says otherwise; None
    for a thing that is neither mass nor volume."""
    value: Any = need.value
    if value.check("[mass]"):
        return float(nominal(value.to("kg").magnitude))
    if value.check("[length]**3"):
        return float(nominal(value.to("L").magnitude)) * density
    return None
