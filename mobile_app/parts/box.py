"""The box that people type into. What is typed is never overwritten by an echo of it that comes late.

A fresh drawing of a text field is compared with the old one, and a value that differs is sent to the phone.
While someone types, the value drawn is a keystroke old, so sending it would swallow the last letter. The
field is therefore kept as it is until its value changes from elsewhere, or it is left (then it is tidied).
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import flet as ft
from flet.components.hooks.use_ref import MutableRef

from mobile_app.parts import look


@dataclass
class _Kept:
    """What a box remembers between drawings."""

    control: ft.TextField | None = None
    looks: tuple[Any, ...] = ()
    value: str = ""
    typed: str = ""
    echo: bool = False
    keys: int = 0
    left: bool = False
    on_change: Callable[[str], None] = field(default=lambda text: None)
    on_enter: Callable[[], None] = field(default=lambda: None)


_BARE = {
    "text_align": ft.TextAlign.RIGHT,
    "content_padding": ft.Padding.symmetric(horizontal=9, vertical=16),
    "dense": True,
}

_TRIES = 20  # that one makes to reach a box that is being drawn

#: Where a box puts itself so that another can send the person on to it: place → field.
Shelf = dict[int, ft.TextField]


def go_to(shelf: Shelf, place: int) -> None:
    """Send the person on to the box with that number, as soon as it has been drawn."""
    page = ft.context.page
    page.run_task(_go_to, page, shelf, place)


async def _go_to(page: ft.Page, shelf: Shelf, place: int) -> None:
    for _ in range(_TRIES):
        await asyncio.sleep(
            0.05
        )  # a field that has just been made is not on the screen yet, and hears nothing
        field = shelf.get(place)
        try:
            if field is not None:
                # Not field.focus(): a field that is kept between drawings does not know the page it is on.
                await page.session.invoke_method(field._i, "focus", None, timeout=0.6)
                return
        except (TimeoutError, RuntimeError):
            continue


def text_box(
    label: str,
    value: str,
    on_change: Callable[[str], None],
    suffix: str = "",
    keyboard: ft.KeyboardType = ft.KeyboardType.TEXT,
    hint: str = "",
    key: str = "",
    bare: bool = False,
    on_enter: Callable[[], None] | None = None,
    shelf: tuple[Shelf, int] | None = None,
    spoken: str = "",
    **more: Any,
) -> ft.Control:
    """A labelled box that takes the room left in a Row. The label stands above it and is read out with it.

    bare: the label is only read out, and the box is narrow. on_enter: what Enter does. shelf: where the box
    puts itself, and under which number. spoken: what is read out instead of the label. more: goes to the
    TextField.
    """
    name = key or f"box-{label}"
    box = look.keyed(
        name,
        TextBox,
        label,
        value,
        on_change,
        suffix,
        keyboard,
        hint,
        more,
        bare,
        on_enter,
        shelf,
        spoken or (label if bare else ""),
    )
    return ft.Container(box, expand=True, key=f"room-{name}")


@ft.component
def TextBox(
    label: str,
    value: str,
    on_change: Callable[[str], None],
    suffix: str,
    keyboard: ft.KeyboardType,
    hint: str,
    more: dict[str, Any],
    bare: bool = False,
    on_enter: Callable[[], None] | None = None,
    shelf: tuple[Shelf, int] | None = None,
    spoken: str = "",
) -> ft.Control:
    """The box itself, with its memory."""
    memory: MutableRef[_Kept] = ft.use_ref(lambda: _Kept())
    _, draw_again = ft.use_state(0)
    kept = memory.current or _Kept()
    kept.on_change = on_change
    kept.on_enter = on_enter or (lambda: None)

    def typed(event: Any) -> None:
        kept.typed, kept.echo, kept.left = event.control.value or "", True, False
        kept.keys += 1
        kept.on_change(kept.typed)
        asyncio.get_running_loop().call_soon(drawn, kept.keys)

    def drawn(keys: int) -> None:
        """By now the echo of that key has been drawn, or it changed nothing that is drawn."""
        if keys == kept.keys:
            kept.echo = False

    def left(_: Any) -> None:
        kept.left = kept.typed != kept.value
        if kept.left and not kept.echo:  # else what was typed is about to be drawn, and is tidied then
            draw_again(lambda n: n + 1)

    looks = (suffix, keyboard, hint)
    from_elsewhere = value != kept.value and not kept.echo
    if kept.control is None or from_elsewhere or kept.left or looks != kept.looks:
        # A new unit or hint while someone types keeps what stands in the box.
        text = kept.typed if kept.echo and not kept.left else value
        more = {"on_submit": lambda _: kept.on_enter(), **more} if on_enter else more
        kept.control = _field(text, typed, left, suffix, keyboard, hint, {**(_BARE if bare else {}), **more})
        kept.typed, kept.left, kept.looks = text, False, looks
    kept.value, kept.echo = value, False
    if shelf:
        shelf[0][shelf[1]] = kept.control
    name: ft.Control = ft.Text(label, size=look.LABEL, weight=ft.FontWeight.BOLD)
    box: ft.Control = kept.control
    if spoken:
        box = ft.Semantics(label=spoken, content=box)
        name = ft.Semantics(content=name, exclude_semantics=True)
    return ft.MergeSemantics(content=box if bare else look.stack(name, box, spacing=4))


def _field(
    text: str,
    on_change: Callable[[Any], None],
    on_blur: Callable[[Any], None],
    suffix: str,
    keyboard: ft.KeyboardType,
    hint: str,
    more: dict[str, Any],
) -> ft.TextField:
    return ft.TextField(
        value=text,
        on_change=on_change,
        on_blur=on_blur,
        keyboard_type=keyboard,
        hint_text=hint or None,
        hint_style=ft.TextStyle(color=ft.Colors.ON_SURFACE_VARIANT, size=look.BODY),
        suffix=ft.Text(suffix, size=look.BODY) if suffix else None,
        text_size=20,
        border_color=ft.Colors.OUTLINE,
        border_width=1.5,
        focused_border_color=ft.Colors.PRIMARY,
        focused_border_width=3,
        border_radius=8,
        bgcolor=ft.Colors.SURFACE_CONTAINER,
        filled=True,
        fill_color=ft.Colors.SURFACE_CONTAINER,
        hover_color=ft.Colors.TRANSPARENT,
        focus_color=ft.Colors.TRANSPARENT,
        autocorrect=False,
        enable_suggestions=False,
        **({"content_padding": ft.Padding.symmetric(horizontal=14, vertical=16)} | more),
    )
