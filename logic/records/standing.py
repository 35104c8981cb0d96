"""How a visit stands: what can be worked out of what has been typed so far.

With every key that is pressed a visit stands anew. What the key did not touch is taken over from how it stood
before, the very same objects, so that nothing is worked out twice and screens see what they need not draw
again. The works are worked out when someone asks for them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from logic.errors import BadValue
from logic.field import Reading
from logic.figure import Figure
from logic.measure.methods import measure
from logic.measure.outline import Outline
from logic.measure.pacing import PaceScale
from logic.records.drafts import given_of
from logic.records.reckon import ground_of
from logic.records.second import Twice, measured_twice
from logic.records.types import Pace, Visit
from logic.records.visits import outline_given, pace_scale, second_of, work_given
from logic.works.operation import Ground, Worked
from logic.works.operations import plan

Entry = Mapping[str, Any]


@dataclass(frozen=True)
class _Inputs:
    """All that the outline follows from."""

    pace: Pace | None
    given: Mapping[str, Any]
    second: Mapping[str, Any] | None


@dataclass(frozen=True)
class _Planned:
    """A work as it came out of its entry on a ground, which has noted what was asked of earlier works."""

    entry: Entry
    ground: Ground
    worked: Worked | None
    reading: Reading | None

    def holds(self, entry: Entry, earlier: Ground) -> bool:
        """True when the same entry on a ground after these earlier works comes out the same."""
        return self.entry == entry and all(
            len(found) == len(now) and all(a is b for a, b in zip(found, now, strict=True))
            for keys, found in self.ground.asked.items()
            for now in (earlier.before(*keys),)
        )


@dataclass(frozen=True)
class Standing:
    """outline is None while readings are missing or wrong (`measured` says which).

    twice: its second measurement, if any. held: works as they stood before, to be taken over while they hold.
    """

    pace: PaceScale | None
    outline: Outline | None
    measured: Reading
    twice: Twice | None
    entries: tuple[Entry, ...]
    confidence: float
    inputs: _Inputs
    held: tuple[_Planned, ...] = field(default=(), repr=False)

    @cached_property
    def _plans(self) -> tuple[_Planned, ...]:
        if self.outline is None:
            return tuple(_Planned(entry, Ground(0.0), None, None) for entry in self.entries)
        plans: list[_Planned] = []
        bare = ground_of(self.outline, self.confidence)
        for entry in self.entries:
            ground = replace(bare, earlier=tuple(p.worked for p in plans if p.worked))
            held = next((h for h in self.held if h.holds(entry, ground)), None)
            plans.append(held or self._plan(entry, ground))
        return tuple(plans)

    def _plan(self, entry: Entry, ground: Ground) -> _Planned:
        try:
            return _Planned(entry, ground, *plan(work_given(entry), ground, self.pace))
        except BadValue as bad:  # an operation that only a newer version knows
            return _Planned(entry, ground, None, Reading(None, "", {"": bad.sentence}))

    @property
    def planned(self) -> tuple[tuple[Worked | None, Reading | None], ...]:
        """For each work its Worked or None, and what was read. They wait (None, None) for an outline."""
        return tuple((p.worked, p.reading) for p in self._plans)

    @property
    def worked(self) -> tuple[Worked, ...]:
        """The works that could be worked out, in order."""
        return tuple(p.worked for p in self._plans if p.worked)

    @property
    def area(self) -> Figure | None:
        """The area, if measured."""
        return self.outline.area if self.outline else None

    def plans_known(self) -> tuple[_Planned, ...]:
        """The works that have been worked out so far, here or before."""
        known: tuple[_Planned, ...] = self.__dict__.get("_plans", self.held)
        return known


def standing(visit: Visit, pace: Pace | None, confidence: float, before: Standing | None = None) -> Standing:
    """How a visit stands; never raises for what was typed.

    before: how it stood, or how another one stands: what still holds is taken over.
    """
    inputs = _Inputs(pace, outline_given(visit), second_of(visit))
    if before and before.inputs == inputs:
        if (before.entries, before.confidence) == (visit.works, confidence):
            return before
        held = before.plans_known() if before.confidence == confidence and before.outline else ()
        return Standing(
            before.pace, before.outline, before.measured, before.twice, visit.works, confidence, inputs, held
        )
    scale = before.pace if before and before.inputs.pace == pace else pace_scale(pace)
    twice = None
    try:
        outline, measured = measure(inputs.given, scale)
        if outline and inputs.second:
            twice = measured_twice(outline, inputs.given, given_of(inputs.second), scale)
            outline = twice.used
    except BadValue as bad:  # a way of measuring that only a newer version knows
        outline, measured = None, Reading(None, "", {"": bad.sentence})
    return Standing(scale, outline, measured, twice, visit.works, confidence, inputs)
