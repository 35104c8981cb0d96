"""What was agreed with the customer beside the works, in words with name and time, and their signature."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from functools import partial
from typing import Any

import flet as ft

from logic.records.standing import Standing
from logic.records.types import Visit
from mobile_app import agreed
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.frame import icon_button
from mobile_app.parts.signature import Signed, Strokes, sign_field


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """What is agreed, the form for another thing, the signature."""
    rows: list[ft.Control] = [look.title("Agreed with the customer")]
    for place, entry in enumerate(visit.works):
        if entry.get("agreed"):
            rows.append(_entry(entry["agreed"], _work(stood, place)))
    for number, told in enumerate(visit.agreed):
        rows.append(_entry(told, "", partial(agreed.take_out, app, number)))
    if not visit.agreed:
        rows.append(
            look.quiet("Nothing beside the works yet. Write down what is done otherwise than quoted, first.")
        )
    return [*rows, _form(app), *_signature(app, visit)]


def _work(stood: Standing, place: int) -> str:
    worked = stood.planned[place][0]
    return f"about {worked.operation.name.lower()}" if worked else ""


def _entry(told: Mapping[str, Any], about: str, take_out: Any = None) -> ft.Control:
    name, at = str(told.get("name", "")), when(str(told.get("at", "")))
    lines: list[ft.Control] = [ft.Text(str(told.get("words", "")), size=look.BODY)]
    lines.append(look.quiet(" · ".join(filter(None, (name, at, about)))))
    row: list[ft.Control] = [ft.Column(lines, spacing=2, tight=True, expand=True)]
    if take_out:
        row.append(icon_button(ft.Icons.DELETE_OUTLINE, "Take this out", lambda _: take_out()))
    return look.card(ft.Row(row, vertical_alignment=ft.CrossAxisAlignment.START))


def when(stored: str) -> str:
    """A stored moment as people write it."""
    try:
        return f"{datetime.fromisoformat(stored).astimezone():%d %b %Y, %H:%M}"
    except ValueError:
        return stored


def _form(app: App) -> ft.Control:
    form = app.state.form
    words, name = form.get("words", ""), form.get("who", agreed.customer(app))

    def put(key: str, text: str) -> None:
        app.change(form={**app.state.form, key: text})

    def add(_: object) -> None:
        who = app.state.form.get("who", agreed.customer(app))
        said = app.state.form.get("words", "")
        app.change(
            form={"who": who} if said.strip() else {**app.state.form, "problem": "Write what was agreed."}
        )
        agreed.note(app, said, who)

    pieces: list[ft.Control] = [
        ft.Row(
            [
                text_box(
                    "What is agreed",
                    words,
                    lambda t: put("words", t),
                    hint="Extra pass on the north side, £40",
                    multiline=True,
                    min_lines=2,
                    max_lines=6,
                    key="agreed-words",
                )
            ]
        ),
        ft.Row(
            [
                text_box(
                    "With whom",
                    name,
                    lambda t: put("who", t),
                    keyboard=ft.KeyboardType.NAME,
                    key="agreed-who",
                )
            ]
        ),
    ]
    if form.get("problem") and not words.strip():
        pieces.append(look.remark(form["problem"], serious=True))
    pieces.append(look.primary("Note it, with the time", add, ft.Icons.ADD))
    return look.card(*pieces, spacing=12)


def _signature(app: App, visit: Visit) -> list[ft.Control]:
    signed = visit.signature
    if signed.get("strokes"):
        name, at = str(signed.get("name", "")), when(str(signed.get("at", "")))

        return [
            look.title("Signature"),
            look.card(
                look.keyed("signed", Signed, signed["strokes"], name),
                look.quiet(" · ".join(filter(None, (name, at)))),
                look.plain("Take it out and sign again", lambda _: agreed.unsign(app)),
            ),
        ]
    return [look.title("Signature"), look.keyed(f"signing-{visit.id}", Signing, app)]


@ft.component
def Signing(app: App) -> ft.Control:
    """The field to sign in, kept only when that is said."""
    nothing: Strokes = ()
    strokes, set_strokes = ft.use_state(nothing)
    turn, set_turn = ft.use_state(0)

    def clear(_: object) -> None:
        set_strokes(())
        set_turn(turn + 1)

    def keep(_: object) -> None:
        agreed.sign(app, strokes, app.state.form.get("who", agreed.customer(app)))

    who = app.state.form.get("who", agreed.customer(app)) or "The customer"
    lines: list[ft.Control] = [
        look.quiet(f"{who} signs with a finger for what is agreed."),
        sign_field(f"{turn}", (), lambda drawn: set_strokes(drawn)),
    ]
    if strokes:
        lines.append(
            ft.Row(
                [
                    look.primary("Keep the signature", keep, ft.Icons.CHECK),
                    look.plain("Clear", clear),
                ],
                wrap=True,
                spacing=8,
            )
        )
    return look.stack(*lines)
