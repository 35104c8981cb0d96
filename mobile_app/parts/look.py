"""The look: colours by role for light and dark, type sizes, and the few shapes everything is made of.

Figures stand at 7:1 or better against what they stand on (tests/mobile_app/test_look.py works it out).
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

import flet as ft

FAMILY = "Sward"
TOUCH = 52  # least height of anything that is tapped, in logical pixels
BODY, LABEL, TITLE, BIG = 17, 16, 22, 34

LIGHT = {
    "surface": "#F7F5EC",  # paper
    "surface_container": "#FFFFFF",  # a card on it
    "surface_container_high": "#E9E6D6",  # a chosen thing, a band
    "on_surface": "#16211A",  # ink
    "on_surface_variant": "#3B463F",  # quieter ink
    "primary": "#1E4D2B",  # turf
    "on_primary": "#FFFFFF",
    "primary_container": "#D9E8D3",
    "on_primary_container": "#12331C",
    "secondary": "#1E4D2B",  # the band at the top
    "on_secondary": "#FFFFFF",
    "tertiary": "#7A2E0C",  # clay: what to look at
    "on_tertiary": "#FFFFFF",
    "tertiary_container": "#FBE6D8",
    "on_tertiary_container": "#5A1F05",
    "error": "#8A1010",
    "on_error": "#FFFFFF",
    "outline": "#6B7268",
    "outline_variant": "#CFCBB8",
}
DARK = {
    "surface": "#10160F",
    "surface_container": "#1B231A",
    "surface_container_high": "#2A3428",
    "on_surface": "#F2F4EC",
    "on_surface_variant": "#C9D1C4",
    "primary": "#A9D8A4",
    "on_primary": "#0B2410",
    "primary_container": "#24452B",
    "on_primary_container": "#DDF3D8",
    "secondary": "#1D3523",
    "on_secondary": "#F2F4EC",
    "tertiary": "#FFBC9B",
    "on_tertiary": "#3A1202",
    "tertiary_container": "#4A2412",
    "on_tertiary_container": "#FFE3D4",
    "error": "#FFB4AB",
    "on_error": "#3A0503",
    "outline": "#9AA395",
    "outline_variant": "#3C463A",
}


def theme(colours: dict[str, str]) -> ft.Theme:
    """The Flet theme of a set of colours."""
    return ft.Theme(
        color_scheme=ft.ColorScheme(**colours),
        font_family=FAMILY,
        scaffold_bgcolor=colours["surface"],
        visual_density=ft.VisualDensity.STANDARD,
    )


def keyed(key: str, component: Callable[..., Any], *args: Any, **more: Any) -> ft.Control:
    """A component under a key of its own, so that it keeps its state when its neighbours change."""
    drawn: ft.Control = component(*args, key=key, **more)
    return drawn


def words(text: str, size: float = BODY, **more: Any) -> ft.Text:
    """Running text."""
    return ft.Text(text, size=size, **more)


def quiet(text: str, size: float = LABEL, **more: Any) -> ft.Text:
    """Text of second rank."""
    return ft.Text(text, size=size, color=ft.Colors.ON_SURFACE_VARIANT, **more)


def title(text: str, size: float = TITLE, **more: Any) -> ft.Control:
    """A heading, announced as one."""
    return ft.Semantics(
        header=True, content=ft.Text(text, size=size, weight=ft.FontWeight.BOLD, **more), label=None
    )


def stack(*controls: ft.Control, spacing: int = 10) -> ft.Column:
    """Things one below the other, each as wide as there is room."""
    return ft.Column(
        list(controls), spacing=spacing, tight=True, horizontal_alignment=ft.CrossAxisAlignment.STRETCH
    )


_ROOM = ft.Padding.all(14)
_EDGE = ft.Border.all(1, ft.Colors.OUTLINE_VARIANT)


def card(*controls: ft.Control, spacing: int = 10, **more: Any) -> ft.Container:
    """A white slip of paper with a ruled edge."""
    return ft.Container(
        content=stack(*controls, spacing=spacing),
        padding=more.pop("padding", _ROOM),
        bgcolor=more.pop("bgcolor", ft.Colors.SURFACE_CONTAINER),
        border=more.pop("border", _EDGE),
        border_radius=10,
        **more,
    )


@cache
def _style(bgcolor: str | None, color: str, side: str | None, padding: int = 18) -> ft.ButtonStyle:
    return ft.ButtonStyle(
        bgcolor=bgcolor,
        color=color,
        side=ft.BorderSide(2, side) if side else None,
        shape=ft.RoundedRectangleBorder(radius=8),
        # No height of its own, so that a button grows with large text; with this padding it is over TOUCH.
        padding=ft.Padding.symmetric(horizontal=padding, vertical=17),
        text_style=ft.TextStyle(size=BODY, weight=ft.FontWeight.BOLD, font_family=FAMILY),
        elevation=0,
    )


def primary(text: str, on_click: Callable[..., Any], icon: Any = None, **more: Any) -> ft.Control:
    """The one thing to do next."""
    style = _style(ft.Colors.PRIMARY, ft.Colors.ON_PRIMARY, None)
    return ft.FilledButton(text, icon=icon, on_click=on_click, style=style, **more)


def secondary(text: str, on_click: Callable[..., Any], icon: Any = None, **more: Any) -> ft.Control:
    """Something else that can be done."""
    style = _style(None, ft.Colors.PRIMARY, ft.Colors.PRIMARY)
    return ft.OutlinedButton(text, icon=icon, on_click=on_click, style=style, **more)


def plain(text: str, on_click: Callable[..., Any], icon: Any = None, **more: Any) -> ft.Control:
    """A link-like button."""
    style = _style(None, ft.Colors.PRIMARY, None, padding=8)
    return ft.TextButton(text, icon=icon, on_click=on_click, style=style, **more)


def choice(text: str, chosen: bool, on_click: Callable[..., Any], **more: Any) -> ft.Control:
    """One of a few that exclude each other; the chosen one is filled and said to be chosen."""
    return ft.Semantics(
        button=True,
        selected=chosen,
        label=text,
        exclude_semantics=True,
        on_tap=on_click,
        content=ft.Container(
            content=ft.Text(
                text,
                size=LABEL,
                weight=ft.FontWeight.BOLD if chosen else ft.FontWeight.NORMAL,
                color=ft.Colors.ON_PRIMARY if chosen else ft.Colors.ON_SURFACE,
            ),
            padding=ft.Padding.symmetric(horizontal=14, vertical=15),
            bgcolor=ft.Colors.PRIMARY if chosen else ft.Colors.SURFACE_CONTAINER,
            border=ft.Border.all(1.5, ft.Colors.PRIMARY if chosen else ft.Colors.OUTLINE),
            border_radius=8,
            on_click=on_click,
        ),
        **more,
    )


def choices(pairs: tuple[tuple[str, str], ...], chosen: str, pick: Callable[[str], Any]) -> ft.Control:
    """A row of `choice`, wrapping on a narrow screen. pairs: (key, text)."""

    def one(key: str, text: str) -> ft.Control:
        return choice(text, key == chosen, lambda _: pick(key), key=key)

    return ft.Row([one(key, text) for key, text in pairs], wrap=True, spacing=8, run_spacing=8)


def remark(text: str, serious: bool = False) -> ft.Control:
    """A warning (clay) or what is wrong (red), with a mark, never by colour alone."""
    colour = ft.Colors.ERROR if serious else ft.Colors.TERTIARY
    return ft.Row(
        [
            ft.Container(ft.Text("!", size=LABEL, weight=ft.FontWeight.BOLD, color=colour), width=10),
            ft.Text(text, size=LABEL, color=colour, expand=True),
        ],
        spacing=6,
        vertical_alignment=ft.CrossAxisAlignment.START,
    )


def rule() -> ft.Control:
    """A thin line across."""
    return ft.Container(height=1, bgcolor=ft.Colors.OUTLINE_VARIANT)
