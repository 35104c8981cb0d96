"""The walker's pace: a taped course, walked and counted a few times."""

from __future__ import annotations

from dataclasses import replace

import flet as ft

from logic.field import Form
from logic.measure.pacing import FORM
from logic.records.types import Pace, utc_now
from logic.records.visits import pace_scale
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.counter import CounterPad
from mobile_app.parts.figures import FigureCard
from mobile_app.parts.form import form_view
from mobile_app.parts.frame import frame


def screen(app: App) -> ft.Control:
    """Measure the pace, see how well it is known, use it."""
    pace = app.pace_in_hand()
    if app.state.counting:
        return look.keyed("pace-pad", CounterPad, app, "Count this walk", lambda total: _counted(app, total))
    reading = FORM.read({"course": pace.course, "counts": list(pace.counts)})
    scale = pace_scale(pace)
    body: list[ft.Control] = [
        look.quiet(
            "Lay the tape on turf like the green's, 20 to 30 m. Walk it as you always do, at least three "
            "times, both ways, and count."
        ),
        ft.Row(
            [
                text_box(
                    "Who walks", pace.person, lambda t: app.edit_pace(replace(pace, person=t)), key="person"
                )
            ],
        ),
        ft.Column(
            [
                ft.Text("What do you count?", size=look.LABEL, weight=ft.FontWeight.BOLD),
                look.choices(
                    (("one", "Every step"), ("two", "Every second step")),
                    pace.steps,
                    lambda key: app.edit_pace(replace(pace, steps="two" if key == "two" else "one")),
                ),
            ],
            spacing=6,
        ),
        look.card(
            form_view(
                Form(FORM.fields),
                {"course": pace.course, "counts": list(pace.counts)},
                reading,
                app.system,
                lambda key, value: app.edit_pace(_with(app.pace_in_hand(), key, value)),
                scope=f"pace-{pace.id}",
            ),
            look.secondary("Count a walk by tapping", lambda _: app.change(counting="walk")),
        ),
    ]
    if scale:
        body.append(look.card(FigureCard(scale.figure, app.system, app.settings.confidence, large=True)))
        body.append(look.primary("Use this pace", lambda _: app.use_pace(pace)))
    return frame(app, "Your pace", body, back=app.leave_pace)


def _with(pace: Pace, key: str, value: object) -> Pace:
    if key == "course":
        return replace(pace, course=str(value), measured=utc_now())
    counts = tuple(str(entry) for entry in value) if isinstance(value, list) else ()
    return replace(pace, counts=counts, measured=utc_now())


def _counted(app: App, total: float) -> None:
    pace = app.pace_in_hand()
    app.change(counting="")
    if total:
        app.edit_pace(replace(pace, counts=(*pace.counts, f"{total:g}"), measured=utc_now()))
