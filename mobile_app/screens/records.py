"""Records: everything the business knows, found as one types, and the ways to keep it."""

from __future__ import annotations

from dataclasses import replace

import flet as ft

from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.frame import frame, icon_button
from mobile_app.parts.record_boxes import to
from mobile_app.parts.slips import slip
from mobile_app.screens.records_kinds import KINDS, Kind

_EACH = 4  # of a kind, while something is looked for


def screen(app: App) -> ft.Control:
    """The place that leads to all records."""
    query = app.state.form.get("query", "")

    def typed(text: str) -> None:
        app.change(form={**app.state.form, "query": text})

    box = text_box("Find in all records", query, typed, key="find-all")
    top = ft.Container(ft.Row([box]), padding=ft.Padding.only(left=16, right=16, top=10, bottom=6))
    body = _found(app, query) if query.strip() else _places(app)
    tools: list[ft.Control] = []
    if app.book.undoable:
        tools.append(icon_button(ft.Icons.UNDO, "Undo", lambda _: app.undo(), ft.Colors.ON_SECONDARY))
    return frame(app, "Records", body, back=lambda: app.go("/"), tools=tools, top=top)


def _found(app: App, query: str) -> list[ft.Control]:
    rows: list[ft.Control] = []
    for kind in KINDS:
        found = app.book.look_up(kind.record, query)
        if found:
            rows.append(look.title(f"{kind.name} ({len(found)})"))
            rows += [kind.slip(app, record) for record in found[:_EACH]]
        if len(found) > _EACH:
            rows.append(
                look.plain(f"All {len(found)} {kind.name.lower()}", lambda _, k=kind: _all_of(app, k, query))
            )
    return rows or [look.words(f"Nothing in the book matches “{query.strip()}”.")]


def _all_of(app: App, kind: Kind, query: str) -> None:
    app.go(f"/records/{kind.record.table}")
    app.state = replace(app.state, form={"query": query})
    app.change()


def _places(app: App) -> list[ft.Control]:
    counts = app.book.counts()
    rows: list[ft.Control] = [
        slip(
            kind.name,
            (),
            to(app, f"/records/{kind.record.table}"),
            icon=kind.icon,
            count=str(counts.get(kind.record.table, 0)),
            key=kind.name,
        )
        for kind in KINDS
    ]
    binned = len(app.book.bin())
    rows += [
        look.title("Keeping them safe"),
        slip(
            "Everything in one file",
            ("Save it, or take one in. Works with no signal too.",),
            to(app, "/everything"),
            icon=ft.Icons.SAVE_ALT,
        ),
        slip(
            "Office",
            ("Other phones that keep the same records, and what waits to be sent.",),
            to(app, "/office"),
            icon=ft.Icons.LINK,
        ),
        slip("Bin", (), to(app, "/bin"), icon=ft.Icons.DELETE_OUTLINE, count=str(binned), key="Bin"),
    ]
    if app.book.undoable:
        rows.append(look.quiet(f"Last change: {app.book.undoable}. The arrow above takes it back."))
    return rows
