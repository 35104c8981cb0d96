"""A year as a strip of twelve boxes: good months full, possible ones half, poor ones empty."""

from __future__ import annotations

import flet as ft

from logic.programme.conflicts import MONTH_NAMES
from logic.programme.season import GOOD, POSSIBLE, Month, Strip
from mobile_app.parts import look

_WORDS = {GOOD: "good", POSSIBLE: "possible"}
_HEIGHT = 46


def year_strip(found: Strip, month: int | None) -> ft.Control:
    """The strip with the month of the work ringed; filling and height say the state, not colour alone."""
    said = [f"{MONTH_NAMES[m.number - 1]} {_WORDS[m.state]}" for m in found.months if m.state in _WORDS]
    now = found.months[month - 1] if month else None
    boxes: list[ft.Control] = [_box(one, one is now) for one in found.months]
    lines: list[ft.Control] = [
        ft.Semantics(
            image=True,
            label=f"The year: {', '.join(said) or 'no month suits it'}",
            exclude_semantics=True,
            content=ft.Row(boxes, spacing=2),
        )
    ]
    if now:
        lines.append(look.quiet(f"{MONTH_NAMES[now.number - 1]}: {now.sentence}"))
    return look.stack(*lines, spacing=6)


def _box(one: Month, ringed: bool) -> ft.Control:
    high = {GOOD: _HEIGHT - 22, POSSIBLE: (_HEIGHT - 22) // 2}.get(one.state, 2)
    bar = ft.Container(
        height=high, bgcolor=ft.Colors.PRIMARY if one.state == GOOD else ft.Colors.OUTLINE, border_radius=2
    )
    letter = ft.Text(
        MONTH_NAMES[one.number - 1][0],
        size=14,
        weight=ft.FontWeight.BOLD if ringed else ft.FontWeight.NORMAL,
        color=ft.Colors.ON_SURFACE if ringed else ft.Colors.ON_SURFACE_VARIANT,
        text_align=ft.TextAlign.CENTER,
        no_wrap=True,
    )
    column = ft.Column(
        [ft.Container(bar, height=_HEIGHT - 22, alignment=ft.Alignment.BOTTOM_CENTER), letter],
        spacing=0,
        tight=True,
        horizontal_alignment=ft.CrossAxisAlignment.STRETCH,
    )
    return ft.Container(
        column,
        expand=True,
        padding=ft.Padding.symmetric(horizontal=1, vertical=2),
        border=ft.Border.all(2, ft.Colors.TERTIARY if ringed else ft.Colors.TRANSPARENT),
        border_radius=5,
    )


def key_to_strip() -> ft.Control:
    """What the strip's boxes mean."""

    def sign(high: int, colour: str, name: str) -> ft.Control:
        bar = ft.Container(width=16, height=high, bgcolor=colour, border_radius=2)
        return ft.Row(
            [ft.Container(bar, height=24, alignment=ft.Alignment.BOTTOM_CENTER), look.quiet(name)],
            spacing=6,
            tight=True,
        )

    return ft.Row(
        [
            sign(24, ft.Colors.PRIMARY, "good"),
            sign(12, ft.Colors.OUTLINE, "possible"),
            sign(2, ft.Colors.OUTLINE, "not now"),
        ],
        wrap=True,
        spacing=16,
        run_spacing=4,
    )
