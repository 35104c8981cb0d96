"""A follow-up that is due, said in one line."""

from __future__ import annotations

import flet as ft

from mobile_app.parts import look


def care_due(words: str) -> ft.Control:
    """The line, with a mark, never by colour alone."""
    return ft.Row(
        [
            ft.Icon(ft.Icons.EVENT, size=22, color=ft.Colors.TERTIARY),
            ft.Text(words, size=look.LABEL, weight=ft.FontWeight.BOLD, color=ft.Colors.TERTIARY, expand=True),
        ],
        spacing=6,
    )
