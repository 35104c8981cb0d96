"""Slips: a record in a list, what an empty list says, and a question before what is done for good."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import flet as ft

from mobile_app.parts import look


def slip(
    name: str,
    under: Sequence[str],
    on_tap: Callable[[], None],
    state: str = "",
    icon: Any = None,
    key: str = "",
    count: str = "",
) -> ft.Control:
    """A card that leads somewhere.

    under: lines of second rank; state: what is to be noticed; count: stands at the end.
    """

    def tapped(_: object) -> None:
        on_tap()

    said = [line for line in under if line]
    lines: list[ft.Control] = [ft.Text(name, size=look.BODY + 1, weight=ft.FontWeight.BOLD)]
    lines += [look.quiet(line, max_lines=3, overflow=ft.TextOverflow.ELLIPSIS) for line in said]
    if state:
        lines.append(ft.Text(state, size=look.LABEL, color=ft.Colors.PRIMARY, weight=ft.FontWeight.BOLD))
    row: list[ft.Control] = []
    if icon is not None:
        row.append(ft.Icon(icon, size=26, color=ft.Colors.PRIMARY))
    row.append(ft.Column(lines, spacing=2, tight=True, expand=True))
    if count:
        row.append(ft.Text(count, size=look.BODY, color=ft.Colors.ON_SURFACE_VARIANT))
    row.append(ft.Icon(ft.Icons.CHEVRON_RIGHT, size=28))
    return ft.Semantics(
        button=True,
        label=", ".join(filter(None, (name, *said, state, count))),
        exclude_semantics=True,
        on_tap=tapped,
        content=look.card(ft.Row(row, spacing=12), on_click=tapped, padding=ft.Padding.all(12)),
        key=key or name,
    )


def empty(icon: Any, head: str, words: str, *buttons: ft.Control) -> ft.Control:
    """What a list says while there is nothing in it: what it is for, and how to begin."""
    return look.card(
        ft.Row(
            [ft.Icon(icon, size=36, color=ft.Colors.PRIMARY), ft.Container(look.title(head), expand=True)],
            spacing=12,
        ),
        look.words(words),
        *buttons,
        spacing=14,
    )


@ft.component
def Sure(name: str, sentence: str, yes: str, do: Callable[[], Any], icon: Any) -> ft.Control:
    """A button for what is for good: it says what will happen and asks once more."""
    asked, set_asked = ft.use_state(False)
    if not asked:
        return look.secondary(name, lambda _: set_asked(True), icon)

    def done(_: object) -> None:
        set_asked(False)
        do()

    return look.card(
        look.remark(sentence, serious=True),
        ft.FilledButton(
            yes,
            on_click=done,
            style=ft.ButtonStyle(
                bgcolor=ft.Colors.ERROR,
                color=ft.Colors.ON_ERROR,
                shape=ft.RoundedRectangleBorder(radius=8),
                padding=ft.Padding.symmetric(horizontal=14, vertical=18),
                text_style=ft.TextStyle(size=look.BODY, weight=ft.FontWeight.BOLD, font_family=look.FAMILY),
            ),
        ),
        look.plain("Leave it as it is", lambda _: set_asked(False)),
    )


def sure(key: str, name: str, sentence: str, yes: str, do: Callable[[], Any], icon: Any) -> ft.Control:
    """A Sure under a key of its own."""
    return look.keyed(f"sure-{key}", Sure, name, sentence, yes, do, icon)
