"""From works worked out to the steps of a day, and from a day back to hours and differences."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import pint

from logic import tables
from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.programme.day import DONE, Day, DayStep, Planned, replanned, state
from logic.programme.exposure import Use
from logic.programme.machines import petrol_driven
from logic.programme.order import name
from logic.programme.running import tanks
from logic.programme.substitutes import machine_of
from logic.units import nominal, quantity, read_written
from logic.works.operation import Caution, Worked, caution

TYPED = Source("", "setting")


def day_steps(
    works: Sequence[tuple[Mapping[str, Any], Worked | None]],
    system: str = "metric",
    machines: Mapping[str, str] | None = None,
) -> tuple[DayStep, ...]:
    """The steps of a day for stored works in order, each with its Worked, or None while it can't be worked
    out. Amounts to weigh or fetch become items and planned amounts.

    Ids are the operation and how often it has come ("coring-1"), so that they last when others are moved.
    machines: operation → name of one's own machine for it.
    """
    seen: dict[str, int] = {}
    steps = []
    for entry, worked in works:
        key = str(entry.get("operation"))
        seen[key] = seen.get(key, 0) + 1
        tool = str(entry.get("machine") or (machines or {}).get(key) or machine_of(entry))
        steps.append(_day_step(f"{key}-{seen[key]}", key, tool, worked, system))
    return tuple(steps)


def _day_step(step_id: str, key: str, tool: str, worked: Worked | None, system: str) -> DayStep:
    if worked is None:
        return DayStep(step_id, key, name(key), machine=tool)
    amounts = [one for one in worked.figures if one.order]
    passes = worked.values.get("passes") or worked.values.get("directions") or 1
    cautions = [c.key for c in worked.cautions] + (["petrol"] if petrol_driven(tool, key) else [])
    return DayStep(
        step_id,
        key,
        worked.operation.name,
        round(nominal(passes)),
        tool,
        (*((one.key, f"{one.name}: {one.text(system)}") for one in amounts), *tanks(worked, system)),
        tuple(Planned(one.key, one.name, f"{one.nominal:.6g} {one.unit}".strip()) for one in amounts),
        tuple(dict.fromkeys(cautions)),
    )


def with_works(day: Day, steps: Sequence[DayStep]) -> Day:
    """The day with the steps of the works as they are now. A step that is no longer planned stays, last, when
    anything was done on it: nothing that was written down is lost."""
    planned, touched = {one.id for one in steps}, {event.step for event in day.log}
    kept = [one for one in day.steps if one.id not in planned and one.id in touched]
    return replanned(day, (*steps, *kept))


def cautions_shown(day: Day, midnight: datetime) -> frozenset[str]:
    """The keys of the cautions shown since an aware moment."""
    return frozenset(str(e.more["key"]) for e in day.log if e.do == "caution" and e.at >= midnight)


def cautions_due(day: Day, step_id: str, shown: Collection[str] | None = None) -> tuple[Caution, ...]:
    """The cautions to show before a step: its own, less those already shown (left out: those ever shown in
    this day)."""
    seen = state(day).cautions if shown is None else shown
    known = {row["key"] for row in tables.rows("cautions")}
    return tuple(caution(key) for key in day.step(step_id).cautions if key in known and key not in seen)


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


def minutes_done(day: Day) -> Mapping[str, float]:
    """Minutes that each operation took, of the steps that are done; for the next quote."""
    stood, found = state(day), dict[str, float]()
    for one in day.steps:
        timed = stood.steps[one.id]
        if timed.status == DONE and timed.spent > 0:
            found[one.operation] = found.get(one.operation, 0.0) + timed.spent / 60
    return found


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


def uses(
    day: Day,
    machines: Mapping[str, Mapping[str, float | None]],
    now: datetime,
    midnight: datetime | None = None,
) -> tuple[Use, ...]:
    """The hours of each machine so far (since `midnight`, where given), with the user's own figures for it.

    machines: machine name → {"vibration": m/s² or None, "noise": dB(A) or None}. Steps that never ran are
    left out.
    """
    stood = state(day)
    found = []
    for one in day.steps:
        timed = stood.steps[one.id]
        hours = (timed.seconds_since(midnight, now) if midnight else timed.seconds(now)) / 3600
        if hours > 0:
            known = machines.get(one.machine, {})
            tool = one.machine or one.name
            found.append(Use(tool, min(24.0, hours), known.get("vibration"), known.get("noise")))
    return tuple(found)
