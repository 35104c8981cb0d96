"""Going over the ground with a machine: strips, distance, turns and time. Shared by every machine work.

Fields (each operation has its own rows of works.csv): working_width [m], overlap [mm], speed [km/h],
turn_time [s], and where wanted `angles` of the passes, measured from the long way of the outline.
"""

from __future__ import annotations

import math

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import DEFINITION, Figure, Source, figure, step
from logic.measure.geometry import Polygon, inside
from logic.units import nominal, quantity, text_of
from logic.works.limits import limit, limit_quantity
from logic.works.operation import Ground, Work
from logic.works.pass_pattern import Pattern, long_way, pattern

TIME = Source("Distance ÷ speed, and the turns at each end: arithmetic", "derived")


def fields(form: str) -> tuple[Field, ...]:
    """The fields of a machine that goes up and down; defaults in works.csv under `form`."""
    return (
        from_table("works", form, "working_width", "Working width"),
        from_table("works", form, "overlap", "Overlap of the strips"),
        from_table("works", form, "speed", "Working speed"),
        from_table(
            "works", form, "turn_time", "Time for a turn", help="From leaving one strip to starting the next."
        ),
    )


def angles_field(form: str) -> Field:
    """The directions of the passes."""
    return from_table(
        "works",
        form,
        "angles",
        "Directions of the passes",
        kind="list",
        entry="Pass",
        required=False,
        help="Degrees from the long way, one for each pass. Left empty, the passes share the half circle.",
    )


def form(operation: str, *more: Field) -> Form:
    """The form of a work that is nothing but going over the ground, with `more` fields of its own first."""
    passes = from_table("works", operation, "passes", "Passes", whole=True)
    return Form((*more, passes, angles_field(operation), *fields(operation)))


def work(v: Values, ground: Ground) -> Work:
    """Figures of a work that is nothing but going over the ground. Raises BadValue as `directions` does."""
    passes = round(v.passes)
    directions(v, passes)
    return Work(going_over(v, ground, passes, headline=True))


def directions(v: Values, passes: int) -> tuple[float, ...]:
    """The angle of each pass from the long way [degrees]; evenly spread when none are given.

    Raises BadValue when there are not as many angles as passes.
    """
    given = v.get("angles")
    if given is None:
        return tuple(180 * i / passes for i in range(passes))
    if len(given) != passes:
        raise BadValue("angles", f"Give one direction for each pass: {passes} wanted, {len(given)} given.")
    return tuple(nominal(a) for a in given)


def narrow_crossing(angles: tuple[float, ...]) -> float | None:
    """The least angle between any two passes [degrees] when it is under the limit, else None."""
    gaps = [min((a - b) % 180, (b - a) % 180) for i, a in enumerate(angles) for b in angles[i + 1 :]]
    least = min(gaps, default=90.0)
    return least if least < limit("crossing_angle") else None


def crossing_warnings(angles: tuple[float, ...]) -> tuple[str, ...]:
    """A sentence when two passes of blades run too nearly the same way."""
    least = narrow_crossing(angles)
    if least is None:
        return ()
    apart, enough = text_of(quantity(least, "degree")), text_of(limit_quantity("crossing_angle"))
    return (
        f"Two passes are only {apart} apart: under {enough} the blades fall into old lines and lift turf.",
    )


def effective_width(v: Values) -> float:
    """Working width less overlap [m]. Raises BadValue when nothing is left."""
    width = nominal(v.working_width) - nominal(v.overlap) / 1000
    if width <= 0:
        raise BadValue("overlap", "The overlap must be less than the working width.")
    return width


def patterns(v: Values, ground: Ground, passes: int) -> tuple[Pattern, ...]:
    """The strips of each pass on the outline, for the sketch; none when the outline has no polygon.

    Pass by pass, and within a pass piece by piece of the ground.
    """
    if not ground.polygon:
        return ()
    base, width = long_way(ground.polygon), effective_width(v)
    return tuple(
        pattern(ring, _holes_in(ring, ground), base + angle, width)
        for angle in directions(v, passes)
        for ring in (ground.polygon, *ground.pieces)
    )


def _holes_in(ring: Polygon, ground: Ground) -> tuple[Polygon, ...]:
    """The holes that lie in one piece of the ground: all, where there is but one."""
    if not ground.pieces:
        return ground.holes
    return tuple(hole for hole in ground.holes if inside(hole[0], ring))


def going_over(v: Values, ground: Ground, passes: int, headline: bool = False) -> tuple[Figure, ...]:
    """Strips, distance walked, longest run and time of `passes` passes with the machine in `v`.

    Distance is area ÷ effective width for each pass, so it is linear in the area; strips and turns come
    from the outline, or from a square of the same area where there is none.
    """
    width = effective_width(v)
    drawn = patterns(v, ground, passes)
    side = math.sqrt(nominal(ground.area))
    strips = sum(p.strips for p in drawn) or passes * math.ceil(side / width - 1e-9)
    turns = sum(p.turns for p in drawn) if drawn else strips - passes
    run = max((p.longest for p in drawn), default=ground.longest_run or side)
    distance = ground.area * passes / width
    walking = distance / (v.speed * 1000 / 60)
    turning = turns * v.turn_time / 60
    across = step(
        "strips of {w} less {o} overlap = {e}",
        w=quantity(v.working_width, "m"),
        o=quantity(v.overlap, "mm"),
        e=quantity(width, "m"),
    )
    walked = step(
        "{n} × {a} ÷ {e} = {d}",
        n=f"{passes} pass" if passes == 1 else f"{passes} passes",
        a=quantity(ground.area, "m^2"),
        e=quantity(width, "m"),
        d=quantity(distance, "m"),
    )
    where = "counted on the outline" if drawn else "for a square of this area"
    counted = step("{n} strips {w}, the longest {r}", n=strips, w=where, r=quantity(run, "m"))
    timed = step(
        "{d} at {s} = {t}, and {n} turns of {each} = {x}: {sum} together",
        d=quantity(distance, "m"),
        s=quantity(v.speed, "km/hour"),
        t=quantity(walking, "minute"),
        n=turns,
        each=quantity(v.turn_time, "second"),
        x=quantity(turning, "minute"),
        sum=quantity(walking + turning, "minute"),
    )
    time = walking + turning
    return (
        figure("strips", "Strips to run", strips, "", across, counted, source=DEFINITION),
        figure("longest_strip", "Longest strip", run, "m", counted, source=DEFINITION),
        figure("distance", "Distance at work", distance, "m", across, walked, source=DEFINITION),
        figure(
            "time",
            "Machine time",
            time,
            "minute",
            across,
            walked,
            counted,
            timed,
            source=TIME,
            headline=headline,
        ),
    )
