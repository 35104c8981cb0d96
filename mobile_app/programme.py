"""What the user does with the programme: wishes and season to a proposal, the proposal into the works."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from logic.errors import BadValue
from logic.figure import Figure
from logic.programme.care import sown_of
from logic.programme.conflicts import Conflict, Times
from logic.programme.order import ordered
from logic.programme.plan import Plan, Step, as_works, propose, review
from logic.programme.substitutes import substituted, with_next_best
from logic.programme.when import how_long, times_of
from logic.records.drafts import put_at
from logic.records.surveyed import held
from logic.records.types import Visit, utc_now
from logic.records.visits import moved_work
from logic.supply.labour import time_for
from logic.survey.kind import Taken
from logic.survey.surface import surface_of
from logic.works.operation import Worked
from mobile_app import trade
from mobile_app.app import App, Notice


@dataclass(frozen=True)
class Proposed:
    """A step of the proposal as it would stand in this visit: worked out as far as its values go, and how
    long it and what follows take."""

    step: Step
    worked: Worked | None
    missing: str
    times: tuple[Figure, ...]
    said: tuple[str, ...]


def surface(app: App, visit: Visit) -> str:
    """ "green" or "lawn", which rules and classes depend on."""
    return surface_of(app.sward_of(visit).kind)


def takens(app: App, visit: Visit) -> tuple[Taken, ...]:
    """The visit's readings that can be worked out."""
    stood = app.standing(visit)
    found = held(visit, app.sward_of(visit), stood.outline, stood.pace)
    return tuple(one.taken for one in found if one.taken is not None)


def times(app: App, visit: Visit) -> Times:
    """When the work falls, as far as it is known."""
    return times_of(visit.programme, climate(app, visit), trade.day_of(visit))


def climate(app: App, visit: Visit) -> Mapping[str, Any]:
    """The year's temperatures as typed: what this visit is typing in, else what is kept with its sward."""
    typing = visit.programme.get("climate")
    return typing if isinstance(typing, Mapping) else app.sward_of(visit).climate


def wanted(visit: Visit) -> tuple[str, ...]:
    """The wishes that are ticked."""
    raw = visit.programme.get("wishes")
    return tuple(str(key) for key in raw) if isinstance(raw, list | tuple) else ()


def plan(app: App, visit: Visit) -> Plan:
    """What readings, wishes and season lead to."""
    return propose(takens(app, visit), wanted(visit), surface(app, visit), times(app, visit))


def proposed(app: App, visit: Visit, found: Plan) -> tuple[Proposed, ...]:
    """Each step with how much and how long it would be on this green."""
    trial = replace(visit, id=f"{visit.id}-proposal", works=as_works(found))
    stood = app.standing(trial)
    when, timed = times(app, visit), trade.timed(app, visit)
    rows = []
    for step, entry, (worked, reading) in zip(found.steps, trial.works, stood.planned, strict=True):
        figures: list[Figure] = []
        said: tuple[str, ...] = ()
        if stood.area is not None:
            at_work = time_for(step.operation, "Time for one person", stood.area.value.magnitude, timed)
            figures += [at_work] if at_work else []
        if worked is not None:
            more, said = how_long(worked, sown_of([entry]).species, when)
            figures += more
        missing = next(iter(reading.problems.values()), "") if reading else "Measure the green first."
        rows.append(Proposed(step, worked, missing, tuple(figures), said))
    return tuple(rows)


def against(app: App, visit: Visit) -> Mapping[int, tuple[Conflict, ...]]:
    """What speaks against the works in the order they have, by the place of the work it is said at."""
    found: dict[int, tuple[Conflict, ...]] = {}
    keys = [str(entry.get("operation")) for entry in visit.works]
    for conflict in review(visit.works, times(app, visit)):
        place = keys.index(conflict.operation)
        found[place] = (*found.get(place, ()), conflict)
    return found


# --- what the user does ---------------------------------------------------------------------


def wish(app: App, key: str) -> None:
    """Tick a wish, or take the tick away."""
    visit = app.visit_in_hand()
    there = wanted(visit)
    now = [w for w in there if w != key] if key in there else [*there, key]
    app.edit(replace(visit, programme={**visit.programme, "wishes": now}))


def set_when(app: App, key: str, value: Any) -> None:
    """The month, or today's soil as typed."""
    visit = app.visit_in_hand()
    app.edit(replace(visit, programme={**visit.programme, key: value}))


def leave_out(app: App, operation: str) -> None:
    """Leave a proposed step out of what is taken, or put it back."""
    visit = app.visit_in_hand()
    there = [str(key) for key in visit.programme.get("left_out") or ()]
    now = [k for k in there if k != operation] if operation in there else [*there, operation]
    app.edit(replace(visit, programme={**visit.programme, "left_out": now}))


def set_climate(app: App, path: str, value: Any) -> None:
    """One temperature of the year as typed: it stays with the visit until it is kept for the sward."""
    visit = app.visit_in_hand()
    set_when(app, "climate", put_at(climate(app, visit), path, value))


def keep_climate(app: App) -> None:
    """Keep the year's temperatures with the sward, for every visit, and go back to the proposal."""
    visit = app.visit_in_hand()
    if "climate" in visit.programme and app.save_now():
        rest = {key: value for key, value in visit.programme.items() if key != "climate"}
        freed = replace(app.visit_in_hand(), programme=rest)
        sward = replace(app.sward_of(visit), climate=climate(app, visit))
        if app.save_all([freed, sward], "temperatures of the year"):
            app.change(visit=freed)
    app.go(f"/visit/{visit.id}/programme")


def take(app: App, found: Plan, keys: tuple[str, ...]) -> None:
    """Put proposed steps into the works in a working order. A work that is there already keeps its values
    and is told why."""
    visit = app.visit_in_hand()
    there = list(visit.works)
    for entry in as_works(found):
        if entry["operation"] not in keys:
            continue
        place = next((n for n, w in enumerate(there) if w.get("operation") == entry["operation"]), None)
        if place is None:
            there.append(entry)
        else:
            there[place] = {**there[place], "why": entry["why"]}
    order = ordered(tuple(dict.fromkeys(str(w.get("operation")) for w in there)))
    there.sort(key=lambda w: order.index(str(w.get("operation"))))
    app.save_now()
    app.edit_undoable(replace(app.visit_in_hand(), works=tuple(there)), "proposal taken into the works")
    app.go(f"/visit/{visit.id}/works")


def move(app: App, index: int, by: int) -> None:
    """A work earlier (-1) or later (+1) in the day."""
    app.edit(moved_work(app.visit_in_hand(), index, by))


def agree(app: App, index: int, used: str, name: str) -> bool:
    """A work done with a second-best machine, as a person agreed. used: an operation, or "" for the same
    work with the next best tool. False, with a sentence, while nobody is named."""
    visit = app.visit_in_hand()
    entry, now = visit.works[index], utc_now()
    try:
        changed = substituted(entry, used, name, now) if used else with_next_best(entry, name, now)
    except BadValue as bad:
        app.change(notice=Notice(bad.sentence, serious=True))
        return False
    works = (*visit.works[:index], changed, *visit.works[index + 1 :])
    app.edit_undoable(replace(visit, works=works), "agreed on another machine")
    return True
