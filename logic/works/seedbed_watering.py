"""Keeping a seedbed damp: light waterings each day until it is up."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, from_table
from logic.figure import PRACTICE, Figure, figure, step
from logic.units import nominal, quantity
from logic.works.containers import containers
from logic.works.operation import Ground, Operation, Work
from logic.works.watering import DEPTH


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "seedbed_watering", key, label, **more)


FORM = Form(
    fields=(
        _field("depth_each", "Each time", help="Only the top is kept damp: little and often."),
        _field("times_a_day", "Times a day", whole=True),
        _field("days", "Days until it is up", whole=True),
        _field("flow", "Flow of the hose", required=False, help="Time a bucket."),
        _field("can", "Watering can", required=False),
    )
)


def work(v: Values, ground: Ground) -> Work:
    """Water each time, each day and in all, with minutes and cans."""
    each = v.depth_each * ground.area
    times, days = round(v.times_a_day), round(v.days)
    litres = [quantity(x, "L") for x in (each, each * times, each * times * days)]
    depth, area = quantity(v.depth_each, "mm"), quantity(ground.area, "m^2")
    once = step("{d} on {a} = {v}", d=depth, a=area, v=litres[0])
    daily = step("{v} × {n} times = {w}", v=litres[0], n=times, w=litres[1])
    whole = step("{v} × {n} days = {w}", v=litres[1], n=days, w=litres[2])
    found = [
        figure("water_each", "Water each time", each, "L", once, source=DEPTH, order=True, headline=True),
        figure("water_a_day", "Water a day", each * times, "L", once, daily, source=PRACTICE, headline=True),
        figure("water_volume", "Water in all", each * times * days, "L", once, daily, whole, source=PRACTICE),
        _depth_a_day(v.depth_each, times),
    ]
    if v.has("flow"):
        minutes = each / v.flow
        line = step(
            "{v} ÷ {f} = {t}",
            v=litres[0],
            f=quantity(v.flow, "L/minute"),
            t=quantity(minutes, "minute"),
        )
        found.append(
            figure("run_time", "Time each time", minutes, "minute", line, source=DEPTH, headline=True)
        )
    if v.has("can"):
        can = nominal(v.can)
        found.append(containers("cans", "Cans each time", found[0], can, "L", "can", ground.confidence))
    return Work(tuple(found))


def _depth_a_day(each: Any, times: int) -> Figure:
    line = step("{d} × {n} times = {w}", d=quantity(each, "mm"), n=times, w=quantity(each * times, "mm"))
    return figure("depth_a_day", "Depth a day", each * times, "mm", line, source=PRACTICE)


OPERATION = Operation(
    key="seedbed_watering",
    name="Watering a seedbed",
    form=FORM,
    work=work,
    help="The top kept damp until it is up, then fewer and deeper waterings.",
    cautions=("seedbed_dry", "water_rules"),
    group="feed and water",
    order=71,
)
