"""The paper: notes, what the summary will say, and the PDF made here and handed on."""

from __future__ import annotations

from dataclasses import replace

import flet as ft

from logic.programme.aftercare import aftercare
from logic.records.standing import Standing
from logic.records.types import Visit
from mobile_app import jobs
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.figures import figure_line
from mobile_app.screens import photos
from mobile_app.screens.documents import documents


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The paper step."""
    if stood.outline is None:
        return [
            look.remark("There is nothing to put on paper yet: measure the green first."),
            look.secondary("Measure", lambda _: app.go(f"/visit/{visit.id}/measure")),
        ]

    unfinished = len(visit.works) - len(stood.worked)
    rows: list[ft.Control] = []
    if unfinished:
        rows.append(
            look.remark(f"{unfinished} of the works still lack something and will not be on the paper.")
        )
    if not app.settings.firm:
        rows.append(
            ft.Row(
                [
                    look.quiet("Your firm's name and telephone go at the head of the paper.", expand=True),
                    look.plain("Fill in", lambda _: app.go("/settings")),
                ]
            )
        )
    rows += [
        *documents(app, visit)[:1],
        ft.Row(
            [
                look.secondary(
                    "Supply", lambda _: app.go(f"/visit/{visit.id}/supply"), ft.Icons.SHOPPING_CART_OUTLINED
                ),
                look.secondary(
                    "Quote", lambda _: app.go(f"/visit/{visit.id}/quote"), ft.Icons.RECEIPT_LONG_OUTLINED
                ),
                look.secondary(
                    "Agreed", lambda _: app.go(f"/visit/{visit.id}/agreed"), ft.Icons.DRAW_OUTLINED
                ),
            ],
            wrap=True,
            spacing=8,
            run_spacing=8,
        ),
        ft.Row(
            [
                text_box(
                    "A word to the customer",
                    visit.notes,
                    lambda text: app.edit(replace(app.visit_in_hand(), notes=text)),
                    multiline=True,
                    min_lines=2,
                    max_lines=6,
                    key=f"notes-{visit.id}",
                )
            ]
        ),
        photos.strip(app, visit),
        *documents(app, visit)[1:],
        _contents(app, visit, stood),
        look.secondary("Save the job as a file", lambda _: jobs.give_out(app), ft.Icons.SAVE_ALT),
        look.plain("History", lambda _: app.go(f"/history/visits/{visit.id}"), ft.Icons.HISTORY),
    ]
    return rows


def _contents(app: App, visit: Visit, stood: Standing) -> ft.Control:
    """What will be on it, in short."""
    lines: list[ft.Control] = [look.title("On the paper")]
    if stood.area:
        lines.append(figure_line("Area", stood.area.text_with_margin(app.system)))
    for worked in stood.worked:
        lines += [look.rule(), ft.Text(worked.operation.name, size=look.BODY, weight=ft.FontWeight.BOLD)]
        lines += [figure_line(f.name, f.text(app.system)) for f in worked.figures if f.headline]
    care = aftercare(worked.operation.key for worked in stood.worked)
    if care:
        lines += [look.rule(), ft.Text("Aftercare", size=look.BODY, weight=ft.FontWeight.BOLD)]
        lines += [look.words(sentence, size=look.LABEL) for sentence in care]
    return look.card(*lines, spacing=8)
