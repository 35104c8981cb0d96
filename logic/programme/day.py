"""The day on the green as a list of what was done: steps, timers, passes, ticks, actual amounts.

A Day is what happened, in order; how it stands is worked out from that. So undo, redo and taking up again
after a dead battery are the same thing. Times are given in, aware, and never read from a clock here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from logic.errors import BadValue

WAITING, RUNNING, PAUSED, DONE, SKIPPED = "waiting", "running", "paused", "done", "skipped"

#: What can be done, and what each needs beside the step.
ACTIONS: Mapping[str, tuple[str, ...]] = {
    "start": (),
    "pause": (),
    "finish": (),
    "skip": ("reason",),
    "reopen": (),
    "pass": ("by",),
    "tick": ("item", "on"),
    "actual": ("key", "value", "reason"),
    "photo": ("photo",),
    "note": ("text",),
    "hollow": ("place", "text"),
    "caution": ("key",),
}
#: Those that belong to the day as a whole and may name no step.
WHOLE_DAY = ("photo", "note", "hollow", "caution")


@dataclass(frozen=True)
class Planned:
    """An amount that was planned: figure key, name, and value as text with its unit ("240 g")."""

    key: str
    name: str
    value: str


@dataclass(frozen=True)
class DayStep:
    """A step of the day. id: lasts as long as the plan's step; items: what is weighed out or fetched, as
    (key, words); cautions: keys of cautions.csv; machine: what it is done with."""

    id: str
    operation: str
    name: str
    passes: int = 1
    machine: str = ""
    items: tuple[tuple[str, str], ...] = ()
    planned: tuple[Planned, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Event:
    """Something done at a time. step "" for the day as a whole."""

    do: str
    step: str
    at: datetime
    more: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Day:
    """The steps planned, what was done in order, and what was taken back (last taken back first to
    return)."""

    steps: tuple[DayStep, ...] = ()
    log: tuple[Event, ...] = ()
    undone: tuple[Event, ...] = ()

    def step(self, step_id: str) -> DayStep:
        """The step with that id. Raises BadValue."""
        for one in self.steps:
            if one.id == step_id:
                return one
        raise BadValue("step", "This step is no longer in the day.")


@dataclass(frozen=True)
class Actual:
    """What was really used: text as typed, and why it differs."""

    value: str
    reason: str = ""


@dataclass(frozen=True)
class StepState:
    """How a step stands. spells: from when to when it was worked on; spent: their seconds; since: start of
    the spell that runs, if one does."""

    status: str = WAITING
    spent: float = 0.0
    since: datetime | None = None
    passes: int = 0
    ticked: frozenset[str] = frozenset()
    actual: Mapping[str, Actual] = field(default_factory=dict)
    photos: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    reason: str = ""
    started: datetime | None = None
    ended: datetime | None = None
    spells: tuple[tuple[datetime, datetime], ...] = ()

    def seconds(self, now: datetime) -> float:
        """Seconds worked by `now`; a clock that was set back takes nothing away."""
        return self.spent + (max(0.0, (now - self.since).total_seconds()) if self.since else 0.0)

    def seconds_since(self, midnight: datetime, now: datetime) -> float:
        """Seconds worked from an aware moment to `now`: those of today alone, for a job of several days."""
        spells = (*self.spells, *([(self.since, now)] if self.since else []))
        return sum(max(0.0, (end - max(start, midnight)).total_seconds()) for start, end in spells)


@dataclass(frozen=True)
class DayState:
    """How the day stands: each step's state by id, cautions shown, hollows visited, photos and notes of the
    day."""

    steps: Mapping[str, StepState]
    cautions: frozenset[str] = frozenset()
    hollows: tuple[tuple[str, str], ...] = ()
    photos: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def running(self) -> str:
        """The id of the step that runs, "" for none."""
        return next((key for key, one in self.steps.items() if one.status == RUNNING), "")

    @property
    def finished(self) -> bool:
        """True when every step is done or skipped."""
        return all(one.status in (DONE, SKIPPED) for one in self.steps.values())

    @property
    def next(self) -> str:
        """The id of the first step not yet done or skipped, "" when there is none."""
        return next((key for key, one in self.steps.items() if one.status not in (DONE, SKIPPED)), "")


def act(day: Day, do: str, at: datetime, step: str = "", **more: Any) -> Day:
    """The day with one thing more done; what was taken back before can't return after that.

    A tap that changes nothing (pausing what doesn't run) gives the same day. Raises BadValue for an unknown
    action or step, for what a done step can't do, or when something is missing; ValueError for a time without
    a zone.
    """
    if at.tzinfo is None:
        raise ValueError("a time of the day must know its zone")
    if do not in ACTIONS:
        raise BadValue("do", f"“{do}” is nothing that can be done here.")
    if step or do not in WHOLE_DAY:
        day.step(step)
    missing = [key for key in ACTIONS[do] if key not in more]
    if missing:
        raise BadValue(missing[0], "Something is missing here.")
    if do == "skip" and not str(more["reason"]).strip():
        raise BadValue("reason", "Write down why the step is left out.")
    event = Event(do, step, at, {key: more[key] for key in ACTIONS[do]})
    before = state(day)
    _refuse(before, event)
    after = _after(before, event)
    return day if after == before else Day(day.steps, (*day.log, event), ())


def _refuse(before: DayState, event: Event) -> None:
    if event.do in ("start", "pause", "finish", "skip") and event.step:
        status = before.steps[event.step].status
        if (status in (DONE, SKIPPED) and event.do in ("start", "skip")) or (
            status == SKIPPED and event.do == "finish"
        ):
            raise BadValue("step", "This step is closed. Open it again first.")


def undo(day: Day) -> Day:
    """The day without the last thing done; the same day when nothing was."""
    return Day(day.steps, day.log[:-1], (*day.undone, day.log[-1])) if day.log else day


def redo(day: Day) -> Day:
    """The day with the last thing taken back done again; the same day when there is none."""
    return Day(day.steps, (*day.log, day.undone[-1]), day.undone[:-1]) if day.undone else day


def replanned(day: Day, steps: Sequence[DayStep]) -> Day:
    """The day with other steps; what was done on steps that stay is kept, and so is the rest, unseen."""
    return replace(day, steps=tuple(steps))


def state(day: Day) -> DayState:
    """How the day stands after everything in its log. Events of steps that are gone are passed over."""
    found = DayState({one.id: StepState() for one in day.steps})
    for event in day.log:
        found = _after(found, event)
    return found


def _after(before: DayState, event: Event) -> DayState:
    if event.step:
        return _step_after(before, event)
    more = event.more
    if event.do == "caution":
        return replace(before, cautions=before.cautions | {str(more["key"])})
    if event.do == "hollow":
        return replace(before, hollows=(*before.hollows, (str(more["place"]), str(more["text"]))))
    if event.do == "photo":
        return replace(before, photos=(*before.photos, str(more["photo"])))
    if event.do == "note":
        return replace(before, notes=(*before.notes, str(more["text"])))
    return before


def _step_after(before: DayState, event: Event) -> DayState:
    now = before.steps.get(event.step)
    if now is None:
        return before
    if event.do == "caution":
        return replace(before, cautions=before.cautions | {str(event.more["key"])})
    if event.do == "hollow":
        return replace(before, hollows=(*before.hollows, (str(event.more["place"]), str(event.more["text"]))))
    steps = dict(before.steps)
    if event.do == "start" and now.status != RUNNING:  # one pair of hands: what runs is paused
        steps = {key: _paused(one, event.at) for key, one in steps.items()}
    steps[event.step] = _changed(now, event)
    return replace(before, steps=steps)


def _changed(now: StepState, event: Event) -> StepState:
    more, at = event.more, event.at
    if event.do == "start":
        if now.status == RUNNING:
            return now
        return replace(now, status=RUNNING, since=at, started=now.started or at, ended=None)
    if event.do == "pause":
        return _paused(now, at)
    if event.do == "finish":
        return (
            now
            if now.status == DONE
            else replace(_paused(now, at), status=DONE, started=now.started or at, ended=at)
        )
    if event.do == "skip":
        return replace(_paused(now, at), status=SKIPPED, reason=str(more["reason"]), ended=at)
    if event.do == "reopen":
        if now.status not in (DONE, SKIPPED):
            return now
        return replace(now, status=PAUSED if now.started else WAITING, reason="", ended=None)
    if event.do == "pass":
        return replace(now, passes=max(0, now.passes + int(more["by"])))
    if event.do == "tick":
        item = {str(more["item"])}
        return replace(now, ticked=now.ticked | item if more["on"] else now.ticked - item)
    if event.do == "actual":
        actual = {**now.actual, str(more["key"]): Actual(str(more["value"]), str(more["reason"]))}
        return replace(now, actual=actual)
    if event.do == "photo":
        return replace(now, photos=(*now.photos, str(more["photo"])))
    return replace(now, notes=(*now.notes, str(more["text"])))


def _paused(one: StepState, at: datetime) -> StepState:
    if one.since is None:
        return one
    spell = (one.since, max(one.since, at))
    return replace(one, status=PAUSED, spent=one.seconds(at), since=None, spells=(*one.spells, spell))
