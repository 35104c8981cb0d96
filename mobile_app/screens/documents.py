"""The documents of a visit: what there is, and each looked at page by page before it goes out."""

from __future__ import annotations

import flet as ft

from logic.records.types import Visit
from mobile_app import jobs, programme
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import icon_button
from mobile_app.parts.sheet import SheetView

_ZOOMS = (1.0, 1.6, 2.4)


def documents(app: App, visit: Visit) -> list[ft.Control]:
    """A card for each document; what a document still lacks is asked for in its place."""
    return [
        _season_wanted(app, visit)
        if key == "season" and programme.times(app, visit).climate is None
        else _card(app, visit, key, name, about)
        for key, name, about in jobs.DOCUMENTS
    ]


def _season_wanted(app: App, visit: Visit) -> ft.Control:
    return look.card(
        ft.Text("Season plan", size=look.TITLE, weight=ft.FontWeight.BOLD),
        look.quiet("It wants to know how warm each month is here: type that once for this green."),
        ft.Row(
            [
                look.secondary(
                    "Type in the year's temperatures",
                    lambda _: app.go(f"/visit/{visit.id}/climate"),
                    ft.Icons.THERMOSTAT,
                )
            ],
            wrap=True,
        ),
        key="document-season",
    )


def _card(app: App, visit: Visit, key: str, name: str, about: str) -> ft.Control:
    def make(_: object) -> None:
        app.begin(jobs.make_document(app, key))

    def look_at(_: object) -> None:
        app.go(f"/visit/{visit.id}/look-{key}")
        app.begin(jobs.make_document(app, key, offer=False))

    text = "Make the summary" if key == "summary" else f"Make the {name.lower()}"
    button = look.primary if key == "summary" else look.secondary
    return look.card(
        ft.Text(name, size=look.TITLE, weight=ft.FontWeight.BOLD),
        look.quiet(about),
        ft.Row(
            [
                button(text, make, ft.Icons.PICTURE_AS_PDF_OUTLINED),
                look.plain(f"Look at it: {name.lower()}", look_at, ft.Icons.VISIBILITY_OUTLINED),
                look.plain(
                    f"Send by e-mail: {name.lower()}",
                    lambda _: app.go(f"/send/{visit.id}/{key}"),
                    ft.Icons.MAIL_OUTLINE,
                ),
            ],
            wrap=True,
            spacing=6,
            run_spacing=6,
        ),
        key=f"document-{key}",
    )


def body(app: App, visit: Visit, key: str) -> list[ft.Control]:
    """One document, page by page."""
    state = app.state
    same = state.made is not None and state.made[:3] == (key, state.visit, state.stamp)
    made = state.made[3] if same else None

    def anew(_: object) -> None:
        app.begin(jobs.make_document(app, key, offer=False))

    back = look.plain("All papers", lambda _: app.go(f"/visit/{visit.id}/paper"), ft.Icons.ARROW_BACK)
    if made is None:
        return [ft.Row([back]), look.secondary("Show the pages", anew, ft.Icons.VISIBILITY_OUTLINED)]
    rows: list[ft.Control] = [ft.Row([back])]
    if made.warning:
        rows.append(look.remark(made.warning))
    rows.append(look.keyed(f"pages-{key}", Pages, app, key, made.sheets))
    return rows


@ft.component
def Pages(app: App, key: str, sheets: tuple[object, ...]) -> ft.Control:
    """A page, the way to the others, and how large it is."""
    at, set_at = ft.use_state(0)
    zoom, set_zoom = ft.use_state(0)
    place = min(at, len(sheets) - 1)

    def step(by: int) -> None:
        set_at(min(max(place + by, 0), len(sheets) - 1))

    def larger(by: int) -> None:
        set_zoom(min(max(zoom + by, 0), len(_ZOOMS) - 1))

    def send(_: object) -> None:
        app.begin(jobs.make_document(app, key))

    turn = ft.Row(
        [
            icon_button(ft.Icons.CHEVRON_LEFT, "Page before", lambda _: step(-1)),
            ft.Text(
                f"Page {place + 1} of {len(sheets)}",
                size=look.BODY,
                expand=True,
                text_align=ft.TextAlign.CENTER,
            ),
            icon_button(ft.Icons.CHEVRON_RIGHT, "Next page", lambda _: step(1)),
            icon_button(ft.Icons.ZOOM_OUT, "Smaller", lambda _: larger(-1)),
            icon_button(ft.Icons.ZOOM_IN, "Larger", lambda _: larger(1)),
        ],
        spacing=0,
    )
    return look.stack(
        look.primary("Share or save it", send, ft.Icons.IOS_SHARE),
        turn,
        look.keyed(f"sheet-{place}-{zoom}", SheetView, sheets[place], _ZOOMS[zoom]),
        spacing=10,
    )
