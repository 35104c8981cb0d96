"""Flow, width, speed and rate of a sprayer: any three give the fourth."""

from __future__ import annotations

from typing import Any

from logic.figure import Figure, Source, figure, step
from logic.units import nominal, quantity, text_of
from logic.works.limits import limit, limit_quantity, limit_source
from logic.works.operation import Ground

NOZZLE = Source("Calibrating your sprayer, Albany County: 5940 × gal/min ÷ (mph × inches); in metric 600")


def spray_rate(flow: Any, speed: Any, swath: Any) -> Figure:
    """Rate [L/ha] = 600 × flow [L/min] / (speed [km/h] × swath [m]).

    Source: nozzle method, Albany County; 600 = 10,000 m² × 60 min / 1000 m.
    """
    rate = 600 * flow / (speed * swath)
    line = step(
        "{f} ÷ ({v} × {w} wide) = {r}",
        f=quantity(flow, "L/minute"),
        v=quantity(speed, "km/hour"),
        w=quantity(swath, "m"),
        r=quantity(rate, "L/hectare"),
    )
    return figure("spray_rate", "Rate of spray", rate, "L/hectare", line, source=NOZZLE, headline=True)


def pace_figures(
    flow: Any, swath: Any, water_rate: Any, ground: Ground
) -> tuple[tuple[Figure, ...], tuple[str, ...]]:
    """Speed to walk at, seconds for 10 m, and minutes of spraying; a warning for a pace nobody walks.

    flow [L/min], swath [m], water_rate [L/m²]. Source: the nozzle method turned round.
    """
    rate = water_rate * 10_000
    speed = 600 * flow / (rate * swath)
    seconds = 10 / (speed / 3.6)
    minutes = water_rate * ground.area / flow
    walked = step(
        "{f} ÷ ({w} wide × {r}) = {v}",
        f=quantity(flow, "L/minute"),
        w=quantity(swath, "m"),
        r=quantity(rate, "L/hectare"),
        v=quantity(speed, "km/hour"),
    )
    timed = step("{d} at {v} = {s} s", d=quantity(10, "m"), v=quantity(speed, "km/hour"), s=seconds)
    spent = step(
        "{w} ÷ {f} = {m}",
        w=quantity(water_rate * ground.area, "L"),
        f=quantity(flow, "L/minute"),
        m=quantity(minutes, "minute"),
    )
    found = (
        figure("walking_speed", "Walk at", speed, "km/hour", walked, source=NOZZLE, headline=True),
        figure("seconds_per_10_m", "Seconds for 10 m", seconds, "second", walked, timed, source=NOZZLE),
        figure("spraying_time", "Time with the nozzle open", minutes, "minute", spent, source=NOZZLE),
    )
    return found, _pace_warnings(nominal(speed))


def _pace_warnings(speed: float) -> tuple[str, ...]:
    low, high = limit("walk_slow"), limit("walk_fast")
    if low <= speed <= high:
        return ()
    found = text_of(quantity(speed, "km/hour"))
    band = f"{text_of(limit_quantity('walk_slow'))} to {text_of(limit_quantity('walk_fast'))}"
    advice = (
        "take a larger nozzle or less water" if speed < low else "take a smaller nozzle or go over it twice"
    )
    return (f"{found} is not a pace to hold ({band}): {advice}. Source: {limit_source('walk_slow')}.",)
