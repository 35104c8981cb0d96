"""The day: the step at hand in large, the others in order, what it costs hands and ears, and what follows."""

from __future__ import annotations

from functools import partial
from typing import Any

import flet as ft

from logic.programme.day import DONE, PAUSED, RUNNING, SKIPPED, Day, DayState, DayStep, StepState, state
from logic.records.standing import Standing
from logic.records.types import Visit
from mobile_app import day as doing
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.clock import Clock, reads
from mobile_app.parts.folded import folded
from mobile_app.screens import day_load, day_notes, day_step

_SIGNS = {
    DONE: (ft.Icons.CHECK_CIRCLE, "done"),
    SKIPPED: (ft.Icons.BLOCK, "left out"),
    RUNNING: (ft.Icons.PLAY_CIRCLE, "running"),
    PAUSED: (ft.Icons.PAUSE_CIRCLE, "paused"),
}


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The day of a visit."""
    day = doing.day_in_hand(app, visit)
    if not day.steps:
        return [
            look.title("No works yet"),
            look.quiet("The day is made from the works: choose them first, or have them proposed."),
            look.primary("To the works", lambda _: app.go(f"/visit/{visit.id}/works")),
        ]
    found = state(day)
    at = doing.at_hand(visit, day, found)
    assert at is not None
    rows: list[ft.Control] = [_bar(app, day, found)]
    if found.finished:
        rows.append(_finished(app, visit, found))
    rows.append(day_step.card(app, visit, stood, day, found, at))
    if len(day.steps) > 1:
        rows.append(look.title("Steps of the day"))
        rows.append(look.stack(*[_row(app, visit, one, found, at) for one in day.steps], spacing=8))
    rows.append(folded("load", "Hands and ears today", lambda: day_load.view(app, visit, day, at)))
    rows.append(day_notes.whole_day(app, visit, found))
    if not found.finished:
        rows.append(look.secondary("Aftercare", lambda _: app.go(f"/visit/{visit.id}/care")))
    return rows


def _bar(app: App, day: Day, found: DayState) -> ft.Control:
    """How far the day is, and the way back."""
    closed = sum(one.status in (DONE, SKIPPED) for one in found.steps.values())
    tools: list[ft.Control] = [
        ft.Text(
            f"{closed} of {len(day.steps)} steps closed",
            size=look.LABEL,
            weight=ft.FontWeight.BOLD,
            expand=True,
        )
    ]
    if day.log:
        tools.append(look.plain("Take back", lambda _: doing.undo(app), ft.Icons.UNDO))
    if day.undone:
        tools.append(look.plain("Again", lambda _: doing.redo(app), ft.Icons.REDO))
    share = ft.ProgressBar(
        value=closed / len(day.steps),
        bar_height=8,
        border_radius=4,
        color=ft.Colors.PRIMARY,
        bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH,
    )
    return look.stack(
        ft.Row(tools, spacing=0), ft.Semantics(content=share, exclude_semantics=True), spacing=2
    )


def _finished(app: App, visit: Visit, found: DayState) -> ft.Control:
    worked = sum(one.spent for one in found.steps.values())
    left_out = sum(one.status == SKIPPED for one in found.steps.values())
    said = f"All steps are closed after {reads(worked)} at work."
    if left_out:
        said += f" {left_out} left out."
    return look.card(
        look.title("The day is done"),
        look.words(said),
        look.primary(
            "On to the aftercare", lambda _: app.go(f"/visit/{visit.id}/care"), ft.Icons.ARROW_FORWARD
        ),
        bgcolor=ft.Colors.PRIMARY_CONTAINER,
    )


def _row(app: App, visit: Visit, one: DayStep, found: DayState, at: DayStep) -> ft.Control:
    """A step in the list: a tap takes it in hand."""
    stood = found.steps[one.id]
    icon, said = _SIGNS.get(stood.status, (ft.Icons.RADIO_BUTTON_UNCHECKED, "to do"))
    operations = [str(entry.get("operation")) for entry in visit.works]
    here = one.id == at.id
    under = [_under(one, stood)] if stood.status != RUNNING else []
    if one.operation not in operations:
        under.append(look.remark("No longer in the works; kept, as something was done on it."))
    words: list[ft.Control] = [
        ft.Text(one.name, size=look.BODY + 1, weight=ft.FontWeight.BOLD if here else ft.FontWeight.NORMAL),
        *under,
    ]
    right: list[ft.Control] = []
    if stood.status == RUNNING:
        right.append(look.keyed(f"small-{one.id}", Clock, stood.spent, stood.since, look.TITLE))
    open_it = partial(_open, app, one.id)
    return ft.Semantics(
        button=True,
        selected=here,
        label=f"{one.name}, {said}",
        exclude_semantics=True,
        on_tap=open_it,
        content=ft.Container(
            ft.Row(
                [
                    ft.Icon(icon, size=30, color=ft.Colors.PRIMARY),
                    ft.Column(words, spacing=0, tight=True, expand=True),
                    *right,
                ],
                spacing=12,
            ),
            padding=ft.Padding.symmetric(horizontal=12, vertical=10),
            bgcolor=ft.Colors.PRIMARY_CONTAINER if here else ft.Colors.SURFACE_CONTAINER,
            border=ft.Border.all(2 if here else 1, ft.Colors.PRIMARY if here else ft.Colors.OUTLINE_VARIANT),
            border_radius=10,
            on_click=open_it,
        ),
        key=f"row-{one.id}",
    )


def _under(one: DayStep, stood: StepState) -> ft.Control:
    time = f", {reads(stood.spent)}" if stood.spent else ""
    passes = f", {stood.passes} of {one.passes} passes" if one.passes > 1 and stood.passes else ""
    said = {DONE: "Done", SKIPPED: f"Left out: {stood.reason}", PAUSED: "Paused"}.get(stood.status, "To do")
    return look.quiet(f"{said}{time}{passes}")


def _open(app: App, step: str, _: Any) -> None:
    doing.open_step(app, step)
