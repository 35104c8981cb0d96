"""What two phones wrote differently, side by side: one is chosen, with no signal needed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import flet as ft

from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import frame
from mobile_app.parts.slips import empty

_SHOWN = 20
_LINES = 12


def screen(app: App, *_: str) -> ft.Control:
    """All conflicts, one card each."""
    found = app.office.conflicts()
    back = lambda: app.go("/office")  # noqa: E731
    if not found:
        said = "Where two phones write different things into one place, both are kept and shown here."
        return frame(app, "Decide", [empty(ft.Icons.DONE, "Nothing to decide", said)], back=back)
    body: list[ft.Control] = [look.quiet("Both are kept until you choose. Your choice goes to every phone.")]
    body += [_card(app, conflict) for conflict in found[:_SHOWN]]
    if len(found) > _SHOWN:
        body.append(look.quiet(f"{len(found) - _SHOWN} more after these."))
    return frame(app, "Decide", body, back=back, under=f"{len(found)} to decide")


def _card(app: App, conflict: Any) -> ft.Control:
    noun = "green" if conflict.noun == "sward" else conflict.noun
    label = conflict.label if conflict.label != conflict.noun else noun
    head = {
        "field": f"{label}: {conflict.field}",
        "deleted": f"{label}: deleted on one phone, changed on another",
        "orphan": f"{label}: what it belongs to was deleted",
    }[conflict.kind]
    return look.card(
        ft.Text(head[:1].upper() + head[1:], size=look.BODY + 1, weight=ft.FontWeight.BOLD),
        ft.ResponsiveRow(
            [_choice(app, conflict, choice, number) for number, choice in enumerate(conflict.choices)],
            spacing=8,
            run_spacing=8,
        ),
        key=f"decide-{conflict.key}-{conflict.path}",
    )


def _choice(app: App, conflict: Any, choice: Any, number: int) -> ft.Control:
    who = app.office.name_of(choice.device) if choice.device else ""
    if conflict.kind == "field":
        said, by, button = said_of(choice.value), f"Written by {who}" if who else "", "Keep this"
    elif choice.value == "keep":
        said, by, button = "Keep the record", f"Changed by {who}" if who else "", "Keep it"
    else:
        said, by, button = "Leave it deleted", f"Deleted by {who}" if who else "", "Delete it"
    rows: list[ft.Control] = [ft.Text(said, size=look.BODY, selectable=True)]
    if by:
        rows.append(look.quiet(by))
    rows.append(
        look.secondary(
            button, lambda _: app.office.decide(conflict, choice), tooltip=f"{button}: {said[:60]}"
        )
    )
    return ft.Container(
        ft.Column(rows, spacing=8, tight=True),
        padding=12,
        border=ft.Border.all(1, ft.Colors.OUTLINE),
        border_radius=8,
        col={"xs": 12, "sm": 6},
        key=f"choice-{number}",
    )


def said_of(value: Any) -> str:
    """A value as a person reads it; what was removed reads "(nothing)"."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str | int | float):
        return str(value) or "(nothing)"
    said = _lines(value, "")
    more = f"\n… and {len(said) - _LINES} lines more" if len(said) > _LINES else ""
    return "\n".join(said[:_LINES]) + more or "(nothing)"


def _lines(value: Any, name: str) -> list[str]:
    if isinstance(value, Mapping):
        inner = [line for key, item in value.items() if key != "id" for line in _lines(item, str(key))]
        return inner
    if isinstance(value, list | tuple):
        return [line for item in value for line in _lines(item, name)]
    text = "" if value is None or not isinstance(value, str | int | float) else str(value)
    words = name.replace("_", " ")
    return [f"{words}: {text}" if words else text] if text else []
