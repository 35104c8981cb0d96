"""What the user does on the day: every tap goes into the book before it is drawn as done."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from logic.errors import BadValue
from logic.figure import Figure
from logic.programme import day as doing
from logic.programme.day import Day, DayState, DayStep
from logic.programme.day_json import from_json, to_json
from logic.programme.exposure import Exposure, Use, noise, noise_time_left, time_left, vibration
from logic.programme.machines import Known, Own, by_name, known, own_for
from logic.programme.sheet import cautions_due, cautions_shown, day_steps, minutes_done, uses, with_works
from logic.records.trade import times_of, with_time
from logic.records.types import Machine, Visit, utc_now
from logic.works.operation import Caution
from logic.works.operations import operations
from mobile_app.app import App, Notice


def owned(app: App) -> tuple[Own, ...]:
    """One's own machines."""
    return tuple(
        Own(one.name, tuple(one.works), one.vibration, one.noise, one.source) for one in app.book.all(Machine)
    )


def day_in_hand(app: App, visit: Visit) -> Day:
    """The day as it stands, with the steps of the works as they are now."""
    machines = owned(app)
    mine = {key: own.name for key in operations() if (own := own_for(key, machines))}
    planned = app.standing(visit).planned
    works = [(entry, worked) for entry, (worked, _) in zip(visit.works, planned, strict=True)]
    return with_works(from_json(visit.day), day_steps(works, app.system, mine))


def midnight(now: datetime) -> datetime:
    """The start of the day where the phone is."""
    return now.astimezone().replace(hour=0, minute=0, second=0, microsecond=0)


def at_hand(visit: Visit, day: Day, stood: DayState) -> DayStep | None:
    """The step that is looked at: the one opened last, else what runs, else what comes next."""
    opened = str(visit.day.get("at") or "")
    for wanted in (opened, stood.running, stood.next):
        for one in day.steps:
            if one.id == wanted:
                return one
    return day.steps[-1] if day.steps else None


def _keep(app: App, visit: Visit, day: Day, at: str) -> None:
    if app.state.notice and not app.state.notice.serious:
        app.state = replace(app.state, notice=None)  # its way back would now take this tap back
    app.edit(replace(visit, day={"at": at, **to_json(day)}))
    app.save_now()


def open_step(app: App, step: str) -> None:
    """Look at a step."""
    visit = app.visit_in_hand()
    _keep(app, visit, day_in_hand(app, visit), step)


def act(app: App, do: str, step: str = "", **more: Any) -> bool:
    """Something done, saved at once; False, with a sentence, when it can't be."""
    visit = app.visit_in_hand()
    day = day_in_hand(app, visit)
    try:
        changed = doing.act(day, do, utc_now(), step, **more)
    except BadValue as bad:
        app.change(notice=Notice(bad.sentence, serious=True))
        return False
    at = str(visit.day.get("at") or "") or step
    if do in ("finish", "skip"):
        at = ""  # on to what runs or comes next
        visit = _timed(visit, changed)
    elif do == "start":
        at = step
    _keep(app, visit, changed, at)
    return True


def _timed(visit: Visit, day: Day) -> Visit:
    """The visit with the minutes of finished works noted for the next quote, unless typed by hand."""
    for key, minutes in minutes_done(day).items():
        there = times_of(visit, key)
        if there.get("by") == "day" or not there.get("minutes"):
            for name, value in (("minutes", f"{minutes:.3g} min"), ("people", "1"), ("by", "day")):
                visit = with_time(visit, key, name, value)
    return visit


def start(app: App, step: str) -> None:
    """Start a step, the cautions on the screen having been read."""
    visit = app.visit_in_hand()
    day, now = day_in_hand(app, visit), utc_now()
    for one in due(app, visit, day, step):
        day = doing.act(day, "caution", now, step, key=one.key)
    try:
        day = doing.act(day, "start", now, step)
    except BadValue as bad:
        app.change(notice=Notice(bad.sentence, serious=True))
        return
    _keep(app, visit, day, step)


def undo(app: App) -> None:
    """Take back the last thing done on the day."""
    visit = app.visit_in_hand()
    _keep(app, visit, doing.undo(day_in_hand(app, visit)), "")


def redo(app: App) -> None:
    """Do again what was taken back last."""
    visit = app.visit_in_hand()
    _keep(app, visit, doing.redo(day_in_hand(app, visit)), "")


def due(app: App, visit: Visit, day: Day, step: str) -> tuple[Caution, ...]:
    """The cautions to show before a step: those not shown yet today, at this visit or at another."""
    since = midnight(utc_now())
    shown = cautions_shown(day, since)
    for other in _others(app, visit, since):
        shown |= cautions_shown(from_json(other.day), since)
    return cautions_due(day, step, shown)


def _others(app: App, visit: Visit, since: datetime) -> list[Visit]:
    """Other visits on whose day something was done since then."""
    return [v for v in app.book.all(Visit) if v.day and v.changed >= since and v.id != visit.id]


@dataclass(frozen=True)
class Load:
    """What the day has cost hands and ears so far, over all of today's visits.

    used: the machines in use today with what is known of each; left: time left on the machine at hand.
    """

    vibration: Exposure
    noise: Exposure
    used: tuple[Known, ...]
    left: tuple[Figure, ...]


def load(app: App, visit: Visit, day: Day, at: DayStep | None) -> Load:
    """The exposure of today."""
    now, machines = utc_now(), owned(app)
    since = midnight(now)
    days = [day, *(from_json(other.day) for other in _others(app, visit, since))]
    tools = {one.machine: one.operation for each in days for one in each.steps if one.machine}
    if at and at.machine:
        tools[at.machine] = at.operation
    facts = {tool: known(tool, operation, machines) for tool, operation in tools.items()}
    found: list[Use] = []
    for each in days:
        found += uses(each, by_name(facts.values()), now, since)
    shaking = [use for use in found if use.name in facts and facts[use.name].engine]
    shaken = vibration(shaking)
    left: list[Figure] = []
    here = facts.get(at.machine) if at else None
    if here and here.vibration:
        used = shaken.figure("vibration_points").nominal
        left = [time_left(used, here.vibration, to) for to in ("action", "limit")]
    if here and here.noise:
        left.append(noise_time_left(shaking, here.noise))
    names = dict.fromkeys(use.name for use in shaking)
    listed = [*names, *([at.machine] if at and here and here.engine and at.machine not in names else [])]
    return Load(shaken, noise(shaking), tuple(facts[name] for name in listed), tuple(left))


def in_short(found: Load) -> str:
    """Where the hands stand, in one line; "" where nothing shakes."""
    left = [one for one in found.left if one.key.startswith("time_to_")]
    if not left:
        return ""
    points = found.vibration.figure("vibration_points").nominal
    times = ", ".join(f"{span(one.nominal)} to the {one.key.rpartition('_')[2]} value" for one in left)
    return f"Vibration: {points:.0f} points today. Left with this machine: {times}."


def span(hours: float) -> str:
    """Hours as people say them: "47 min", "3 h 7 min"."""
    whole, minutes = divmod(round(hours * 60), 60)
    return " ".join(
        filter(None, (f"{whole} h" if whole else "", f"{minutes} min" if minutes or not whole else ""))
    )
