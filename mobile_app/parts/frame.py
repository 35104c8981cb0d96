"""The frame of every screen: a turf-green band with a chalk line under it, the notice, the page."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import flet as ft

from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.kept import kept


def icon_button(
    icon: Any, label: str, on_click: Callable[..., Any], colour: str = ft.Colors.ON_SURFACE
) -> ft.Control:
    """A square button with a picture; its name is read out."""
    return ft.Semantics(
        button=True,
        label=label,
        exclude_semantics=True,
        on_tap=on_click,
        content=ft.IconButton(
            icon=icon, icon_size=26, icon_color=colour, width=look.TOUCH, height=look.TOUCH, on_click=on_click
        ),
    )


def frame(
    app: App,
    heading: str,
    body: Sequence[ft.Control],
    back: Callable[[], None] | None = None,
    under: str = "",
    tools: Sequence[ft.Control] = (),
    top: ft.Control | None = None,
    more: Callable[[], None] | None = None,
) -> ft.Control:
    """A screen. top: what stays in view under the band while the page scrolls.

    more: makes it a long list, whose rows are drawn as they come into view, and is called near its end.
    """
    page = _list(app, body, more) if more else _page(app, body)
    pieces: list[ft.Control] = [kept("band", Band, heading, under, back, tuple(tools))]
    if top is not None:
        pieces.append(top)
    pieces += [*_notice(app), page, *_busy(app)]
    return ft.Column(pieces, spacing=0, expand=True)


@ft.component
def Band(
    heading: str, under: str, back: Callable[[], None] | None, tools: Sequence[ft.Control]
) -> ft.Control:
    """The band at the top: the way back, what one looks at, and what can be done with it."""
    paper = ft.Colors.ON_SECONDARY
    names: list[ft.Control] = [
        ft.Semantics(
            header=True,
            content=ft.Text(
                heading,
                size=look.TITLE,
                weight=ft.FontWeight.BOLD,
                color=paper,
                max_lines=2,
                overflow=ft.TextOverflow.ELLIPSIS,
            ),
        )
    ]
    if under:
        names.append(
            ft.Text(under, size=look.LABEL, color=paper, max_lines=1, overflow=ft.TextOverflow.ELLIPSIS)
        )
    band: list[ft.Control] = []
    if back:
        band.append(icon_button(ft.Icons.ARROW_BACK, "Back", back, paper))
    band.append(
        ft.Container(ft.Column(names, spacing=0, tight=True), expand=True, padding=ft.Padding.only(left=6))
    )
    band += tools
    return ft.Container(
        content=ft.SafeArea(
            ft.Row(band, spacing=2, vertical_alignment=ft.CrossAxisAlignment.CENTER),
            avoid_intrusions_bottom=False,
        ),
        bgcolor=ft.Colors.SECONDARY,
        padding=ft.Padding.symmetric(horizontal=8, vertical=8),
    )


def _page(app: App, body: Sequence[ft.Control]) -> ft.Control:
    return ft.Column(
        [_column(look.stack(*body, ft.Container(height=96), spacing=14))],
        scroll=ft.ScrollMode.AUTO,
        expand=True,
        horizontal_alignment=ft.CrossAxisAlignment.STRETCH,
        key=f"page-{app.state.place}",
    )


def _list(app: App, body: Sequence[ft.Control], more: Callable[[], None]) -> ft.Control:
    def scrolled(event: ft.OnScrollEvent) -> None:
        if event.pixels > event.max_scroll_extent - 2 * event.viewport_dimension:
            more()

    rows = [_column(row, 5) for row in (ft.Container(height=4), *body, ft.Container(height=90))]
    return ft.ListView(
        rows, expand=True, scroll_interval=150, on_scroll=scrolled, key=f"page-{app.state.place}"
    )


def _column(content: ft.Control, above: int = 16) -> ft.Control:
    """A readable column in the middle of a wide screen, the whole width of a phone."""
    column = ft.Container(
        content,
        padding=ft.Padding.symmetric(horizontal=16, vertical=above),
        col={"xs": 12, "md": 10, "lg": 7, "xl": 6},
    )
    return ft.ResponsiveRow([column], alignment=ft.MainAxisAlignment.CENTER)


def _notice(app: App) -> list[ft.Control]:
    notice = app.state.notice
    if notice is None:
        return []
    row: list[ft.Control] = [
        ft.Text(notice.sentence, size=look.LABEL, color=ft.Colors.ON_TERTIARY_CONTAINER, expand=True)
    ]
    if notice.undo and app.book.undoable:
        row.append(look.plain("Undo", lambda _: app.undo()))
    row.append(
        icon_button(
            ft.Icons.CLOSE, "Dismiss", lambda _: app.change(notice=None), ft.Colors.ON_TERTIARY_CONTAINER
        )
    )
    return [
        ft.Semantics(
            live_region=True,
            content=ft.Container(
                ft.Row(row, spacing=4),
                bgcolor=ft.Colors.TERTIARY_CONTAINER,
                padding=ft.Padding.only(left=16, right=4, top=4, bottom=4),
            ),
        )
    ]


def _busy(app: App) -> list[ft.Control]:
    if not app.state.busy:
        return []
    return [
        ft.Container(
            ft.Column(
                [
                    ft.Text(app.state.busy, size=look.LABEL),
                    ft.ProgressBar(value=app.state.progress or None, bar_height=8),
                ],
                spacing=6,
                tight=True,
            ),
            bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH,
            padding=ft.Padding.all(14),
        )
    ]
