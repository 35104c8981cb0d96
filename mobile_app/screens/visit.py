"""A visit: measure, survey, works, day, paper. Steps that can be gone to and fro at any time."""

from __future__ import annotations

from collections.abc import Callable

import flet as ft

from logic.records.types import Visit
from mobile_app.app import App
from mobile_app.parts.counter import counter
from mobile_app.parts.frame import frame, icon_button
from mobile_app.parts.kept import Do, kept
from mobile_app.parts.tabs import Tabs
from mobile_app.screens import (
    agreed,
    care,
    day,
    documents,
    measure,
    paper,
    photos,
    programme,
    quote,
    supply,
    survey,
    survey_points,
    survey_reading,
    works,
)

STEPS = (
    ("measure", "Measure"),
    ("survey", "Survey"),
    ("works", "Works"),
    ("day", "Day"),
    ("paper", "Paper"),
)
UNDER = {"programme": "works", "climate": "works", "care": "day", "reading": "survey"}


def screen(app: App, visit: Visit, step: str) -> ft.Control:
    """The visit at one of its steps."""
    sward = app.sward_of(visit)
    stood = app.standing(visit)
    bodies: dict[str, Callable[..., list[ft.Control]]] = {
        "measure": measure.body,
        "survey": survey.body,
        "works": works.body,
        "programme": programme.body,
        "climate": programme.climate_body,
        "day": day.body,
        "care": care.body,
        "supply": supply.body,
        "quote": quote.body,
        "photos": photos.body,
        "agreed": agreed.body,
    }
    kind, _, which = step.partition("-")
    if kind == "look":
        content = documents.body(app, visit, which)
    elif kind == "photo":
        content = photos.one(app, visit, which)
    elif kind == "reading":
        content = survey_reading.body(app, visit, which)
    else:
        content = bodies.get(step, paper.body)(app, visit, stood)
    tools: list[ft.Control] = []
    if app.book.undoable and step != "day":  # which has a way back of its own
        tools.append(icon_button(ft.Icons.UNDO, "Undo", app.undo, ft.Colors.ON_SECONDARY))
    page = frame(
        app,
        sward.name,
        content,
        back=app.leave_visit if kind != "reading" else Do(app.go, f"/visit/{visit.id}/survey"),
        under=f"{stood.area.text_with_margin(app.system)}" if stood.area else "Not measured yet",
        tools=tools,
        top=_steps(app, visit, step),
    )
    # The counter lies over the page, so that the page stays where it was scrolled to and as it was opened.
    counting = bool(app.state.counting)
    pieces: list[ft.Control] = [ft.Semantics(content=page, exclude_semantics=counting, key="page")]
    if counting:
        by_points = app.state.counting.startswith(survey_points.COUNTING)
        pieces.append(survey_points.pad(app, visit) if by_points else counter(app, visit))
    return ft.Stack(pieces, expand=True, fit=ft.StackFit.EXPAND)


def _steps(app: App, visit: Visit, step: str) -> ft.Control:
    chosen = step if step in dict(STEPS) else UNDER.get(step.partition("-")[0], "paper")
    return kept("steps", Tabs, STEPS, chosen, Do(_go_to, app, visit.id))


def _go_to(app: App, visit_id: str, step: str) -> None:
    app.go(f"/visit/{visit_id}/{step}")
