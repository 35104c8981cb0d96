"""The boxes of a record in a form: each puts what is typed into the record in hand."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import flet as ft

from logic.records.types import Record
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box

PHONE, EMAIL, NUMBER = ft.KeyboardType.PHONE, ft.KeyboardType.EMAIL, ft.KeyboardType.NUMBER


def box(
    app: App,
    record: Record,
    field: str,
    label: str,
    keyboard: ft.KeyboardType = ft.KeyboardType.TEXT,
    lines: int = 1,
    hint: str = "",
) -> ft.Control:
    """A box for a text field of the record. lines: how many it shows at first when it takes several."""
    more: dict[str, Any] = (
        {"multiline": True, "min_lines": lines, "max_lines": lines + 4} if lines > 1 else {}
    )
    keyboard = ft.KeyboardType.MULTILINE if lines > 1 else keyboard
    return ft.Row(
        [
            text_box(
                label,
                str(getattr(record, field)),
                lambda text: records.put(app, in_hand(app, record), **{field: text}),
                keyboard=keyboard,
                hint=hint,
                key=f"{field}-{record.id}",
                **more,
            )
        ]
    )


def in_hand(app: App, record: Record) -> Record:
    """The record as it stands now, with all that has been typed."""
    draft = app.state.draft
    return draft[1] if draft and draft[1].id == record.id else record


def to(app: App, place: str) -> Callable[[], None]:
    """What goes to a place."""
    return lambda: app.go(place)


def done(app: App, place: str) -> ft.Control:
    """The button that saves what is in the form and goes on to a place."""
    return look.primary("Save", lambda _: app.go(place), ft.Icons.CHECK)
