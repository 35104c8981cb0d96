"""The bin: what was deleted, to be brought back or let go."""

from __future__ import annotations

from typing import Any

import flet as ft

from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import frame
from mobile_app.parts.record_boxes import to
from mobile_app.parts.slips import empty, sure


def screen(app: App) -> ft.Control:
    """All that is in the bin, what went in last first."""
    found = app.book.bin()
    if not found:
        said = "What you delete comes here first, with all that hangs on it, and can be brought back."
        return frame(
            app, "Bin", [empty(ft.Icons.DELETE_OUTLINE, "The bin is empty", said)], back=to(app, "/records")
        )
    body: list[ft.Control] = [_card(app, binned) for binned in found]
    body.append(look.rule())
    body.append(
        sure(
            "empty",
            "Empty the bin",
            f"{len(found)} things go for good. Right afterwards “Undo” still brings them back.",
            "Empty the bin now",
            lambda: records.let_go(app, None),
            ft.Icons.DELETE_SWEEP_OUTLINED,
        )
    )
    return frame(app, "Bin", body, back=to(app, "/records"), under=f"{len(found)} in the bin")


def _card(app: App, binned: Any) -> ft.Control:
    noun = "green" if binned.noun == "sward" else binned.noun
    more = f" with {binned.count - 1} more that hang on it" if binned.count > 1 else ""
    label = binned.label if binned.label != binned.noun else noun
    return look.card(
        ft.Text(label, size=look.BODY + 1, weight=ft.FontWeight.BOLD),
        look.quiet(f"{noun.capitalize()}{more}, deleted {binned.deleted.astimezone():%d %b %Y, %H:%M}"),
        ft.Row(
            [
                look.secondary(
                    "Bring back",
                    lambda _: records.restore(app, binned.id, label),
                    ft.Icons.RESTORE,
                    tooltip=f"Bring {label} back",
                ),
                look.plain("Let go", lambda _: records.let_go(app, binned.id)),
            ],
            wrap=True,
            spacing=8,
        ),
        key=f"bin-{binned.id}",
    )
