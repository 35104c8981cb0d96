"""The catch-can test: how much the sprinklers put on, how evenly, and how much longer to run them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, quantity
from logic.works.limits import limit, limit_source
from logic.works.operation import Ground, Operation, Work
from logic.works.uniformity import QUARTER, low_quarter, low_quarter_depth, run_time_multiplier

CANS = Source("Guide H-510, catch can audit, New Mexico State University; L. Oki, UC Davis")
COEFFICIENT = Source("Scheduling coefficient, Center for Irrigation Technology, CSU Fresno: mean ÷ driest")
CHRISTIANSEN = Source("Christiansen's coefficient: 1 − mean deviation ÷ mean", "memory")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "catch_cans", key, label, **more)


FORM = Form(
    fields=(
        _field(
            "catches",
            "Caught, can by can",
            kind="list",
            entry="Can",
            fewest=4,
            help="All cans alike, in a grid over the whole area; 24 or more, on a still day.",
        ),
        _field("opening", "Diameter of a can's opening", help="Inside, at the rim."),
        _field("minutes", "Run for", required=False, help="Gives the rate."),
        _field("mean_depth", "Mean depth, from an earlier test"),
        _field("uniformity", "Its distribution uniformity", help="Low quarter."),
        _field(
            "wanted_depth", "Depth wanted", required=False, help="Gives the time to run, dry spots included."
        ),
    ),
    ways=(
        Way("cans", "From the cans", ("catches", "opening", "minutes")),
        Way("known", "From an earlier test", ("mean_depth", "uniformity")),
    ),
)


def depth_of(catch: Any, opening: Any) -> Any:
    """Depth in a can [mm] = mL × 10 / opening [cm²], the opening a circle of `opening` [mm] across."""
    return catch * 10 / (math.pi * opening**2 / 400)


def uniformity_of(depths: Sequence[float]) -> Figure:
    """Distribution uniformity, low quarter [%] = mean of the lowest quarter / mean of all × 100.

    Source: L. Oki, UC Davis.
    """
    mean, low = sum(depths) / len(depths), low_quarter(depths)
    line = step(
        "driest quarter {q} ÷ mean {m} = {d}",
        q=quantity(low, "mm"),
        m=quantity(mean, "mm"),
        d=quantity(low / mean * 100, "%"),
    )
    return figure(
        "uniformity", "Distribution uniformity", low / mean * 100, "%", line, source=QUARTER, headline=True
    )


def work(v: Values, ground: Ground) -> Work:
    """Depth, rate, uniformity and the factors on the run time."""
    if v.has("mean_depth"):
        longer = replace(run_time_multiplier(v.uniformity), headline=True)
        return Work((low_quarter_depth(v.mean_depth, v.uniformity), longer), _poor(nominal(v.uniformity)))
    depths = [float(nominal(depth_of(catch, v.opening))) for catch in v.catches]
    mean = sum(depths) / len(depths)
    if mean <= 0:
        raise BadValue("catches", "All cans are empty: were the sprinklers on?")
    even = uniformity_of(depths)
    found = [_mean(depths, mean), even, _christiansen(depths, mean)]
    found += [low_quarter_depth(mean, even.nominal), run_time_multiplier(even.nominal)]
    if min(depths) > 0:
        found.append(_coefficient(mean, min(depths)))
    if v.has("minutes"):
        found += _rate(v, mean, found)
    return Work(tuple(found), (*_rough(depths), *_dry(depths), *_poor(even.nominal)))


def _mean(depths: Sequence[float], mean: float) -> Figure:
    line = step("{n} cans hold {d} on average", n=len(depths), d=quantity(mean, "mm"))
    return figure("mean_depth", "Mean depth", mean, "mm", line, source=CANS, headline=True)


def _christiansen(depths: Sequence[float], mean: float) -> Figure:
    away = sum(abs(depth - mean) for depth in depths) / len(depths)
    value = (1 - away / mean) * 100
    line = step(
        "1 − {a} off the mean on average ÷ {m} = {c}",
        a=quantity(away, "mm"),
        m=quantity(mean, "mm"),
        c=quantity(value, "%"),
    )
    return figure("christiansen", "Christiansen's coefficient", value, "%", line, source=CHRISTIANSEN)


def _coefficient(mean: float, driest: float) -> Figure:
    factor = mean / driest
    line = step("mean {m} ÷ driest {d} = {f}", m=quantity(mean, "mm"), d=quantity(driest, "mm"), f=factor)
    return figure("scheduling_coefficient", "Scheduling coefficient", factor, "", line, source=COEFFICIENT)


def _rate(v: Values, mean: float, found: list[Figure]) -> list[Figure]:
    rate = mean * 60 / v.minutes
    line = step(
        "{d} in {t} = {r}",
        d=quantity(mean, "mm"),
        t=quantity(v.minutes, "minute"),
        r=quantity(rate, "mm/hour"),
    )
    timed = [figure("application_rate", "They put on", rate, "mm/hour", line, source=CANS, headline=True)]
    if v.has("wanted_depth"):
        multiplier = next(f for f in found if f.key == "run_time_multiplier").nominal
        minutes = v.wanted_depth / rate * 60 * multiplier
        run = step(
            "{d} ÷ {r} × {k} = {t}",
            d=quantity(v.wanted_depth, "mm"),
            r=quantity(rate, "mm/hour"),
            k=multiplier,
            t=quantity(minutes, "minute"),
        )
        timed.append(
            figure("run_time", "Time to run", minutes, "minute", line, run, source=CANS, headline=True)
        )
    return timed


def _rough(depths: Sequence[float]) -> tuple[str, ...]:
    said = []
    if len(depths) < limit("catch_cans"):
        said.append(
            f"{len(depths)} cans give a rough answer: {limit('catch_cans'):.0f} or more are advised. "
            f"Source: {limit_source('catch_cans')}."
        )
    if len(depths) % 4:
        said.append("Cans in fours make an even quarter: the lowest quarter has been taken a little larger.")
    return tuple(said)


def _dry(depths: Sequence[float]) -> tuple[str, ...]:
    return (
        ("A can stayed dry: the pattern has a hole, so no scheduling coefficient.",)
        if min(depths) <= 0
        else ()
    )


def _poor(uniformity: float) -> tuple[str, ...]:
    if uniformity >= limit("uniformity_poor"):
        return ()
    return (
        f"Uneven: below {limit('uniformity_poor'):.0f} % look to heads and pressure before running longer.",
    )


OPERATION = Operation(
    key="catch_cans",
    name="Catch-can test",
    form=FORM,
    work=work,
    help="Cans in a grid under the sprinklers: how much falls, and how evenly.",
    group="check",
    order=95,
)
