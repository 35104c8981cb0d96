"""Aftercare: from which day it counts, who cuts, the weeks line by line, what is normal, the calendar."""

from __future__ import annotations

import flet as ft

from logic.programme.care import FORM
from logic.programme.stages import Line, Stages
from logic.records.standing import Standing
from logic.records.types import Visit
from mobile_app import care
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.figures import figure_line
from mobile_app.parts.folded import folded
from mobile_app.parts.form import form_view
from mobile_app.parts.frame import icon_button
from mobile_app.parts.kept import Do

_ICONS = {
    "water": ft.Icons.WATER_DROP_OUTLINED,
    "mow": ft.Icons.CONTENT_CUT,
    "feed": ft.Icons.GRAIN,
    "keep off": ft.Icons.DO_NOT_STEP,
    "visit": ft.Icons.EVENT,
}
_WHO = (("customer", "The customer cuts"), ("we", "We cut"))


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The aftercare of a visit."""
    back = look.plain("Back to the day", lambda _: app.go(f"/visit/{visit.id}/day"), ft.Icons.ARROW_BACK)
    found = care.stages_of(visit)
    rows: list[ft.Control] = [ft.Row([back]), look.title("Aftercare")]
    if not found.lines:
        said = "Nothing that was done asks for aftercare. It follows from the works, and from what was done."
        return [*rows, look.quiet(said)]
    rows += [_start(app, visit, found), _choices(app, visit, found)]
    if found.keep_off_until:
        rows.append(figure_line("Keep off until", f"{found.keep_off_until:%a %d %b %Y}"))
    rows.append(look.title("The weeks after"))
    rows += [_line(app, visit, line) for line in found.lines]
    rows += [*_signs("This is normal", found.normal), *_signs("Ring about this", found.ring)]
    rows += [
        look.title("Hand it over"),
        look.primary(
            "Customer's calendar", lambda _: care.give_calendar(app, False), ft.Icons.CALENDAR_MONTH
        ),
        look.secondary(
            "Calendar of visits", lambda _: care.give_calendar(app, True), ft.Icons.CALENDAR_MONTH
        ),
        look.secondary("Aftercare on paper", lambda _: app.go(f"/visit/{visit.id}/paper")),
    ]
    return rows


def _start(app: App, visit: Visit, found: Stages) -> ft.Control:
    """The day it counts from."""
    stepper = ft.Row(
        [
            icon_button(ft.Icons.CHEVRON_LEFT, "A day earlier", lambda _: care.shift(app, -1)),
            ft.Column(
                [
                    look.quiet("Counts from", text_align=ft.TextAlign.CENTER),
                    ft.Text(
                        f"{found.done:%a %d %b %Y}",
                        size=look.TITLE,
                        weight=ft.FontWeight.BOLD,
                        text_align=ft.TextAlign.CENTER,
                    ),
                ],
                spacing=0,
                tight=True,
                expand=True,
                horizontal_alignment=ft.CrossAxisAlignment.STRETCH,
            ),
            icon_button(ft.Icons.CHEVRON_RIGHT, "A day later", lambda _: care.shift(app, 1)),
        ]
    )
    lines: list[ft.Control] = [stepper]
    if care.is_begun(visit):
        lines.append(look.quiet("Follow-up visits are in the list of greens when they fall due."))
    else:
        lines.append(look.primary("Begin the aftercare", lambda _: care.begin(app), ft.Icons.EVENT_AVAILABLE))
    return look.card(*lines)


def _choices(app: App, visit: Visit, found: Stages) -> ft.Control:
    """What the dates depend on."""

    def draw() -> ft.Control:
        form = form_view(
            FORM, visit.care, FORM.read(visit.care), app.system, Do(care.put, app), f"care-{visit.id}"
        )
        who = str(visit.care.get("cuts") or "customer")
        return look.stack(
            look.choices(_WHO, who, lambda key: care.choose(app, "cuts", key)),
            form,
            look.quiet(f"Seed up by {care.day_name(found.up)}, cut twice by {care.day_name(found.mown)}."),
            spacing=14,
        )

    return folded("care", "Cutting and soil", draw)


def _line(app: App, visit: Visit, line: Line) -> ft.Control:
    """One line: when, what, the sentence and its source; a follow-up can be ticked."""
    words: list[ft.Control] = [
        ft.Text(line.name or line.what, size=look.BODY + 1, weight=ft.FontWeight.BOLD),
        ft.Text(care.span(line), size=look.BODY, color=ft.Colors.PRIMARY, weight=ft.FontWeight.BOLD),
        look.quiet(line.sentence),
        look.quiet(f"Source: {line.source}", italic=True),
    ]
    if line.for_contractor:
        done = line.key in (visit.care.get("done") or ())
        words.append(
            look.choice("Done" if done else "Not done yet", done, lambda _: care.tick(app, line.key))
        )
    return look.card(
        ft.Row(
            [
                ft.Icon(_ICONS.get(line.what, ft.Icons.EVENT), size=28, color=ft.Colors.PRIMARY),
                ft.Column(words, spacing=3, tight=True, expand=True),
            ],
            spacing=12,
            vertical_alignment=ft.CrossAxisAlignment.START,
        ),
        key=f"line-{line.key}",
    )


def _signs(heading: str, sentences: tuple[str, ...]) -> list[ft.Control]:
    if not sentences:
        return []
    return [look.card(look.title(heading), *[look.words(sentence) for sentence in sentences])]
