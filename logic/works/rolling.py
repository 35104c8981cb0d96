"""Rolling: strips and time over the ground, and how heavily the roller bears."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic.field import Field, Values, from_table
from logic.figure import DEFINITION, Figure, figure, step
from logic.units import quantity, text_of
from logic.works import going_over
from logic.works.limits import limit, limit_quantity
from logic.works.operation import Ground, Operation, Work


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "rolling", key, label, **more)


FORM = going_over.form(
    "rolling",
    _field(
        "roller_mass", "Weight of the roller", required=False, help="As used: with its water, and the rider."
    ),
)


def work(v: Values, ground: Ground) -> Work:
    """Strips, time, and the load of the roller along its width when its mass is known."""
    gone_over = going_over.work(v, ground)
    load = _load(v) if v.has("roller_mass") else ()
    return Work((*gone_over.figures, *load), tuple(_warnings(load)))


def _load(v: Values) -> tuple[Figure, ...]:
    per_metre = v.roller_mass / v.working_width
    line = step(
        "{m} on a roller {w} wide = {p}",
        m=quantity(v.roller_mass, "kg"),
        w=quantity(v.working_width, "m"),
        p=quantity(per_metre, "kg/m"),
    )
    return (figure("roller_load", "Load along the roller", per_metre, "kg/m", line, source=DEFINITION),)


def _warnings(load: tuple[Figure, ...]) -> Iterator[str]:
    if load and load[0].nominal > limit("roller_load"):
        yield (
            f"{load[0].text()} is a heavy roller: above {text_of(limit_quantity('roller_load'))} it presses "
            "a soft green hard. Roll only when the surface is firm enough to leave no print."
        )


OPERATION = Operation(
    key="rolling",
    name="Rolling",
    form=FORM,
    work=work,
    help="Firms seed and sand to the soil, or smooths a green; never on wet ground.",
    cautions=("roll_dry",),
    group="seed and sand",
    order=62,
)
