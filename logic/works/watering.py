"""Watering: a depth of water in litres, minutes and cans; or the depth that so many litres were."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, quantity
from logic.works.containers import containers
from logic.works.operation import Ground, Operation, Work
from logic.works.uniformity import run_time_multiplier

DEPTH = Source("Irrinote factsheet 5, Perth Region NRM: 1 mm on 1 m² is 1 L")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "watering", key, label, **more)


FORM = Form(
    fields=(
        _field("depth", "Depth of water"),
        _field("volume", "Water put on", help="To know the depth that it was."),
        _field(
            "flow", "Flow of the hose", required=False, help="Time a bucket: a garden hose gives 10 to 20."
        ),
        _field(
            "application_rate",
            "Rate of the sprinklers",
            required=False,
            help="From the catch cans, when sprinklers water it.",
        ),
        _field(
            "uniformity",
            "Distribution uniformity",
            required=False,
            help="Low quarter, from the catch cans; lengthens the run so that dry spots get enough.",
        ),
        _field("can", "Watering can", required=False),
    ),
    ways=(Way("depth", "By depth", ("depth",)), Way("volume", "By volume", ("volume",))),
)


def work(v: Values, ground: Ground) -> Work:
    """Volume and depth, and minutes and cans where flow, rate and can are known."""
    depth, volume = _amounts(v, ground)
    found = [depth, volume]
    factor = 1.0
    if v.has("uniformity"):
        multiplier = run_time_multiplier(v.uniformity)
        factor = multiplier.nominal
        found.append(multiplier)
    if v.has("application_rate"):
        found.append(_sprinkler_time(depth, v.application_rate, factor))
    elif v.has("flow"):
        found.append(_hose_time(volume, v.flow, factor))
    if v.has("can"):
        can = nominal(v.can)
        found.append(containers("cans", "Cans", volume, can, "L", "can", ground.confidence, source=DEPTH))
    return Work(tuple(found))


def _amounts(v: Values, ground: Ground) -> tuple[Figure, Figure]:
    """Depth [mm] and volume [L]: litres = mm × m². Source: Irrinote factsheet 5."""
    area = quantity(ground.area, "m^2")
    if v.has("depth"):
        volume = v.depth * ground.area
        shown = {"d": quantity(v.depth, "mm"), "a": area, "v": quantity(volume, "L")}
        return (
            figure("depth", "Depth of water", v.depth, "mm", step("as given: {d}", **shown), source=DEPTH),
            figure(
                "water_volume",
                "Water in all",
                volume,
                "L",
                step("{d} on {a} = {v}", **shown),
                source=DEPTH,
                order=True,
                headline=True,
            ),
        )
    depth = v.volume / ground.area
    shown = {"d": quantity(depth, "mm"), "a": area, "v": quantity(v.volume, "L")}
    return (
        figure(
            "depth",
            "Depth of water",
            depth,
            "mm",
            step("{v} over {a} = {d}", **shown),
            source=DEPTH,
            headline=True,
        ),
        figure("water_volume", "Water in all", v.volume, "L", step("as given: {v}", **shown), source=DEPTH),
    )


def _hose_time(volume: Figure, flow: Any, factor: float) -> Figure:
    minutes = volume.value.magnitude / flow * factor
    words = "{v} ÷ {f} × {k} = {t}" if factor != 1 else "{v} ÷ {f} = {t}"
    line = step(words, v=volume.value, f=quantity(flow, "L/minute"), k=factor, t=quantity(minutes, "minute"))
    return figure("run_time", "Time to run", minutes, "minute", line, source=DEPTH, headline=True)


def _sprinkler_time(depth: Figure, rate: Any, factor: float) -> Figure:
    minutes = depth.value.magnitude / rate * 60 * factor
    words = "{d} ÷ {r} × {k} = {t}" if factor != 1 else "{d} ÷ {r} = {t}"
    line = step(words, d=depth.value, r=quantity(rate, "mm/hour"), k=factor, t=quantity(minutes, "minute"))
    return figure("run_time", "Time to run", minutes, "minute", line, source=DEPTH, headline=True)


OPERATION = Operation(
    key="watering",
    name="Watering",
    form=FORM,
    work=work,
    help="A depth of water in litres, minutes and cans.",
    cautions=("water_rules",),
    group="feed and water",
    order=70,
)
