"""Paces: whose they are, how well they are known, and walking the taped course."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import flet as ft

from logic.field import Form, Reading
from logic.measure.asking import setting
from logic.measure.pacing import FORM, PaceScale, recheck
from logic.records.types import Pace, Visit, utc_now
from logic.records.visits import pace_scale
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.counter import CounterPad
from mobile_app.parts.figures import FigureCard
from mobile_app.parts.form import form_view
from mobile_app.parts.frame import frame

_COUNTS = (("one", "Every step"), ("two", "Every second step"))
_ASKED = Form(tuple(item for item in FORM.fields if item.key in ("course", "counts")))


def screen(app: App) -> ft.Control:
    """Measure a pace, see how well it is known, use it; and the paces of others."""
    pace = app.pace_in_hand()
    if app.state.counting:
        steps = 2 if pace.steps == "two" else 1
        return look.keyed(
            "pace-pad", CounterPad, app, "Count this walk", lambda total: _counted(app, total), None, steps
        )
    scale = pace_scale(pace)
    body: list[ft.Control] = [
        look.keyed("people", People, app, pace),
        _walks(app, pace),
    ]
    if scale:
        body += [
            look.card(
                look.keyed("pace", FigureCard, scale.figure, app.system, app.settings.confidence, large=True),
                *_remarks(app, pace, scale),
            ),
            look.primary("Use this pace", lambda _: app.use_pace(app.pace_in_hand())),
        ]
    return frame(app, f"{pace.person}'s pace" if pace.person else "Your pace", body, back=app.leave_pace)


def _walks(app: App, pace: Pace) -> ft.Control:
    """The course and the counts of the walks over it."""
    given = {"course": pace.course, "counts": list(pace.counts)}
    return look.card(
        look.quiet("Walk the taped course as you always do, at least three times, both ways, and count."),
        ft.Row(
            [
                text_box(
                    "Who walks",
                    pace.person,
                    lambda t: app.edit_pace(replace(app.pace_in_hand(), person=t)),
                    key=f"person-{pace.id}",
                )
            ]
        ),
        look.stack(
            ft.Text("What do you count?", size=look.LABEL, weight=ft.FontWeight.BOLD),
            look.choices(_COUNTS, pace.steps, lambda key: _count_steps(app, key)),
            spacing=6,
        ),
        form_view(
            _ASKED,
            given,
            _ASKED.read(given) if pace.counts else Reading(None),
            app.system,
            lambda path, value: app.edit_pace(_with(app.pace_in_hand(), path, value)),
            scope=f"pace-{pace.id}",
        ),
        look.secondary("Count a walk by tapping", lambda _: app.change(counting="walk"), ft.Icons.TOUCH_APP),
        spacing=16,
    )


def _count_steps(app: App, key: str) -> None:
    app.edit_pace(replace(app.pace_in_hand(), steps="two" if key == "two" else "one"))


def _remarks(app: App, pace: Pace, scale: PaceScale) -> list[ft.Control]:
    """What is unusual about a pace, how it has changed, and that it is old."""
    said = list(scale.warnings)
    earlier = _earlier(app, pace)
    before = pace_scale(earlier)
    if before and recheck(before, scale):
        said.append(recheck(before, scale))
    if is_old(pace, utc_now()):
        said.append(
            f"Measured {age(pace, utc_now())}. Shoes, ground and season change a pace: walk it again."
        )
    return [look.remark(sentence) for sentence in said]


def _earlier(app: App, pace: Pace) -> Pace | None:
    """The pace that the same person had before this one."""
    name = pace.person.strip().casefold()
    own = [p for p in app.book.all(Pace) if p.counts and p.person.strip().casefold() == name]
    return max((p for p in own if p.measured < pace.measured), key=lambda p: p.measured, default=None)


def age(pace: Pace, now: datetime) -> str:
    """How long ago a pace was measured, in words."""
    days = (now - pace.measured).days
    if days < 1:
        return "today"
    if days < 60:
        return "yesterday" if days == 1 else f"{days} days ago"
    return f"{days // 30} months ago" if days < 730 else f"{days // 365} years ago"


def is_old(pace: Pace, now: datetime) -> bool:
    """True when a pace is better walked again."""
    return (now - pace.measured).days >= setting("pace_recheck")


@ft.component
def People(app: App, pace: Pace) -> ft.Control:
    """Everybody's pace, to choose from, and a fresh one."""
    paces = app.paces()
    if not paces:
        return look.quiet("Lay the tape on turf like the green's: 20 to 30 m is plenty.")
    rows: list[ft.Control] = [look.title("Paces in the book", look.BODY)]
    rows += [_person(app, known, known.id == pace.id) for known in paces]
    rows.append(
        ft.Row(
            [
                look.plain("Walk it again", lambda _: _again(app, app.pace_in_hand()), ft.Icons.REPLAY),
                look.plain("Somebody else", lambda _: app.show_pace(Pace()), ft.Icons.ADD),
            ],
            wrap=True,
            spacing=8,
        )
    )
    return look.stack(*rows, spacing=8)


