"""How long a work takes: from the contractor's own timed days where there are any, else from a rough guess.

The spread between days is shown, and is carried along as the ± of the time.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from statistics import mean, stdev
from typing import Any

from logic import tables
from logic.field import Form, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, plus_minus, quantity

OWN = Source("your own timed days; ± of one more day: s × √(1 + 1/n), any statistics text", "setting")
FORM = Form(
    (
        from_table(
            "supply", "labour", "minutes", "Time it took", help="From start to finish, breaks left out."
        ),
        from_table("supply", "labour", "people", "People at it", whole=True),
    )
)


@dataclass(frozen=True)
class Timed:
    """One work as it was timed. minutes: by the clock; people: at it together; area [m²]."""

    operation: str
    day: date
    minutes: float
    people: int
    area: float

    @property
    def rate(self) -> float:
        """Minutes of one person for a square metre."""
        return self.minutes * self.people / self.area


def rate_of(operation: str, days: Iterable[Timed]) -> Figure | None:
    """Minutes of one person for a square metre of `operation`, with its ±; None when nothing is known of it.

    From two own days on, ± is that of one more day like them; of one day, or none, that of labour.csv.
    """
    own = [day for day in days if day.operation == operation and day.area > 0]
    rows = [row for row in tables.rows("labour") if row["operation"] == operation]
    if not own and not rows:
        return None
    guessed_spread = float(rows[0]["spread_percent"]) / 100 if rows else 0.5
    if not own:
        guess = float(rows[0]["minutes_per_m2"])
        value = plus_minus(guess, guess * guessed_spread, f"pace of {operation}")
        line = step("a rough guess until you have timed days: {r}", r=_rate(value))
        return figure(
            "labour_rate", "Time for each m²", value, "minute/m^2", line, source=tables.source_of(rows[0])
        )
    rates = [day.rate for day in own]
    middle = mean(rates)
    margin = stdev(rates) * math.sqrt(1 + 1 / len(rates)) if len(rates) > 1 else middle * guessed_spread
    lines = [
        step(
            "{d}: {t} × {n} at it ÷ {a} = {r}",
            d=day.day.isoformat(),
            t=quantity(day.minutes, "minute"),
            n=day.people,
            a=quantity(day.area, "m^2"),
            r=_rate(day.rate),
        )
        for day in own[-6:]
    ]
    value = plus_minus(middle, margin, f"pace of {operation}") if margin else middle
    lines.append(
        step(
            "mean of {n}: {m}, from {low} to {high}", n=len(rates), m=_rate(middle), low=_rate(min(rates)),
            high=_rate(max(rates)),
        )
    )  # fmt: skip
    return figure("labour_rate", "Time for each m²", value, "minute/m^2", *lines, source=OWN)


def time_for(operation: str, name: str, area: Any, days: Iterable[Timed]) -> Figure | None:
    """Minutes of one person for a work on `area` [m², ± allowed]: area × rate. None when nothing is known
    of it."""
    rate = rate_of(operation, days)
    if rate is None:
        return None
    minutes = area * rate.value.magnitude
    line = step(
        "{a} × {r} = {t}", a=quantity(area, "m^2"), r=_rate(nominal(rate.value.magnitude)),
        t=quantity(minutes, "minute"),
    )  # fmt: skip
    return figure(f"time_{operation}", name, minutes, "minute", *rate.steps, line, source=rate.source)


def timed_of(operation: str, day: date, given: Mapping[str, Any], area: float) -> Timed | None:
    """What was typed of a timed work; None while it is not complete."""
    values = FORM.read(given).values
    if values is None or area <= 0:
        return None
    return Timed(operation, day, nominal(values.minutes), int(values.people), area)


def _rate(value: Any) -> Any:
    return quantity(value, "minute/m^2")
