"""A machine of one's own, with its vibration and noise as its plate or hand-book says; the day reads them."""

from __future__ import annotations

from collections.abc import Callable

import flet as ft

from logic.records.types import Machine
from logic.works.operations import operations
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import frame
from mobile_app.parts.record_boxes import NUMBER, box, done, in_hand
from mobile_app.screens import record_tools


def said_of(machine: Machine) -> tuple[str, ...]:
    """The lines under its name in a list."""
    figures = (
        f"{machine.vibration} m/s²" if machine.vibration else "",
        f"{machine.noise} dB(A)" if machine.noise else "",
    )
    return (" · ".join(filter(None, figures)), machine.source)


def screen(app: App, machine_id: str) -> ft.Control:
    """The form of a machine."""
    machine = records.in_form(app, Machine, machine_id)
    body: list[ft.Control] = [
        box(app, machine, "name", "Machine"),
        _works(app, machine),
        box(app, machine, "vibration", "Vibration at the handle, m/s²", NUMBER),
        box(app, machine, "noise", "Noise at the ear, dB(A)", NUMBER),
        box(app, machine, "source", "Where these figures are from", hint="Hand-book, page 12"),
        look.quiet(
            "With these the day's plan says how long it may be held. Without them, usual figures are taken."
        ),
        box(app, machine, "note", "Note", lines=2),
        done(app, "/records/machines"),
    ]
    if app.book.has(Machine, machine_id):
        body += record_tools.tools(app, machine)
    return frame(app, machine.name or "New machine", body, back=lambda: app.go("/records/machines"))


def _works(app: App, machine: Machine) -> ft.Control:
    """The works it is used for: any number of them."""

    def turn(key: str) -> None:
        now = in_hand(app, machine)
        used = getattr(now, "works", ())
        rest = tuple(one for one in used if one != key)
        records.put(app, now, works=rest if key in used else (*used, key))

    def turned(key: str) -> Callable[[object], None]:
        return lambda _: turn(key)

    chips = [
        look.choice(op.name, op.key in machine.works, turned(op.key), key=op.key)
        for op in operations().values()
        if op.group == "open up"
        or op.key in machine.works
        or op.key in ("overseeding", "topdressing", "rolling")
    ]
    return look.stack(
        look.words("Used for", size=look.LABEL, weight=ft.FontWeight.BOLD),
        ft.Row(chips, wrap=True, spacing=8, run_spacing=8),
        spacing=6,
    )
