"""Straight-edged ground by tape alone: all sides, and ties from the first corner, as a fan of triangles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from uncertainties import umath

from logic.errors import ImpossibleShape
from logic.field import Form, Values
from logic.figure import Source, Step, step
from logic.measure.asking import length, lengths, m, m2
from logic.measure.geometry import crosses_itself, nominal_polygon
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.measure.triangles import heron, refuse_impossible
from logic.units import nominal, quantity, spread

SOURCE = Source("Triangles chained by taped sides (Heron's formula each): student survey report")


def fan(
    sides: Sequence[Any], ties: Sequence[Any], side_names: Sequence[str], tie_names: Sequence[str]
) -> list[tuple[Any, Any]]:
    """Corners [m, ± allowed] of the outline with these sides, and ties from corner A to C, D, …

    Corner A at (0, 0), B along the x axis, the rest anticlockwise. Raises ImpossibleShape naming the
    lengths that close no triangle, or when the corners turn back over ground already taken.
    """
    spokes = [sides[0], *ties, sides[-1]]
    names = [side_names[0], *tie_names, side_names[-1]]
    corners: list[tuple[Any, Any]] = [(0.0, 0.0), (sides[0], 0.0)]
    heading: Any = 0.0
    for i, (near, far) in enumerate(pairwise(spokes)):
        side = sides[i + 1]
        called = (names[i], side_names[i + 1], names[i + 1])
        refuse_impossible(called, near, side, far, tuple(map(_field, called)))
        heading = heading + umath.acos((near * near + far * far - side * side) / (2 * near * far))
        corners.append((far * umath.cos(heading), far * umath.sin(heading)))
    if nominal(heading) >= 2 * math.pi or crosses_itself(nominal_polygon(corners)):
        raise ImpossibleShape("With these lengths the sides cross. Every corner must be seen from corner A.")
    return corners


def _field(name: str) -> str:
    """The field of a side by its name: "side 2" stands in the list "sides"."""
    return f"{name.split()[0]}s" if " " in name else name


def checked(
    p: tuple[Any, Any], q: tuple[Any, Any], taped: Any, name: str
) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """The taped check line against its computed length: a line of working, and a warning if they disagree.

    taped: None when it was not taped; then there is nothing to say.
    """
    if taped is None:
        return (), ()
    computed = umath.hypot(p[0] - q[0], p[1] - q[1])
    gap = computed - taped
    line = step(f"check {name}: taped {{t}}, from the other lengths {{c}}", t=m(taped), c=m(computed))
    if abs(nominal(gap)) <= 1.96 * spread(gap):
        return (line,), ()
    sentence = step(
        f"The check {name} disagrees: taped {{t}}, but the other lengths give {{c}}. Tape them again.",
        t=m(taped),
        c=m(computed),
    )
    return (line,), (sentence.text(),)


def trace(v: Values, ctx: Context) -> Trace:
    """Area [m²] as the sum of the triangles A B C, A C D, …; sides in walking order, ties from A [m]."""
    count = len(v.sides)
    if len(v.ties) != count - 3:
        needed = "1 tie" if count == 4 else f"{count - 3} ties"
        raise ImpossibleShape(
            f"{count} sides need {needed}, from corner A to every corner that is not beside it; "
            f"there {'is' if len(v.ties) == 1 else 'are'} {len(v.ties)}.",
            "ties",
        )
    side_names = [f"side {i + 1}" for i in range(count)]
    tie_names = [f"tie {i + 1}" for i in range(count - 3)]
    corners = fan(v.sides, v.ties, side_names, tie_names)
    spokes = [v.sides[0], *v.ties, v.sides[-1]]
    parts = [heron(near, v.sides[i + 1], far) for i, (near, far) in enumerate(pairwise(spokes))]
    area, p = sum(parts), nominal_polygon(corners)
    check_steps, warnings = checked(corners[1], corners[3], v.check, "B to D")
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    lines = [
        step(
            f"triangle A {letters[i + 1]} {letters[i + 2]} from its sides {{a}}, {{b}}, {{c}} = {{t}}",
            a=m(spokes[i]),
            b=m(v.sides[i + 1]),
            c=m(spokes[i + 1]),
            t=m2(part),
        )
        for i, part in enumerate(parts)
    ]
    return Trace(
        polygon=p,
        area=area,
        perimeter=sum(v.sides),
        steps=(
            *lines,
            step("area = the {n} triangles together = {a}", n=quantity(len(parts), ""), a=m2(area)),
            *check_steps,
        ),
        source=SOURCE,
        dimensions=(
            *(Dimension(p[i], p[(i + 1) % count], m(side), f"sides.{i}") for i, side in enumerate(v.sides)),
            *(Dimension(p[0], p[i + 2], m(tie), f"ties.{i}") for i, tie in enumerate(v.ties)),
        ),
        warnings=warnings,
    )


METHOD = Method(
    key="ties",
    name="Sides and ties",
    form=Form(
        (
            lengths(
                "sides",
                "Sides",
                "side",
                entry="Side",
                fewest=4,
                most_entries=26,
                above=0,
                least=None,
                help="Corner A to B, B to C, and so on, back to A.",
            ),
            lengths(
                "ties",
                "Ties from corner A",
                "side",
                entry="Tie",
                above=0,
                least=None,
                help="From A to C, to D, and so on: to every corner not beside A.",
            ),
            length(
                "check", "Check B to D", required=False, help="One line more. It is the only check there is."
            ),
        )
    ),
    trace=trace,
    help="For straight edges and any number of corners. Start at a corner A that sees all others. Tape every "
    "side on the way round, then from A to each corner. No angles, no compass.",
    group="irregular",
    order=120,
)
