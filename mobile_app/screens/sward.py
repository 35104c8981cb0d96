"""One sward: whose it is, its visits, and the start of the next."""

from __future__ import annotations

import flet as ft

from logic.records.types import Sward, Visit
from logic.records.visits import is_measured
from mobile_app import care
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.due import care_due
from mobile_app.parts.frame import frame, icon_button
from mobile_app.screens import outlines, record_tools, sward_where, trends


def screen(app: App, sward_id: str) -> ft.Control:
    """The sward's page."""
    sward = app.book.get(Sward, sward_id)
    client = app.client_of(sward)
    visits = app.book.visits_of(sward.id)
    body: list[ft.Control] = []
    said = [line for line in (sward.address, sward.note) if line]
    if said:
        body.append(look.card(*[ft.Text(line, size=look.BODY, selectable=True) for line in said], spacing=4))
    coming = care.coming(app, [sward], ahead=120).get(sward.id)
    if coming:
        body.append(_due(app, coming))
    body += sward_where.section(app, sward, client)
    body.append(look.primary("Start a visit", lambda _: app.start_visit(sward), ft.Icons.PLAY_ARROW))
    if visits:
        body.append(look.title("Visits"))
        body += [_visit_row(app, visit) for visit in visits]
        body += trends.section(app, sward)
        body += outlines.section(app, sward)
    else:
        body.append(
            look.quiet("No visit yet. A visit holds what you measure, the works and the customer's paper.")
        )
    body += record_tools.tools(app, sward, with_bin=False)
    tools = [
        icon_button(
            ft.Icons.EDIT_OUTLINED, "Edit", lambda _: app.go(f"/edit/{sward.id}"), ft.Colors.ON_SECONDARY
        ),
        icon_button(
            ft.Icons.DELETE_OUTLINE, "Put in the bin", lambda _: _bin(app, sward), ft.Colors.ON_SECONDARY
        ),
    ]
    under = " · ".join(filter(None, (client.name if client else "", sward.kind)))
    return frame(app, sward.name, body, back=lambda: app.go("/"), under=under, tools=tools)


def _due(app: App, coming: care.Coming) -> ft.Control:
    """The next follow-up, and the way to the aftercare it belongs to."""

    def open_it(_: object) -> None:
        app.go(f"/visit/{coming.visit.id}/care")

    return look.card(
        care_due(care.words(coming.due)),
        look.quiet(coming.due.line.sentence),
        look.plain("The aftercare", open_it, ft.Icons.EVENT),
        key="due",
    )


def _bin(app: App, sward: Sward) -> None:
    app.delete(sward)
    app.go("/")


def _visit_row(app: App, visit: Visit) -> ft.Control:
    stood = app.standing(visit)
    area = (
        stood.area.text_with_margin(app.system)
        if stood.area
        else "not measured"
        if not is_measured(visit)
        else "?"
    )
    works = ", ".join(worked.operation.name.lower() for worked in stood.worked) or "no works yet"
    day = f"{visit.started.astimezone():%d %b %Y}"

    def open_it(_: object) -> None:
        app.go(visit.where or f"/visit/{visit.id}/measure")

    return ft.Semantics(
        button=True,
        label=f"Visit of {day}, {area}, {works}",
        exclude_semantics=True,
        on_tap=open_it,
        content=look.card(
            ft.Row(
                [
                    ft.Column(
                        [
                            ft.Text(day, size=look.BODY, weight=ft.FontWeight.BOLD),
                            ft.Text(area, size=look.BODY),
                            look.quiet(works),
                        ],
                        spacing=2,
                        tight=True,
                        expand=True,
                    ),
                    ft.Icon(ft.Icons.CHEVRON_RIGHT, size=28),
                ]
            ),
            on_click=open_it,
        ),
        key=visit.id,
    )
