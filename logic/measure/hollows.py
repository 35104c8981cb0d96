"""Hollows one by one, under a straight-edge: extent and depth give the fill."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from logic.field import Field, Form, Values
from logic.figure import Figure, Source, Step, figure, step
from logic.measure.asking import length, m, setting, usual
from logic.units import nominal, plus_minus, quantity, spread

SOURCE = Source(
    "Dish: mean depth = half the greatest, over an oval π ÷ 4 × length × width (geometry)", "memory"
)

FORM = Form(
    (
        Field(
            "hollows",
            "Hollows",
            entry="Hollow",
            kind="rows",
            most_entries=100,
            row=(
                length(
                    "length", "Length", "width", help="Where the straight-edge begins and ceases to touch."
                ),
                length(
                    "width", "Width", "width", help="Square to the length, again where it ceases to touch."
                ),
                Field(
                    "depths",
                    "Depth",
                    "mm",
                    kind="list",
                    above=0,
                    most=1000,
                    usual=usual("hollow_depth"),
                    help="The deepest; or several, evenly spaced along the middle between the rims.",
                ),
            ),
            help="Lay a 3 m straight-edge over each hollow.",
        ),
    )
)


@dataclass(frozen=True)
class Hollows:
    """Hollows worked out: fill [m³], ground they take up [m²], the greatest depth [mm]."""

    hollow_volume: Figure
    hollow_area: Figure
    deepest: Figure

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All figures."""
        return (self.hollow_volume, self.hollow_area, self.deepest)


def hollow_volume(length_: Any, width: Any, depths: tuple[Any, ...]) -> tuple[Any, Any]:
    """(volume [m³], area [m²]) of one hollow: length, width [m], depths [mm].

    One depth is the deepest of a dish: mean ½ of it. Several stand along the middle, evenly between the
    rims: their mean by Simpson or straight lines × ¾, which for a dish is the same. ± from the readings and
    from the hollow not being a dish (settings hollow_shape, hollow_profile).
    """
    margin = setting("level_reading")
    read = [d if spread(d) else plus_minus(nominal(d), margin, "level") for d in depths]
    area = math.pi / 4 * length_ * width
    if len(read) == 1:
        mean, doubt = read[0] / 2, setting("hollow_shape")
    else:
        mean, doubt = _along_middle(read) * 3 / 4, setting("hollow_profile")
    volume = area * mean / 1000
    return volume + plus_minus(0.0, doubt * nominal(volume), "shape"), area


def hollows_of(v: Values) -> Hollows:
    """The Hollows of what FORM read."""
    worked = [(row, *hollow_volume(row.length, row.width, row.depths)) for row in v.hollows]
    lines: list[Step] = [
        step(
            "oval {l} × {w}, {n} depth readings, the most {d}: {v}",
            l=m(row.length),
            w=m(row.width),
            n=quantity(len(row.depths), ""),
            d=quantity(max(map(nominal, row.depths)), "mm"),
            v=quantity(volume, "m^3"),
        )
        for row, volume, _ in worked
    ]
    total, ground = sum(w[1] for w in worked), sum(w[2] for w in worked)
    deepest = max(nominal(d) for row in v.hollows for d in row.depths)
    return Hollows(
        figure("hollow_volume", "Fill for the hollows", total, "m^3", *lines, source=SOURCE, order=True),
        figure(
            "hollow_area",
            "Ground in hollows",
            ground,
            "m^2",
            step("ovals together = {a}", a=quantity(ground, "m^2")),
        ),
        figure(
            "deepest",
            "Deepest hollow",
            deepest,
            "mm",
            step("greatest depth = {d}", d=quantity(deepest, "mm")),
        ),
    )


def _along_middle(read: list[Any]) -> Any:
    """Mean depth along the middle, noughts at the rims: Simpson where the strips are even, else lines."""
    full = [0.0, *read, 0.0]
    strips = len(full) - 1
    if strips % 2 == 0:
        return (4 * sum(full[1::2]) + 2 * sum(full[2:-1:2])) / (3 * strips)
    return sum(full) / strips
