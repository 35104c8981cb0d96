"""The list of swards, newest work first, with search; the first thing a contractor sees."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import flet as ft

from logic.records.types import Sward
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.due import care_due
from mobile_app.parts.frame import frame, icon_button
from mobile_app.parts.office_mark import heading, mark

if TYPE_CHECKING:
    from mobile_app import care

_SHOWN = 30
_KEPT = "Everything is kept on this phone. Nothing is sent anywhere."


def screen(app: App) -> ft.Control:
    """All swards, or what a new user does first."""
    tools = [
        icon_button(
            ft.Icons.FOLDER_OPEN_OUTLINED, "Records", lambda _: app.go("/records"), ft.Colors.ON_SECONDARY
        ),
        icon_button(
            ft.Icons.SETTINGS_OUTLINED, "Settings", lambda _: app.go("/settings"), ft.Colors.ON_SECONDARY
        ),
    ]

    def bring_in(_: object) -> None:
        from mobile_app import jobs

        app.begin(jobs.bring_in(app))

    if not app.book.counts().get("swards"):
        return frame(app, "Swardwright", _first_steps(app, bring_in), tools=tools)
    found = app.book.search(app.state.query)
    rows: list[ft.Control] = [
        *mark(app.office.standing, lambda: app.go("/office")),
        ft.Row(
            [
                text_box(
                    "Find a green or a client", app.state.query, lambda t: app.change(query=t), key="find"
                )
            ],
        ),
        ft.Row(
            [
                look.primary("New green", lambda _: app.go("/new"), ft.Icons.ADD),
                look.plain("Bring in a job", bring_in, ft.Icons.FILE_OPEN_OUTLINED),
            ],
            wrap=True,
            spacing=8,
        ),
    ]
    from mobile_app import care  # the very first start, with an empty book, does without

    coming = care.coming(app, found[:_SHOWN])
    rows += [_row(app, sward, coming.get(sward.id)) for sward in found[:_SHOWN]]
    if not found:
        rows.append(look.words(f"Nothing in the book matches “{app.state.query.strip()}”."))
    elif len(found) > _SHOWN:
        rows.append(look.quiet(f"{len(found) - _SHOWN} more: type a few letters to find one."))
    return frame(app, "Swardwright", rows, tools=tools)


def _load_demo(app: App) -> None:
    from mobile_app import jobs

    jobs.load_demo(app)


def _first_steps(app: App, bring_in: Callable[..., None]) -> list[ft.Control]:
    steps = (
        ("Pace it", "Walk the green, or tape it. You get the area, and how far to trust it."),
        ("Work it out", "Seed, sand, feed and drench for that area, with the working behind each number."),
        ("Hand it over", "A summary as PDF for your customer, made on this phone, signal or not."),
    )
    cards: list[ft.Control] = [
        ft.Row(
            [
                ft.Container(
                    ft.Text(
                        str(n),
                        size=look.TITLE,
                        weight=ft.FontWeight.BOLD,
                        color=ft.Colors.ON_PRIMARY_CONTAINER,
                    ),
                    width=44,
                    height=44,
                    bgcolor=ft.Colors.PRIMARY_CONTAINER,
                    border_radius=22,
                    alignment=ft.Alignment.CENTER,
                ),
                ft.Column(
                    [ft.Text(head, size=look.BODY + 1, weight=ft.FontWeight.BOLD), look.quiet(text)],
                    spacing=2,
                    tight=True,
                    expand=True,
                ),
            ],
            spacing=14,
            vertical_alignment=ft.CrossAxisAlignment.START,
        )
        for n, (head, text) in enumerate(steps, start=1)
    ]
    return [
        look.title("No greens in the book yet"),
        look.card(*cards, spacing=18),
        look.primary("Add your first green", lambda _: app.go("/new"), ft.Icons.ADD),
        look.secondary("Load the demo", lambda _: _load_demo(app), ft.Icons.AUTO_STORIES_OUTLINED),
        look.plain("Bring in a job file", bring_in, ft.Icons.FILE_OPEN_OUTLINED),
        look.quiet(_KEPT if not app.office.standing.paired else heading(app.office.standing)),
    ]


def _row(app: App, sward: Sward, coming: care.Coming | None = None) -> ft.Control:
    from mobile_app import care

    client = app.client_of(sward)
    latest = app.book.latest_visit(sward.id)
    said = " · ".join(filter(None, (client.name if client else "", sward.kind, sward.address)))
    state = f"Last visit {latest.started.astimezone():%d %b %Y}" if latest else "No visit yet"
    if latest and latest.where:
        state = "Visit in hand"
    due = care.words(coming.due) if coming else ""

    def open_it(_: object) -> None:
        app.go(f"/sward/{sward.id}")

    lines: list[ft.Control] = [ft.Text(sward.name, size=look.BODY + 2, weight=ft.FontWeight.BOLD)]
    if said:
        lines.append(look.quiet(said))
    lines.append(ft.Text(state, size=look.LABEL, color=ft.Colors.PRIMARY, weight=ft.FontWeight.BOLD))
    if due:
        lines.append(care_due(due))
    return ft.Semantics(
        button=True,
        label=", ".join(filter(None, (sward.name, said, state, due))),
        exclude_semantics=True,
        on_tap=open_it,
        content=look.card(
            ft.Row(
                [
                    ft.Column(lines, spacing=2, tight=True, expand=True),
                    ft.Icon(ft.Icons.CHEVRON_RIGHT, size=28),
                ],
            ),
            on_click=open_it,
        ),
        key=sward.id,
    )
