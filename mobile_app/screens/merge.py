"""Two records that are one: chosen, laid side by side where they differ, and made one in a single step."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import flet as ft

from logic.errors import SwardError
from logic.records import merge
from logic.records.types import KINDS, Client, Record, Sward
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.frame import frame
from mobile_app.parts.slips import slip

_SHOWN = 12


def screen(app: App, table: str, record_id: str, other_id: str) -> ft.Control:
    """The choice of the other one, or the two side by side."""
    kind = KINDS.get(table, Client)
    if not app.book.has(kind, record_id) or (other_id and not app.book.has(kind, other_id)):
        gone = [look.words("One of the two is no longer in the book.")]
        return frame(app, "Merge", gone, back=lambda: app.go("/records"))
    keep = app.book.get(kind, record_id)
    back = f"/{keep.noun}/{keep.id}"
    if not other_id:
        return frame(app, f"Merge {keep.label}", _choose(app, keep), back=lambda: app.go(back))
    body = _beside(app, keep, app.book.get(kind, other_id), back)
    return frame(app, f"Merge {keep.label}", body, back=lambda: app.go(f"/records/{table}"))


def _choose(app: App, keep: Record) -> list[ft.Control]:
    query = app.state.form.get("query", "")

    def typed(text: str) -> None:
        app.change(form={"query": text})

    pairs = [pair for pair in records.alike(app, type(keep)) if keep in pair]
    proposed = [one if other == keep else other for one, other in pairs]
    found = [
        one for one in app.book.look_up(type(keep), query, _SHOWN) if one != keep and one not in proposed
    ]
    rows: list[ft.Control] = [
        look.words(
            f"Which one is the same as {keep.label}? It becomes part of this one, with all that hangs on it."
        ),
        ft.Row([text_box("Find the other", query, typed, key="find-other")]),
    ]
    if proposed and not query:
        rows.append(look.title("These look alike"))
        rows += [_one(app, keep, one) for one in proposed]
        rows.append(look.title("All others"))
    rows += [_one(app, keep, one) for one in found]
    if not found and not proposed:
        rows.append(look.quiet("There is no other one to merge with."))
    return rows


def _one(app: App, keep: Record, other: Record) -> ft.Control:
    place = f"/merge/{keep.table}/{keep.id}/{other.id}"
    return slip(other.label, (_owner(app, other),), lambda: app.go(place), key=other.id)


def _owner(app: App, record: Record) -> str:
    if isinstance(record, Client):
        return " · ".join(filter(None, (record.phone, record.email, record.address.replace("\n", ", "))))
    client = getattr(record, "client_id", "")
    return app.book.get(Client, client).name if app.book.has(Client, client) else ""


def _beside(app: App, keep: Record, other: Record, back: str) -> list[ft.Control]:
    try:
        asked: Sequence[merge.Difference] = merge.differences(keep, other)
    except SwardError as error:
        return [look.remark(error.sentence, serious=True)]
    form = app.state.form
    picks: dict[str, merge.Pick] = {one.field: form.get(one.field, one.proposed) for one in asked}  # type: ignore[misc]
    noun = "green" if isinstance(keep, Sward) else keep.noun
    rows: list[ft.Control] = [
        look.words(
            f"{other.label} becomes part of {keep.label}. What is empty in one is filled from the other; "
            f"all that hangs on the other {noun} moves over; the other goes to the bin as it is."
        )
    ]
    if asked:
        rows.append(look.title("Where they differ"))
        rows += [_ask(app, one, picks[one.field]) for one in asked]
    else:
        rows.append(look.quiet("They don't contradict each other anywhere."))

    def make(_: Any) -> None:
        if records.make_one(app, keep, other, picks):
            app.go(back)

    rows.append(look.primary("Make them one", make, ft.Icons.MERGE))
    return rows


def _ask(app: App, one: merge.Difference, picked: str) -> ft.Control:
    """The two values, each as a choice; and both together where that makes sense."""

    def pick(which: str) -> None:
        app.change(form={**app.state.form, one.field: which})

    pairs = [
        ("mine", one.mine),
        ("theirs", one.theirs),
        *([("both", "Both, one below the other")] if one.both else []),
    ]
    options = [_option(key, text, key == picked, pick, one.label) for key, text in pairs]
    return look.card(
        ft.Text(one.label, size=look.LABEL, weight=ft.FontWeight.BOLD), *options, key=f"ask-{one.field}"
    )


def _option(key: str, text: str, chosen: bool, pick: Any, label: str) -> ft.Control:
    def tapped(_: object) -> None:
        pick(key)

    icon = ft.Icons.RADIO_BUTTON_CHECKED if chosen else ft.Icons.RADIO_BUTTON_UNCHECKED
    row = ft.Row(
        [
            ft.Icon(icon, size=26, color=ft.Colors.PRIMARY),
            ft.Text(
                text,
                size=look.BODY,
                expand=True,
                weight=ft.FontWeight.BOLD if chosen else ft.FontWeight.NORMAL,
            ),
        ],
        spacing=10,
    )
    return ft.Semantics(
        button=True,
        selected=chosen,
        label=f"{label}: {text}",
        exclude_semantics=True,
        on_tap=tapped,
        content=ft.Container(row, padding=ft.Padding.symmetric(vertical=12, horizontal=4), on_click=tapped),
        key=key,
    )
