"""All records of one kind: found as one types, filtered, in rows that come as they are scrolled to."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import flet as ft

from logic.records.types import Client
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.frame import frame, icon_button
from mobile_app.parts.record_boxes import to
from mobile_app.parts.slips import empty, slip
from mobile_app.screens.records_kinds import KINDS, Kind

_BATCH = 40  # rows that come at a time


def screen(app: App, table: str) -> ft.Control:
    """The list of a kind."""
    kind = next((kind for kind in KINDS if kind.record.table == table), KINDS[0])
    form = app.state.form
    query, chosen = form.get("query", ""), form.get("filter", "")
    shown = int(form.get("shown", _BATCH))
    found = app.book.look_up(kind.record, query)
    test, office = kind.filters.get(chosen), records.with_the_office(app, table)
    if test:
        found = [record for record in found if test(app, record)]
    elif chosen in office:
        found = [record for record in found if record.id in office[chosen]]
    if not app.book.counts().get(table):
        return frame(app, kind.name, _empty(app, kind), back=to(app, "/records"))
    rows: list[ft.Control] = [
        *_head(app, kind, (*kind.filters, *office), chosen),
        *[kind.slip(app, record) for record in found[:shown]],
    ]
    if not found:
        rows.append(look.words(_nothing(query, chosen)))
    elif len(found) > shown:
        rows.append(look.quiet(f"{len(found) - shown} more"))

    def more() -> None:
        if len(found) > shown:
            _put(app, shown=str(shown + _BATCH))

    return frame(
        app,
        kind.name,
        rows,
        back=to(app, "/records"),
        under=_counted(kind, len(found)),
        tools=_tools(app, kind),
        top=_top(app, query),
        more=more,
    )


def _put(app: App, **values: str) -> None:
    app.change(form={**app.state.form, **values})


def _top(app: App, query: str) -> ft.Control:
    def typed(text: str) -> None:
        _put(app, query=text, shown=str(_BATCH))

    find = text_box("Find", query, typed, key=f"find-{app.state.place}")
    return ft.Container(ft.Row([find]), padding=ft.Padding.only(left=16, right=16, top=10, bottom=2))


def _head(app: App, kind: Kind, filters: Sequence[str], chosen: str) -> list[ft.Control]:
    """The filters, what may be there twice, and the button for a new one."""
    rows: list[ft.Control] = []
    if filters:
        pairs = (("", "All"), *((name, name) for name in filters))
        rows.append(
            ft.Row(
                [look.choices(pairs, chosen, lambda key: _put(app, filter=key, shown=str(_BATCH)))],
                scroll=ft.ScrollMode.HIDDEN,
            )
        )
    buttons = _buttons(app, kind)
    if buttons:
        rows.append(ft.Row(buttons, wrap=True, spacing=8))
    pairs_alike = records.alike(app, kind.record)
    if pairs_alike:
        one, other = pairs_alike[0]
        place = f"/merge/{one.table}/{one.id}/{other.id}"
        twice = f"{len(pairs_alike)} may be in the book twice"
        rows.append(slip(twice, (f"{one.label} and {other.label}",), to(app, place), "Look", ft.Icons.MERGE))
    return rows


def _buttons(app: App, kind: Kind) -> list[ft.Control]:
    buttons: list[ft.Control] = []
    if kind.new_name:
        buttons.append(look.primary(kind.new_name, lambda _: app.go(kind.new()), ft.Icons.ADD))
    if kind.record is Client:
        buttons.append(look.plain("Bring in contacts", _bring(app), ft.Icons.CONTACTS_OUTLINED))
    return buttons


def _bring(app: App) -> Callable[[Any], None]:
    return lambda _: app.begin(records.bring_contacts(app))


def _empty(app: App, kind: Kind) -> list[ft.Control]:
    return [empty(kind.icon, kind.head, kind.teach, *_buttons(app, kind))]


def _tools(app: App, kind: Kind) -> list[ft.Control]:
    if not app.book.undoable:
        return []
    return [icon_button(ft.Icons.UNDO, "Undo", lambda _: app.undo(), ft.Colors.ON_SECONDARY)]


def _counted(kind: Kind, count: int) -> str:
    return f"{count} {kind.name.lower() if count != 1 else kind.name.lower().removesuffix('s')}"


def _nothing(query: str, chosen: str) -> str:
    words = f"Nothing matches “{query.strip()}”" if query.strip() else "Nothing here"
    return f"{words} among “{chosen}”." if chosen else f"{words}."
