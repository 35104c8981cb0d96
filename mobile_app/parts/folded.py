"""Something folded away behind a button, kept open or shut by itself."""

from __future__ import annotations

from collections.abc import Callable

import flet as ft

from mobile_app.parts import look


@ft.component
def Folded(name: str, draw: Callable[[], ft.Control], is_open_at_first: bool) -> ft.Control:
    """The button, and below it what it opens."""
    is_open, set_open = ft.use_state(is_open_at_first)
    button = look.secondary(
        name,
        lambda _: set_open(not is_open),
        ft.Icons.EXPAND_LESS if is_open else ft.Icons.EXPAND_MORE,
    )
    return look.stack(button, draw(), spacing=14) if is_open else button


def folded(key: str, name: str, draw: Callable[[], ft.Control], is_open: bool = False) -> ft.Control:
    """A Folded under a key of its own."""
    return look.keyed(f"folded-{key}", Folded, name, draw, is_open)
