"""The outbox: what goes out by e-mail, what became of it, and a document on its way there."""

from __future__ import annotations

from typing import Any

import flet as ft

from logic.records.types import Message, Visit
from mobile_app import sending
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.frame import frame
from mobile_app.parts.slips import empty, sure

_STATES = {
    "waiting": "Goes out when this phone next meets the office",
    "queued": "The office is sending it",
    "sent": "Sent",
    "refused": "Refused",
    "unknown": "Unknown: ask whether it arrived before sending it again",
}
_SHOWN = 30


def screen(app: App, *_: str) -> ft.Control:
    """All messages, the newest first."""
    found = sending.messages(app)
    if not found:
        said = "Send a document from the paper step of a visit, and it is kept here until it is out."
        body: list[ft.Control] = [empty(ft.Icons.OUTBOX, "Nothing to send", said)]
    else:
        body = [_card(app, message) for message in found[:_SHOWN]]
    return frame(app, "Outbox", body, back=lambda: app.go("/office"))


def _card(app: App, message: Message) -> ft.Control:
    said = _STATES.get(message.state, message.state)
    if message.state == "waiting" and not app.office.standing.paired:
        said = "Waits: this phone belongs to no office"
    grave = message.state in ("refused", "unknown")
    rows: list[ft.Control] = [
        ft.Text(message.subject or "No subject", size=look.BODY + 1, weight=ft.FontWeight.BOLD),
        look.quiet(f"To {', '.join(message.to)}"),
        ft.Text(
            f"{said}. {message.said}".strip() if message.said else said,
            size=look.BODY,
            weight=ft.FontWeight.BOLD,
            color=ft.Colors.ERROR if grave else ft.Colors.PRIMARY,
        ),
    ]
    if message.state == "refused":
        rows.append(
            look.secondary("Send again", lambda _: sending.send_again(app, message), ft.Icons.REFRESH)
        )
    if message.state == "unknown":
        rows.append(
            sure(
                f"again-{message.id}",
                "Send again",
                "It may have arrived already, and would then arrive twice.",
                "Send it again now",
                lambda: sending.send_again(app, message),
                ft.Icons.REFRESH,
            )
        )
    return look.card(*rows, key=f"message-{message.id}")


def send_screen(app: App, visit_id: str, key: str = "summary", *_: str) -> ft.Control:
    """A document on its way out: to whom, with which words, by which way."""

    def back() -> None:
        app.go(f"/visit/{visit_id}/paper")

    if not app.book.has(Visit, visit_id):
        return frame(app, "Send", [look.words("This visit is no longer in the book.")], back=back)
    visit = app.book.get(Visit, visit_id)
    first = sending.first_words(app, visit, key)

    def box(name: str, label: str, **more: Any) -> ft.Control:
        def put(text: str) -> None:
            app.change(form={**app.state.form, name: text})

        value = app.state.form.get(name, first[name])
        return ft.Row([text_box(label, value, put, key=f"send-{name}", **more)])

    def send(way: sending.Way) -> Any:
        return lambda _: app.begin(sending.send(app, visit, key, {**first, **app.state.form}, way))

    paired = app.office.standing.paired
    lines = {"multiline": True, "min_lines": 4, "max_lines": 10}
    body: list[ft.Control] = [
        box("to", "To", keyboard=ft.KeyboardType.EMAIL),
        box("subject", "Subject"),
        box("body", "Words", keyboard=ft.KeyboardType.MULTILINE, **lines),
    ]
    if paired:
        body.append(look.primary("Send through the office", send("office"), ft.Icons.SEND))
        body.append(
            look.quiet("It goes out at the next sync, with your own mail server. No signal needed now.")
        )
    draft = look.secondary if paired else look.primary
    body.append(draft("Open as a draft in a mail program", send("draft"), ft.Icons.DRAFTS_OUTLINED))
    body.append(look.secondary("Share the document only", send("share"), ft.Icons.IOS_SHARE))
    return frame(app, "Send by e-mail", body, back=back, under=app.sward_of(visit).name)
