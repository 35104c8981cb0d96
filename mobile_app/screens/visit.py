"""A visit: measure, works, paper. Three steps that can be gone to and fro at any time."""

from __future__ import annotations

import flet as ft

from logic.records.types import Visit
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.counter import counter
from mobile_app.parts.frame import frame, icon_button
from mobile_app.screens import documents, measure, paper, quote, supply, works

STEPS = (("measure", "Measure"), ("works", "Works"), ("paper", "Paper"))


def screen(app: App, visit: Visit, step: str) -> ft.Control:
    """The visit at one of its steps."""
    sward = app.sward_of(visit)
    stood = app.standing(visit)
    bodies = {"measure": measure.body, "works": works.body, "supply": supply.body, "quote": quote.body}
    draw = bodies.get(step, paper.body)
    content = (
        documents.body(app, visit, step.removeprefix("look-"))
        if step.startswith("look-")
        else draw(app, visit, stood)
    )
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
    def tab(key: str, name: str) -> ft.Control:
        chosen = key == step or (key == "paper" and step not in dict(STEPS))

        def pick(_: object) -> None:
            app.go(f"/visit/{visit.id}/{key}")

        return ft.Semantics(
            button=True,
            selected=chosen,
            label=name,
            exclude_semantics=True,
            on_tap=pick,
            expand=True,
            content=ft.Container(
                ft.Text(
                    name,
                    size=look.BODY,
                    weight=ft.FontWeight.BOLD,
                    color=ft.Colors.PRIMARY if chosen else ft.Colors.ON_SURFACE_VARIANT,
                ),
                alignment=ft.Alignment.CENTER,
                height=look.TOUCH + 4,
                on_click=pick,
                border=ft.Border.only(
                    bottom=ft.BorderSide(5, ft.Colors.PRIMARY if chosen else ft.Colors.TRANSPARENT)
                ),
            ),
            key=key,
        )

    return ft.Container(
        ft.Row([tab(key, name) for key, name in STEPS], spacing=0),
        bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH,
    )
