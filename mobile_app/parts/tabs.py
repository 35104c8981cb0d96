"""The steps of a visit as a bar of tabs: it scrolls sideways where they don't fit, the chosen one in view."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import flet as ft
from flet.components.hooks.use_ref import MutableRef

from mobile_app.parts import look

_LEAST = 36.0  # with the padding a tab is never narrower than a thumb wants
_PADDING = 9


@ft.component
def Tabs(pairs: Sequence[tuple[str, str]], chosen: str, pick: Callable[[str], None]) -> ft.Control:
    """The bar. pairs: (key, name) from left to right."""
    view, set_view = ft.use_state(0.0)
    content, set_content = ft.use_state(0.0)
    kept: MutableRef[ft.Row] = ft.use_ref(None)
    tabs = ft.Container(
        ft.Row([_tab(key, name, key == chosen, pick) for key, name in pairs], spacing=0, tight=True),
        on_size_change=lambda e: set_content(round(e.width)),
    )
    kept.current = ft.Row(
        [tabs], scroll=ft.ScrollMode.HIDDEN, spacing=0, alignment=ft.MainAxisAlignment.CENTER
    )

    async def bring() -> None:
        """Scroll by the chosen tab's share of the way, so that what lies before and after it peeps in."""
        hidden = content - view
        place = [key for key, _ in pairs].index(chosen)
        if hidden > 0 and view > 0 and kept.current is not None:
            await kept.current.scroll_to(offset=hidden * place / (len(pairs) - 1), duration=200)

    ft.use_effect(bring, [chosen, view, content])
    return ft.Container(
        kept.current,
        bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH,
        on_size_change=lambda e: set_view(round(e.width)),
    )


def _tab(key: str, name: str, chosen: bool, pick: Callable[[str], None]) -> ft.Control:
    def tapped(_: object) -> None:
        pick(key)

    said = ft.Text(
        name,
        size=look.BODY,
        weight=ft.FontWeight.BOLD,
        color=ft.Colors.PRIMARY if chosen else ft.Colors.ON_SURFACE_VARIANT,
        no_wrap=True,
    )
    across = ft.Column(
        [said, ft.Container(width=_LEAST, height=0)],
        spacing=0,
        tight=True,
        horizontal_alignment=ft.CrossAxisAlignment.CENTER,
    )
    line = ft.BorderSide(5, ft.Colors.PRIMARY if chosen else ft.Colors.TRANSPARENT)
    return ft.Semantics(
        button=True,
        selected=chosen,
        label=name,
        exclude_semantics=True,
        on_tap=tapped,
        content=ft.Container(
            across,
            padding=ft.Padding.only(left=_PADDING, right=_PADDING, top=16, bottom=12),
            on_click=tapped,
            border=ft.Border.only(bottom=line),
        ),
        key=key,
    )