def _again(app: App, pace: Pace) -> None:
    app.show_pace(Pace(person=pace.person, course=pace.course, steps=pace.steps, surface=pace.surface))


def _person(app: App, known: Pace, chosen: bool) -> ft.Control:
    scale = pace_scale(known)
    name = known.person or "No name"
    length = scale.figure.text(app.system) if scale else "not readable"
    steps = dict(_COUNTS)[known.steps].lower()
    said = f"{length}, {steps}, {age(known, utc_now())}"
    old = is_old(known, utc_now())

    def show(_: object) -> None:
        app.show_pace(known)

    words = ft.Column(
        [
            ft.Text(name, size=look.BODY, weight=ft.FontWeight.BOLD),
            look.quiet(said),
            *([ft.Text("Walk it again", size=look.LABEL, color=ft.Colors.TERTIARY)] if old else []),
        ],
        spacing=0,
        tight=True,
        expand=True,
    )
    mark = ft.Icon(
        ft.Icons.RADIO_BUTTON_CHECKED if chosen else ft.Icons.RADIO_BUTTON_UNCHECKED, color=ft.Colors.PRIMARY
    )
    return ft.Semantics(
        key=known.id,
        button=True,
        selected=chosen,
        label=f"{name}: {said}{', walk it again' if old else ''}",
        exclude_semantics=True,
        on_tap=show,
        content=ft.Container(
            ft.Row([mark, words], spacing=12),
            padding=ft.Padding.symmetric(horizontal=12, vertical=8),
            bgcolor=ft.Colors.SURFACE_CONTAINER,
            border=ft.Border.all(
                2 if chosen else 1, ft.Colors.PRIMARY if chosen else ft.Colors.OUTLINE_VARIANT
            ),
            border_radius=8,
            on_click=show,
        ),
    )


def paced_with(app: App, visit: Visit) -> str:
    """Whose pace a visit uses, for a line on its screen; "" when it has none."""
    pace, scale = app.pace_of(visit), pace_scale(app.pace_of(visit))
    if pace is None or scale is None:
        return ""
    whose = f"{pace.person}'s pace" if pace.person else "Your pace"
    old = f", measured {age(pace, utc_now())}: walk it again" if is_old(pace, utc_now()) else ""
    return f"{whose}: {scale.figure.text(app.system)}{old}"


def _with(pace: Pace, path: str, value: object) -> Pace:
    """The pace with its course or its counts as typed."""
    if path == "course":
        return replace(pace, course=str(value), measured=utc_now())
    counts = list(pace.counts)
    if path == "counts":
        counts = [str(entry) for entry in value] if isinstance(value, list) else []
    else:
        at = int(path.rpartition(".")[2])
        counts += [""] * (at + 1 - len(counts))
        counts[at] = str(value)
    while counts and not counts[-1].strip():
        counts.pop()
    return replace(pace, counts=tuple(counts), measured=utc_now())


def _counted(app: App, total: float) -> None:
    pace = app.pace_in_hand()
    app.change(counting="")
    if total:
        app.edit_pace(replace(pace, counts=(*pace.counts, f"{total:g}"), measured=utc_now()))
