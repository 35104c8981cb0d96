"""Notes, hollows seen again and photos, of a step or of the whole day."""

from __future__ import annotations

import flet as ft

from logic.programme.day import DayState, DayStep, StepState
from logic.records.types import Visit
from mobile_app import day as doing
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.folded import folded
from mobile_app.screens import photos


def of_step(app: App, visit: Visit, at: DayStep, now: StepState) -> ft.Control:
    """What is noted at a step."""
    return look.stack(
        *[look.words(text) for text in now.notes],
        look.keyed(f"note-{at.id}-{len(now.notes)}", Note, app, at.id),
        photos.strip(app, visit, step=at.id),
        spacing=12,
    )


def whole_day(app: App, visit: Visit, found: DayState) -> ft.Control:
    """What is noted of the day as a whole."""

    def draw() -> ft.Control:
        lines: list[ft.Control] = [look.words(text) for text in found.notes]
        lines.append(look.keyed(f"note-day-{len(found.notes)}", Note, app, ""))
        lines.append(look.title("Hollows", look.BODY + 1))
        lines += [look.words(f"{place}: {text}") for place, text in found.hollows]
        lines.append(look.keyed(f"hollow-{len(found.hollows)}", Hollow, app))
        return look.stack(*lines, spacing=12)

    return folded("day-notes", "Notes of the day", draw)


@ft.component
def Note(app: App, step: str) -> ft.Control:
    """A note to be written down."""
    text, set_text = ft.use_state("")
    lines: list[ft.Control] = [ft.Row([text_box("Note", text, set_text, key=f"note-{step}", multiline=True)])]
    if text.strip():
        lines.append(
            look.secondary("Write it down", lambda _: doing.act(app, "note", step, text=text.strip()))
        )
    return look.stack(*lines, spacing=8)


@ft.component
def Hollow(app: App) -> ft.Control:
    """A hollow looked at again: where, and what was found."""
    place, set_place = ft.use_state("")
    text, set_text = ft.use_state("")
    lines: list[ft.Control] = [
        ft.Row([text_box("Where", place, set_place, key="hollow-where", hint="left of the gate")]),
        ft.Row([text_box("What was found or done", text, set_text, key="hollow-what", hint="filled 8 mm")]),
    ]
    if place.strip() and text.strip():
        lines.append(
            look.secondary(
                "Hollow seen again",
                lambda _: doing.act(app, "hollow", "", place=place.strip(), text=text.strip()),
            )
        )
    return look.stack(*lines, spacing=8)
