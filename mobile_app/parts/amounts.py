"""Sums of money on screen: a name with its amount at the right, and behind it how it was found."""

from __future__ import annotations

from collections.abc import Sequence

import flet as ft

from mobile_app.parts import look


@ft.component
def AmountLine(name: str, amount: str, detail: str, working: Sequence[str], key_name: str) -> ft.Control:
    """One line. A tap opens its working, where there is any."""
    is_open, set_open = ft.use_state(False)

    def turn(_: object) -> None:
        set_open(not is_open)

    words: list[ft.Control] = [ft.Text(name, size=look.BODY, weight=ft.FontWeight.BOLD)]
    if detail:
        words.append(look.quiet(detail))
    row: list[ft.Control] = [
        ft.Column(words, spacing=0, tight=True, expand=True),
        ft.Text(amount, size=look.BODY, weight=ft.FontWeight.BOLD),
    ]
    if working:
        row.append(ft.Icon(ft.Icons.EXPAND_LESS if is_open else ft.Icons.EXPAND_MORE, size=22))
    line = ft.Container(
        ft.Row(row, spacing=8), on_click=turn if working else None, padding=ft.Padding.symmetric(vertical=11)
    )
    said = ft.Semantics(
        button=bool(working),
        label=", ".join(filter(None, (name, detail, amount))),
        identifier=f"amount-{key_name}",
        exclude_semantics=True,
        on_tap=turn if working else None,
        content=line,
    )
    if not (is_open and working):
        return said
    lines: list[ft.Control] = [ft.Text(text, size=look.LABEL) for text in working]
    return look.stack(
        said,
        ft.Container(
            ft.Column(lines, spacing=6, tight=True),
            padding=ft.Padding.only(left=12, bottom=8),
            border=ft.Border.only(left=ft.BorderSide(3, ft.Colors.PRIMARY)),
        ),
        spacing=2,
    )


def amount_line(
    key: str, name: str, amount: str, detail: str = "", working: Sequence[str] = ()
) -> ft.Control:
    """An AmountLine under a key of its own."""
    return look.keyed(f"amount-{key}", AmountLine, name, amount, detail, tuple(working), key)
