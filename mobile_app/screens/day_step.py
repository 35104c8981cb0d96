"""The step at hand, for gloves: start, pause and finish, passes, weigh-outs, amounts, and leaving it out."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import flet as ft

from logic.programme.day import DONE, PAUSED, RUNNING, SKIPPED, Day, DayState, DayStep, StepState
from logic.programme.sheet import Difference, differences
from logic.records.standing import Standing
from logic.records.types import Visit
from logic.works.operation import Worked, caution
from mobile_app import day as doing
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.clock import Clock
from mobile_app.parts.folded import folded
from mobile_app.parts.pictures import picture
from mobile_app.screens import day_notes, day_running

_GLOVE = 72  # height of what is tapped in gloves
_SAID = {RUNNING: "Running", PAUSED: "Paused", DONE: "Done", SKIPPED: "Left out"}


def card(app: App, visit: Visit, stood: Standing, day: Day, found: DayState, at: DayStep) -> ft.Control:
    """The step in large."""
    now, place = found.steps[at.id], [one.id for one in day.steps].index(at.id) + 1
    worked = _worked(visit, stood, at)
    lines: list[ft.Control] = [
        look.quiet(f"Step {place} of {len(day.steps)}"),
        look.title(at.name, 28),
    ]
    if at.machine:
        lines.append(look.words(at.machine))
        if (short := doing.in_short(doing.load(app, visit, day, at))) and now.status not in (DONE, SKIPPED):
            lines.append(look.quiet(short))
    lines += _cautions(app, visit, day, at, now)
    lines += [_time(at, now), _main(app, visit, day, at, now)]
    if now.status == SKIPPED:
        lines.append(look.words(f"Left out: {now.reason}"))
    if at.passes > 1 or now.passes or (worked and worked.values.has("passes")):
        lines += _passes(app, at, now)
        drawn = picture(worked, stood.outline, now.passes) if worked and stood.outline else None
        if drawn:
            lines.append(drawn)
    lines += _items(app, at, now)
    lines += day_running.sheets(app, at, now, worked)
    if at.planned:
        lines.append(folded(f"used-{at.id}", "What was really used", lambda: _amounts(app, day, at, now)))
    lines.append(
        folded(f"notes-{at.id}", "Notes, hollows, photos", lambda: day_notes.of_step(app, visit, at, now))
    )
    if now.status not in (DONE, SKIPPED):
        lines.append(look.keyed(f"skip-{at.id}", Skip, app, at.id))
    border = ft.Border.all(2, ft.Colors.PRIMARY)
    return look.card(*lines, spacing=14, border=border, key=f"step-{at.id}")


def _worked(visit: Visit, stood: Standing, at: DayStep) -> Worked | None:
    """The work that the step is of, as it stands now."""
    seen: dict[str, int] = {}
    for entry, (worked, _) in zip(visit.works, stood.planned, strict=True):
        key = str(entry.get("operation"))
        seen[key] = seen.get(key, 0) + 1
        if f"{key}-{seen[key]}" == at.id:
            return worked
    return None


def big(
    said: str, icon: Any, on_click: Callable[..., Any], filled: bool = True, label: str = ""
) -> ft.Control:
    """A button as high as a glove wants it."""
    ink = ft.Colors.ON_PRIMARY if filled else ft.Colors.PRIMARY
    return ft.Semantics(
        button=True,
        label=label or said,
        exclude_semantics=True,
        on_tap=on_click,
        expand=True,
        content=ft.Container(
            ft.Row(
                [
                    ft.Icon(icon, size=30, color=ink),
                    ft.Text(said, size=20, weight=ft.FontWeight.BOLD, color=ink, no_wrap=True),
                ],
                alignment=ft.MainAxisAlignment.CENTER,
                spacing=8,
            ),
            height=_GLOVE,
            bgcolor=ft.Colors.PRIMARY if filled else ft.Colors.SURFACE_CONTAINER,
            border=ft.Border.all(2, ft.Colors.PRIMARY),
            border_radius=12,
            on_click=on_click,
        ),
    )


def _time(at: DayStep, now: StepState) -> ft.Control:
    status = _SAID.get(now.status, "Not started")
    clock = look.keyed(f"clock-{at.id}-{now.since}", Clock, now.spent, now.since)
    return ft.Row(
        [clock, ft.Text(status, size=look.BODY, weight=ft.FontWeight.BOLD)],
        spacing=12,
        wrap=True,
        vertical_alignment=ft.CrossAxisAlignment.END,
    )


def _main(app: App, visit: Visit, day: Day, at: DayStep, now: StepState) -> ft.Control:
    if now.status in (DONE, SKIPPED):
        return look.secondary("Open it again", partial(_act, app, "reopen", at.id), ft.Icons.LOCK_OPEN)
    finish = big("Finish", ft.Icons.CHECK, partial(_act, app, "finish", at.id), filled=False)
    if now.status == RUNNING:
        first = big("Pause", ft.Icons.PAUSE, partial(_act, app, "pause", at.id))
    else:
        due = bool(doing.due(app, visit, day, at.id))
        said = "Go on" if now.status == PAUSED else "Start"
        first = big(
            said,
            ft.Icons.PLAY_ARROW,
            lambda _: doing.start(app, at.id),
            label=f"{said}, cautions read" if due else said,
        )
    return ft.Row([first, finish], spacing=10)


def _act(app: App, do: str, step: str, _: Any = None, **more: Any) -> None:
    app.tick()
    doing.act(app, do, step, **more)


def _cautions(app: App, visit: Visit, day: Day, at: DayStep, now: StepState) -> list[ft.Control]:
    """Those not shown today stand before the start; later they are folded away."""
    due = doing.due(app, visit, day, at.id)
    if due and now.status not in (DONE, SKIPPED, RUNNING):
        lines: list[ft.Control] = [look.title("Before you start", look.BODY + 1)]
        lines += [look.remark(one.sentence) for one in due]
        lines.append(look.quiet("Shown once a day. Local codes and licensed practice go before all of this."))
        return [look.card(*lines, bgcolor=ft.Colors.TERTIARY_CONTAINER, padding=12)]
    if not at.cautions:
        return []
    return [folded(f"cautions-{at.id}", "Cautions", lambda: _all_cautions(at))]


def _all_cautions(at: DayStep) -> ft.Control:
    lines: list[ft.Control] = []
    for key in at.cautions:
        try:
            one = caution(key)
        except LookupError:  # one that only a newer version knows
            continue
        lines += [look.remark(one.sentence), look.quiet(f"Source: {one.source}", italic=True)]
    return look.stack(*lines)


def _passes(app: App, at: DayStep, now: StepState) -> list[ft.Control]:
    said = f"{now.passes} of {at.passes}"
    count = ft.Column(
        [
            look.quiet("Passes"),
            ft.Text(said, size=look.TITLE, weight=ft.FontWeight.BOLD, semantics_label=f"{said} passes"),
        ],
        spacing=0,
        tight=True,
        horizontal_alignment=ft.CrossAxisAlignment.CENTER,
        expand=True,
    )
    less = _sign(app, at, -1, ft.Icons.REMOVE, "One pass less")
    more = _sign(app, at, 1, ft.Icons.ADD, "One pass more")
    return [ft.Row([less, count, more], spacing=8)]


def _sign(app: App, at: DayStep, by: int, icon: Any, label: str) -> ft.Control:
    """Counts a pass; the one that adds is filled."""
    tapped, adds = partial(_act, app, "pass", at.id, by=by), by > 0
    return ft.Semantics(
        button=True,
        label=label,
        exclude_semantics=True,
        on_tap=tapped,
        content=ft.Container(
            ft.Icon(icon, size=34, color=ft.Colors.ON_PRIMARY if adds else ft.Colors.PRIMARY),
            width=_GLOVE + 12,
            height=_GLOVE,
            alignment=ft.Alignment.CENTER,
            bgcolor=ft.Colors.PRIMARY if adds else ft.Colors.SURFACE_CONTAINER,
            border=ft.Border.all(2, ft.Colors.PRIMARY),
            border_radius=12,
            on_click=tapped,
        ),
    )


def _items(app: App, at: DayStep, now: StepState) -> list[ft.Control]:
    """What is weighed out or fetched, each with a box to tick."""
    if not at.items:
        return []
    lines: list[ft.Control] = [ft.Text("Weigh out and fetch", size=look.LABEL, weight=ft.FontWeight.BOLD)]
    for key, words in at.items:
        lines.append(_tick(words, key in now.ticked, partial(_turn, app, at.id, key, key not in now.ticked)))
    return [look.stack(*lines, spacing=6)]


def _turn(app: App, step: str, item: str, on: bool, _: Any = None) -> None:
    _act(app, "tick", step, item=item, on=on)


def _tick(words: str, on: bool, tapped: Callable[..., None]) -> ft.Control:
    return ft.Semantics(
        button=True,
        checked=on,
        label=words,
        exclude_semantics=True,
        on_tap=tapped,
        content=ft.Container(
            ft.Row(
                [
                    ft.Icon(
                        ft.Icons.CHECK_BOX if on else ft.Icons.CHECK_BOX_OUTLINE_BLANK,
                        size=34,
                        color=ft.Colors.PRIMARY,
                    ),
                    ft.Text(
                        words,
                        size=look.BODY + 1,
                        weight=ft.FontWeight.NORMAL if on else ft.FontWeight.BOLD,
                        color=ft.Colors.ON_SURFACE_VARIANT if on else ft.Colors.ON_SURFACE,
                        expand=True,
                    ),
                ],
                spacing=12,
            ),
            padding=ft.Padding.symmetric(horizontal=10, vertical=14),
            bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH if on else ft.Colors.SURFACE_CONTAINER,
            border=ft.Border.all(1, ft.Colors.OUTLINE),
            border_radius=10,
            on_click=tapped,
        ),
    )


def _amounts(app: App, day: Day, at: DayStep, now: StepState) -> ft.Control:
    found = {one.name: one for one in differences(day) if one.step == at.id}
    lines: list[ft.Control] = []
    for planned in at.planned:
        actual = now.actual.get(planned.key)
        words = dict(at.items).get(planned.key, f"{planned.name}: {planned.value}")
        value, reason = (actual.value, actual.reason) if actual else ("", "")
        lines.append(
            look.keyed(
                f"used-{at.id}-{planned.key}",
                Used,
                app,
                at.id,
                planned.key,
                words,
                value,
                reason,
                found.get(planned.name),
            )
        )
    return look.stack(*lines, spacing=16)


@ft.component
def Used(
    app: App, step: str, key_name: str, planned: str, value: str, reason: str, off: Difference | None
) -> ft.Control:
    """What was really used of one thing, and why it differs from the plan."""
    used, set_used = ft.use_state(value)
    why, set_why = ft.use_state(reason)
    changed = (used, why) != (value, reason)
    lines: list[ft.Control] = [
        look.quiet(f"Planned: {planned}"),
        ft.Row([text_box("Used", used, set_used, key=f"used-{key_name}", hint="as weighed, with its unit")]),
        ft.Row([text_box("Why it differs", why, set_why, key=f"why-{key_name}")]),
    ]
    if changed and used.strip():
        lines.append(
            look.secondary(
                "Write it down",
                lambda _: doing.act(
                    app, "actual", step, key=key_name, value=used.strip(), reason=why.strip()
                ),
            )
        )
    elif off is not None and off.share is not None:
        share = off.share.nominal
        said = (
            "as planned"
            if abs(share) < 0.5
            else f"{abs(share):.0f} % {'more' if share > 0 else 'less'} than planned"
        )
        lines.append(ft.Text(f"Used {value}: {said}", size=look.BODY, weight=ft.FontWeight.BOLD))
    return look.stack(*lines, spacing=8)


@ft.component
def Skip(app: App, step: str) -> ft.Control:
    """Leave a step out, with the reason."""
    is_open, set_open = ft.use_state(False)
    reason, set_reason = ft.use_state("")
    if not is_open:
        return look.plain("Leave this step out", lambda _: set_open(True), ft.Icons.BLOCK)
    common = (("Too wet", "Too wet"), ("Too cold", "Too cold"), ("No time left", "No time left"))
    return look.card(
        look.choices(common, reason, set_reason),
        ft.Row([text_box("Why it is left out", reason, set_reason, key=f"reason-{step}")]),
        look.secondary("Leave it out", lambda _: doing.act(app, "skip", step, reason=reason.strip())),
        look.plain("Keep it", lambda _: set_open(False)),
    )
