"""The programme: from readings, wishes and season to an ordered list of steps, each with why and what first.

A plan becomes the works of a visit: there it is reordered, dropped from and changed like any other works, and
`review` says of the works in the order they then have what speaks against them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from logic.programme.conflicts import Conflict, Times, conflicts
from logic.programme.order import Before, must_come_before, ordered
from logic.programme.rules import Fired, Reason, by_readings, by_steps, by_wishes
from logic.programme.season import Month, strip
from logic.programme.substitutes import Substitute, machine, substitutes
from logic.survey.kind import Taken
from logic.works.operations import operations


@dataclass(frozen=True)
class Step:
    """One step: an operation with suggested values (job-file text), why, with what machine and what can stand
    in, what must come before it, how its month suits, and what speaks against it."""

    operation: str
    values: Mapping[str, str]
    reasons: tuple[Reason, ...]
    machine: str = ""
    next_best: str = ""
    before: tuple[Before, ...] = ()
    substitutes: tuple[Substitute, ...] = ()
    month: Month | None = None
    conflicts: tuple[Conflict, ...] = ()

    @property
    def name(self) -> str:
        """The operation's name."""
        found = operations().get(self.operation)
        return found.name if found else self.operation


@dataclass(frozen=True)
class Plan:
    """Steps in working order, and advice that is no step."""

    steps: tuple[Step, ...]
    advice: tuple[Reason, ...]

    @property
    def conflicts(self) -> tuple[Conflict, ...]:
        """All that speaks against the steps, in their order."""
        return tuple(conflict for step in self.steps for conflict in step.conflicts)


def propose(
    takens: Sequence[Taken], wishes: Sequence[str] = (), surface: str = "green", times: Times | None = None
) -> Plan:
    """The programme that readings and wishes lead to. surface: "green" or "lawn". Sources: each rule's
    own."""
    fired = [*by_readings(takens, surface), *by_wishes(wishes, surface)]
    steps = [one for one in fired if one.operation]
    while True:  # steps call for steps (sand after coring, water after seed) until no new one comes
        known = {one.operation for one in steps}
        more = [one for one in by_steps(sorted(known), surface) if one.operation not in known]
        if not more:
            break
        steps += more
    steps += [one for one in by_steps(sorted({one.operation for one in steps}), surface) if one not in steps]
    advice = tuple(one.reason for one in fired if not one.operation)
    return Plan(_steps(steps, times or Times()), advice)


def _steps(fired: Sequence[Fired], times: Times) -> tuple[Step, ...]:
    keys = ordered(tuple(dict.fromkeys(one.operation for one in fired)))
    return tuple(_step(key, [one for one in fired if one.operation == key], keys, times) for key in keys)


def _step(key: str, fired: Sequence[Fired], keys: Sequence[str], times: Times) -> Step:
    values: dict[str, str] = {}
    for one in fired:
        values = {**one.values, **values}  # the first rule that sets a value keeps it
    best, next_best = machine(key)
    return Step(
        key,
        values,
        tuple({one.reason.sentence: one.reason for one in fired}.values()),
        best,
        next_best,
        must_come_before(key, keys),
        substitutes(key),
        _month(key, times),
        tuple(c for c in conflicts(keys, times) if c.operation == key),
    )


def _month(key: str, times: Times) -> Month | None:
    if times.month is None or times.climate is None:
        return None
    year = strip(key, times.climate)
    return year.months[times.month - 1] if year else None


def as_works(plan: Plan) -> tuple[dict[str, Any], ...]:
    """The plan as a visit's works: {"operation", "values", "why": [sentences]}."""
    return tuple(
        {
            "operation": step.operation,
            "values": dict(step.values),
            "why": [f"{reason.sentence} ({reason.source})" for reason in step.reasons],
        }
        for step in plan.steps
    )


def review(works: Sequence[Mapping[str, Any]], times: Times | None = None) -> tuple[Conflict, ...]:
    """What speaks against a visit's works in the order they have now."""
    return conflicts([str(entry.get("operation")) for entry in works], times)
