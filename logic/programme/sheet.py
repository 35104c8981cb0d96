"""From works worked out to the steps of a day, and from a day back to hours and differences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

import pint

from logic import tables
from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.programme.day import Day, DayStep, Planned, state
from logic.programme.exposure import Use
from logic.programme.substitutes import machine
from logic.units import nominal, quantity, read_written
from logic.works.operation import Caution, Worked, caution

TYPED = Source("", "setting")


def day_steps(works: Sequence[Worked], system: str = "metric") -> tuple[DayStep, ...]:
    """The steps of a day for works in order. Amounts to weigh or fetch become items and planned amounts.

    Ids are the operation and how often it has come ("coring-1"), so that they last when others are moved.
    """
    seen: dict[str, int] = {}
    steps = []
    for worked in works:
        key = worked.operation.key
        seen[key] = seen.get(key, 0) + 1
        amounts = [one for one in worked.figures if one.order]
        passes = worked.values.get("passes") or worked.values.get("directions") or 1
        steps.append(
            DayStep(
                f"{key}-{seen[key]}",
                key,
                worked.operation.name,
                round(nominal(passes)),
                machine(key)[0],
                tuple((one.key, f"{one.name}: {one.text(system)}") for one in amounts),
                tuple(Planned(one.key, one.name, f"{one.nominal:.6g} {one.unit}".strip()) for one in amounts),
                tuple(dict.fromkeys(c.key for c in worked.cautions)),
            )
        )
    return tuple(steps)


def cautions_due(day: Day, step_id: str) -> tuple[Caution, ...]:
    """The cautions to show before a step: its own, less those already shown today."""
    shown = state(day).cautions
    known = {row["key"] for row in tables.rows("cautions")}
    return tuple(caution(key) for key in day.step(step_id).cautions if key in known and key not in shown)


@dataclass(frozen=True)
class Difference:
    """An amount planned and used. share: used more (+) or less (−) than planned [%]; None where units don't
    match."""

    step: str
    name: str
    planned: str
    actual: str
    reason: str
    share: Figure | None


def differences(day: Day) -> tuple[Difference, ...]:
    """Each amount that was written down, against its plan."""
    stood = state(day)
    found = []
    for one in day.steps:
        for planned in one.planned:
            actual = stood.steps[one.id].actual.get(planned.key)
            if actual is not None:
                share = _share(planned.value, actual.value)
                found.append(
                    Difference(one.id, planned.name, planned.value, actual.value, actual.reason, share)
                )
    return tuple(found)


def _share(planned: str, actual: str) -> Figure | None:
    try:
        plan = read_written(planned, "")
        used = read_written(actual, plan.unit)
        wanted = quantity(plan.value, plan.unit)
        had = quantity(used.value, used.unit).to(wanted.units)
        share = 100 * (had.magnitude / wanted.magnitude - 1)
    except (BadValue, pint.PintError, ZeroDivisionError):
        return None
    line = step("{u} used ÷ {p} planned − 1 = {s}", u=had, p=wanted, s=quantity(share, "%"))
    return figure("used_share", "Used against plan", share, "%", line, source=TYPED)


def uses(day: Day, machines: Mapping[str, Mapping[str, float | None]], now: datetime) -> tuple[Use, ...]:
    """The hours of each machine so far, with the user's own figures for it.

    machines: machine name → {"vibration": m/s² or None, "noise": dB(A) or None}. Steps that never ran are
    left out.
    """
    stood = state(day)
    found = []
    for one in day.steps:
        hours = stood.steps[one.id].seconds(now) / 3600
        if hours > 0:
            known = machines.get(one.machine, {})
            name = one.machine or one.name
            found.append(Use(name, min(24.0, hours), known.get("vibration"), known.get("noise")))
    return tuple(found)
