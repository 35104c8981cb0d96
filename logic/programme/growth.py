"""How fast turf can grow at a temperature: growth potential, growing degree days, and nitrogen to match."""

from __future__ import annotations

import math
from collections.abc import Sequence

from logic import tables
from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.programme.limits import limit, limit_source
from logic.units import quantity

DEGREE_DAYS = Source(
    "Growing degree days, Midwestern Regional Climate Center: mean of the day less the base, never below 0"
)
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def growth_potential(temperature: float, grass: str = "cool") -> float:
    """Growth potential, 0 to 1, at a mean air temperature [°C]: exp(−½ ((T − optimum) ÷ spread)²).

    grass: a row of timing_growth.csv; warm-season grass stays at 1 above its optimum.
    Source: Gelernter and Stowell; Woods. Temperature only: light, water and feed are not in it.
    """
    row = tables.row("timing_growth", key=grass)
    optimum = float(row["optimum"])
    if row["held"] == "yes" and temperature > optimum:
        return 1.0
    return math.exp(-0.5 * ((temperature - optimum) / float(row["spread"])) ** 2)


def potential(temperature: float, grass: str = "cool") -> Figure:
    """Growth potential with its working."""
    row, found = tables.row("timing_growth", key=grass), growth_potential(temperature, grass)
    line = step(
        "exp(−½ × (({t} − {o}) ÷ {s})²) = {g}",
        t=quantity(temperature, "degC"),
        o=quantity(float(row["optimum"]), "degC"),
        s=float(row["spread"]),
        g=found,
    )
    return figure("growth_potential", "Growth potential", found, "", line, source=tables.source_of(row))


def degree_days(days: Sequence[tuple[float, float]], base: float) -> Figure:
    """Growing degree days [°C·day] of days given as (warmest, coldest) [°C]: sum of max(0, mean − base).

    Raises BadValue when a day's warmest is below its coldest. Source: DEGREE_DAYS.
    """
    if any(high < low for high, low in days):
        raise BadValue("days", "The warmest of a day can't be below the coldest.")
    total = sum(max(0.0, (high + low) / 2 - base) for high, low in days)
    line = step(
        "{n} days, each (warmest + coldest) ÷ 2 less {b}, never below 0: together {t}",
        n=len(days),
        b=quantity(base, "degC"),
        t=total,
    )
    return figure("degree_days", "Growing degree days", total, "", line, source=DEGREE_DAYS)


def nitrogen_by_month(
    temperatures: Sequence[float], grass: str = "cool", year: float | None = None
) -> tuple[Figure, ...]:
    """N for each of twelve months [g/m²] from their mean air temperatures [°C].

    year: the year's total to be shared by growth; left out, the most a month (timing_limits.csv) × potential.
    Raises BadValue unless there are twelve. Source: Woods; sharing a total is arithmetic.
    """
    if len(temperatures) != 12:
        raise BadValue("temperatures", "Give the mean temperature of all twelve months.")
    shares = [growth_potential(t, grass) for t in temperatures]
    if year is None:
        most = limit("n_month")
        amounts, source = [most * share for share in shares], limit_source("n_month")
        words, extra = "{m} × {g} = {n}", {"m": quantity(most, "g/m^2")}
    else:
        total = math.fsum(shares)
        amounts, source = [year * share / total for share in shares], Source("", "derived")
        words, extra = "{m} × {g} ÷ {s} = {n}", {"m": quantity(year, "g/m^2"), "s": quantity(total, "")}
    return tuple(
        figure(
            f"n_{month}",
            f"N in {month.title()}",
            amount,
            "g/m^2",
            step(words, g=share, n=quantity(amount, "g/m^2"), **extra),
            source=source,
        )
        for month, share, amount in zip(MONTHS, shares, amounts, strict=True)
    )
