"""What several readings of one thing say together: mean, spread, ends, and how many more would be enough."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from logic.figure import DEFINITION, Figure, Source, figure, step
from logic.measure.sampling import needed, needed_known, sample, whole, z_quantile
from logic.units import nominal, plus_minus, quantity

ENOUGH = Source(
    "OpenStax, Introductory Statistics: n = (z × s ÷ E)²; with Student's t for a spread of few readings"
)


def plain(values: Sequence[Any]) -> tuple[float, ...]:
    """Readings without their ±."""
    return tuple(nominal(value) for value in values)


def several(
    key: str, name: str, readings: Sequence[Any], unit: str, headline: bool = True
) -> tuple[Figure, ...]:
    """Mean with its standard error as ±, then lowest, highest and standard deviation where there are several.

    readings: in `unit`. Source: definitions (deviation with n − 1).
    """
    values = plain(readings)
    found = sample(values)
    counted = step(
        "{n} readings, mean {m}" if found.count > 1 else "one reading: {m}",
        n=quantity(found.count, ""),
        m=quantity(found.mean, unit),
    )
    if found.count == 1:
        return (figure(key, name, found.mean, unit, counted, headline=headline),)
    mean = plus_minus(found.mean, found.error, "readings")
    unsure = step(
        "they scatter by {s}; the mean is good to {s} ÷ √{n} = {e:2}, two times in three",
        s=quantity(found.deviation, unit),
        n=quantity(found.count, ""),
        e=quantity(found.error, unit),
    )
    low, high = min(values), max(values)
    ends = step("from {a} to {b}", a=quantity(low, unit), b=quantity(high, unit))
    return (
        figure(key, name, mean, unit, counted, unsure, source=DEFINITION, headline=headline),
        figure(f"{key}_lowest", "Lowest", low, unit, ends),
        figure(f"{key}_highest", "Highest", high, unit, ends),
        figure(f"{key}_deviation", "Scatter of the readings", found.deviation, unit, unsure),
    )


def readings_needed(
    key: str, readings: Sequence[Any], unit: str, within: float, known: float | None = None
) -> tuple[Figure, ...]:
    """How many readings in all put the mean within ± `within` at 95 %; nothing while the spread isn't known.

    known: the spread from earlier visits, if there is one; otherwise that of these readings, with Student's
    t.
    Source: as ENOUGH.
    """
    values = plain(readings)
    z = z_quantile(0.975)
    shown = {"e": quantity(within, unit), "z": quantity(z, "")}
    if known is not None:
        raw = needed_known(known, within, z)
        line = step(
            "({z:3} × {s} ÷ {e})² = {r}, rounded up", s=quantity(known, unit), r=quantity(raw, ""), **shown
        )
        return (figure(key, "Readings wanted in all", whole(raw), "", line, source=ENOUGH),)
    if len(values) < 2:
        return ()
    deviation = sample(values).deviation
    count = needed(deviation, within)
    line = step(
        "for ± {e} at 95 % with a scatter of {s} (Student's t): {n}",
        s=quantity(deviation, unit),
        n=quantity(count, ""),
        **shown,
    )
    return (figure(key, "Readings wanted in all", count, "", line, source=ENOUGH),)
