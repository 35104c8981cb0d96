"""Pan test: how much sand a pass really puts on, from lined pans weighed before and after."""

from __future__ import annotations

import math
from collections.abc import Iterator
from statistics import mean, stdev
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, plus_minus, quantity, text_of
from logic.works.limits import limit, limit_quantity
from logic.works.operation import Ground, Operation, Work

PAN = Source("A novel method for accurately measuring topdressing rates, USGA Southeast Region, 2019")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "pan_test", key, label, **more)


FORM = Form(
    fields=(
        _field("pan_length", "Length of the pan"),
        _field("pan_width", "Width of the pan"),
        _field(
            "caught", "Sand in each pan", kind="list", entry="Pan", help="Weight after the pass less before."
        ),
        _field("wanted", "Rate wanted in this pass", required=False),
        _field("bulk_density", "Bulk density of the sand"),
    )
)


def work(v: Values, ground: Ground) -> Work:
    """Rate, depth and evenness of a pass. Raises BadValue when every pan is empty."""
    catches = [nominal(c) for c in v.caught]
    if max(catches) == 0:
        raise BadValue("caught", "Every pan is empty: check that the spreader went over them.")
    pan = v.pan_length / 1000 * v.pan_width / 1000
    uneven = stdev(catches) / math.sqrt(len(catches)) if len(catches) > 1 else 0.0
    caught = plus_minus(mean(catches), uneven)
    figures = [*_spread(v, pan, caught, len(catches), ground.area)]
    rate = figures[0].nominal
    if v.has("wanted"):
        off = (rate / v.wanted - 1) * 100
        line = step(
            "{r} against {w} wanted is {o} off",
            r=quantity(rate, "kg/m^2"),
            w=quantity(v.wanted, "kg/m^2"),
            o=quantity(off, "%"),
        )
        figures.append(figure("rate_off", "Off the rate wanted", off, "%", line, headline=True))
    return Work(tuple(figures), tuple(_warnings(v, catches, rate)))


def _spread(v: Values, pan: float, caught: Any, pans: int, area: Any) -> Iterator[Figure]:
    rate = caught / 1000 / pan
    depth = rate / v.bulk_density * 1000
    q = {
        "l": quantity(v.pan_length, "mm"),
        "w": quantity(v.pan_width, "mm"),
        "p": quantity(pan, "m^2"),
        "n": pans,
        "c": quantity(caught, "g"),
        "r": quantity(rate, "kg/m^2"),
        "b": quantity(v.bulk_density, "kg/m^3"),
        "d": quantity(depth, "mm"),
        "a": quantity(area, "m^2"),
        "m": quantity(rate * area, "kg"),
    }
    weighed = step("pan {l} × {w} = {p}; the mean of {n} is {c}", **q)
    by_area = step("{c} ÷ {p} = {r}", **q)
    yield figure(
        "rate_caught", "Sand put on by a pass", rate, "kg/m^2", weighed, by_area, source=PAN, headline=True
    )
    yield figure("depth_caught", "Depth of that sand", depth, "mm", step("{r} ÷ {b} = {d}", **q), source=PAN)
    yield figure(
        "pass_mass", "Sand that a pass takes", rate * area, "kg", step("{r} × {a} = {m}", **q), source=PAN
    )


def _warnings(v: Values, catches: list[float], rate: float) -> Iterator[str]:
    if len(catches) < limit("pans"):
        yield "Fewer than three pans: one catch says little. Average three."
    elif stdev(catches) / mean(catches) * 100 > limit("pan_spread"):
        shown = text_of(quantity(stdev(catches) / mean(catches) * 100, "%"), figures=2)
        yield f"The pans differ by {shown} of their mean: it is spread unevenly, or one was at the edge."
    if v.has("wanted"):
        ratio = nominal(v.wanted) / rate
        if abs(1 / ratio - 1) * 100 > limit("pan_tolerance"):
            within = text_of(limit_quantity("pan_tolerance"))
            yield f"More than {within} off: set the spreader to {ratio:.2f} times the flow, then catch again."


OPERATION = Operation(
    key="pan_test",
    name="Pan test of a dressing",
    form=FORM,
    work=work,
    help="Lay lined pans in the path, weigh them before and after one pass of the topdresser.",
    cautions=("sand_dust",),
    group="check",
    order=94,
)
