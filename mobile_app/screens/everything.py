"""Everything in one file: saved at any time, with no signal, and taken in again."""

from __future__ import annotations

import flet as ft

from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.folded import folded
from mobile_app.parts.frame import frame
from mobile_app.parts.record_boxes import to


def screen(app: App) -> ft.Control:
    """The ways out and in."""
    counts = app.book.counts()
    words = (("clients", "clients"), ("swards", "greens"), ("visits", "visits"), ("photos", "photos"))
    said = ", ".join(f"{counts.get(table, 0)} {noun}" for table, noun in words)
    body: list[ft.Control] = [
        look.card(
            look.title("Save everything"),
            look.words(f"One file with {said}, the bin, and what has not been sent yet."),
            look.quiet(
                "It works with no signal, with a full phone, and when this phone has been locked out of the "
                "office. Keep it somewhere that is not this phone."
            ),
            look.primary(
                "Save it all",
                lambda _: app.begin(records.export_everything(app)),
                ft.Icons.SAVE_ALT,
            ),
        ),
        look.card(
            look.title("Take a file in"),
            look.words(
                "What is missing here is added. Where both have a record, the one saved later stays, and the "
                "other is in its history. The same file twice changes nothing."
            ),
            look.secondary(
                "Choose a file",
                lambda _: app.begin(records.import_everything(app)),
                ft.Icons.FILE_OPEN_OUTLINED,
            ),
        ),
        folded("rescue", "When something is wrong", lambda: _rescue(app)),
    ]
    return frame(app, "Everything in one file", body, back=to(app, "/records"))


def _rescue(app: App) -> ft.Control:
    return look.stack(
        look.words("The store's own files as they are, damaged parts too, for somebody who can mend them."),
        look.secondary("Save the store's files", lambda _: records.rescue_copy(app), ft.Icons.BUILD_OUTLINED),
    )
