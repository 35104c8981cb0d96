"""A visit: measure, works, paper. Three steps that can be gone to and fro at any time."""

from __future__ import annotations

import flet as ft

from logic.records.types import Visit
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.counter import counter
from mobile_app.parts.frame import frame, icon_button
from mobile_app.parts.tabs import Tabs
from mobile_app.screens import documents, measure, paper, photos, quote, supply, works

STEPS = (("measure", "Measure"), ("works", "Works"), ("paper", "Paper"))


def screen(app: App, visit: Visit, step: str) -> ft.Control:
    """The visit at one of its steps."""
    sward = app.sward_of(visit)
    stood = app.standing(visit)
    bodies = {
        "measure": measure.body,
        "works": works.body,
        "supply": supply.body,
        "quote": quote.body,
        "photos": photos.body,
    }
    kind, _, which = step.partition("-")
    if kind == "look":
        content = documents.body(app, visit, which)
    elif kind == "photo":
        content = photos.one(app, visit, which)
    else:
        content = bodies.get(step, paper.body)(app, visit, stood)
    tools: list[ft.Control] = []
    if app.book.undoable:
        tools.append(icon_button(ft.Icons.UNDO, "Undo", lambda _: app.undo(), ft.Colors.ON_SECONDARY))
    page = frame(
        app,
        sward.name,
        content,
        back=app.leave_visit,
        under=f"{stood.area.text_with_margin(app.system)}" if stood.area else "Not measured yet",
        tools=tools,
        top=_steps(app, visit, step),
    )
    # The counter lies over the page, so that the page stays where it was scrolled to and as it was opened.
    counting = bool(app.state.counting)
    pieces: list[ft.Control] = [ft.Semantics(content=page, exclude_semantics=counting, key="page")]
    if counting:
        pieces.append(counter(app, visit))
    return ft.Stack(pieces, expand=True, fit=ft.StackFit.EXPAND)


def _steps(app: App, visit: Visit, step: str) -> ft.Control:
    chosen = step if step in dict(STEPS) else "paper"
    return look.keyed("steps", Tabs, STEPS, chosen, lambda key: app.go(f"/visit/{visit.id}/{key}"))
