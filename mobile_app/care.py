"""What the user does about aftercare: its day and choices, the calendar, and the follow-ups that are due."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from logic.programme.care import care_of, is_agreed, still_to_do
from logic.programme.stages import Due, Line, Stages, due
from logic.records.types import Sward, Visit, utc_now
from mobile_app import trade
from mobile_app.app import App
from mobile_app.jobs import file_name

AHEAD = 14  # days
_stored: dict[tuple[str, datetime], Stages] = {}


def stages_of(visit: Visit) -> Stages:
    """The aftercare of a visit."""
    return care_of(visit.works, visit.day, visit.care, trade.day_of(visit))


def put(app: App, key: str, value: Any) -> None:
    """One choice as typed."""
    visit = app.visit_in_hand()
    app.edit(replace(visit, care={**visit.care, key: value}))


def choose(app: App, key: str, value: Any) -> None:
    """One choice as tapped: saved at once."""
    put(app, key, value)
    app.save_now()


def shift(app: App, days: int) -> None:
    """The day that the aftercare counts from, earlier or later."""
    visit = app.visit_in_hand()
    choose(app, "start", (stages_of(visit).done + timedelta(days=days)).isoformat())


def begin(app: App) -> None:
    """Let the aftercare begin on the day shown: from now on its visits are in the list."""
    choose(app, "start", stages_of(app.visit_in_hand()).done.isoformat())


def is_begun(visit: Visit) -> bool:
    """True once follow-ups are watched."""
    return is_agreed(visit.day, visit.care)


def tick(app: App, key: str) -> None:
    """A follow-up done, or not done after all."""
    raw = app.visit_in_hand().care.get("done")
    there = [str(one) for one in raw] if isinstance(raw, list | tuple) else []
    choose(app, "done", [k for k in there if k != key] if key in there else [*there, key])


def give_calendar(app: App, contractor: bool) -> None:
    """The calendar file: the customer's own lines, or the contractor's visits."""
    from logic.programme.calendar import calendar  # which brings a large library with it

    visit = app.visit_in_hand()
    sward, found = app.sward_of(visit), stages_of(visit)
    lines = found.visits if contractor else found.lines
    data = calendar(lines, utc_now(), visit.id, sward.name, contractor)
    whose = "visits" if contractor else "aftercare"
    name = file_name(sward.name, whose, found.done.isoformat(), ending="ics")
    app.device.offer(name, "text/calendar", data, f"Calendar of {sward.name}")


@dataclass(frozen=True)
class Coming:
    """What is due on a sward: the visit it comes from, and the line."""

    visit: Visit
    due: Due


def _stages_stored(visit: Visit) -> Stages:
    """The aftercare of a visit as it is in the book, kept until it is saved anew: a list asks at each key."""
    key = (visit.id, visit.changed)
    if key not in _stored:
        if len(_stored) >= 200:
            _stored.clear()
        _stored[key] = stages_of(visit)
    return _stored[key]


def coming(app: App, swards: list[Sward], ahead: int = AHEAD) -> dict[str, Coming]:
    """The next follow-up of each sward that has one within `ahead` days, or overdue."""
    today = date.today()
    found: dict[str, Coming] = {}
    for sward in swards:
        visits = app.book.visits_of(sward.id)
        latest = next((visit for visit in visits if is_begun(visit)), None)
        if latest is None:
            continue
        seen = [trade.day_of(visit) for visit in visits if visit.id != latest.id]
        lines = still_to_do(_stages_stored(latest), latest.care, seen)
        next_one = next(iter(due({sward.id: lines}, today, ahead)), None)
        if next_one:
            found[sward.id] = Coming(latest, next_one)
    return found


def words(one: Due) -> str:
    """ "Due: first cut Thu 3 Dec", or since when it is overdue."""
    name = one.line.name or one.line.sentence
    short = name[:1].lower() + name[1:]
    if one.overdue:
        return f"Overdue: {short}, since {day_name(one.line.last)}"
    return f"Due: {short} {day_name(one.line.first)}"


def day_name(day: date) -> str:
    """ "Thu 3 Dec"."""
    return f"{day:%a} {day.day} {day:%b}"


def span(line: Line) -> str:
    """From when to when a line holds, and how often."""
    days = (
        day_name(line.first)
        if line.first == line.last
        else f"{day_name(line.first)} to {day_name(line.last)}"
    )
    often = {None: "", 1: ", every day", 2: ", every other day", 7: ", once a week"}
    every = often.get(line.every, f", every {line.every} days")
    return days + (every if line.first != line.last else "")
