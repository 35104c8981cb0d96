"""The pieces that number fields, lists and rows are made of: unit switch, sign, numbered badge, bare box."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import flet as ft

from logic.field import Field, Form
from logic.typed import PACES, shown, to_store
from logic.units import shown_unit
from mobile_app.parts import look
from mobile_app.parts.box import Shelf, text_box
from mobile_app.parts.hands import Hands

BOX = 60  # height of a text box
BADGE = 48


def signed(item: Field) -> bool:
    """True for a number that may be negative: a phone's number keys have no minus."""
    return item.kind in ("number", "list") and item.above is None and (item.least is None or item.least < 0)


def flipped(text: str) -> str:
    """The number with its sign changed, as text."""
    bare = text.strip()
    return bare[1:].lstrip() if bare[:1] in ("-", "−") else f"-{bare}"


def small_button(
    said: str, label: str, on_click: Callable[[], None], chosen: bool | None = None, width: int | None = None
) -> ft.Control:
    """A button beside a box, as high as it. said: what is written on it; label: what is read out."""
    on = bool(chosen)
    return ft.Semantics(
        button=True,
        selected=chosen,
        label=label,
        exclude_semantics=True,
        on_tap=lambda _: on_click(),
        content=ft.Container(
            ft.Text(
                said,
                size=look.LABEL,
                weight=ft.FontWeight.BOLD if on or chosen is None else ft.FontWeight.NORMAL,
                color=ft.Colors.ON_PRIMARY if on else ft.Colors.ON_SURFACE,
            ),
            height=BOX,
            width=width,
            padding=ft.Padding.symmetric(horizontal=11),
            alignment=ft.Alignment.CENTER,
            bgcolor=ft.Colors.PRIMARY if on else ft.Colors.SURFACE_CONTAINER_HIGH,
            border_radius=8,
            on_click=lambda _: on_click(),
        ),
    )


def unit_switch(item: Field, unit: str, system: str, pick: Callable[[str], None], of: str = "") -> ft.Control:
    """Tape or paces. unit: the one in use, "" while entries differ. of: whose switch, for reading out."""
    own, label = shown_unit(item.unit, system)
    told = f" for the {of}" if of else ""
    return ft.Row(
        [
            small_button(label, f"in {label}{told}", lambda: pick(own), unit == own, 48),
            small_button(PACES, f"in paces{told}", lambda: pick(PACES), unit == PACES),
        ],
        spacing=4,
        tight=True,
    )


def sign_button(name: str, text: str, put: Callable[[str], None], said: str = "±") -> ft.Control:
    """Changes the sign of what stands in a box."""
    width = 48 if len(said) == 1 else None
    return small_button(said, f"Other sign for {name}", lambda: put(flipped(text)), width=width)


def badge(place: int, name: str, is_open: bool, on_click: Callable[[], None]) -> ft.Control:
    """The number of an entry. A tap opens what can be done with the entry."""
    return ft.Semantics(
        button=True,
        expanded=is_open,
        label=f"{name}: insert or take out",
        exclude_semantics=True,
        on_tap=lambda _: on_click(),
        content=ft.Container(
            ft.Row(
                [
                    ft.Text(
                        str(place),
                        size=look.BODY,
                        weight=ft.FontWeight.BOLD,
                        color=ft.Colors.ON_SURFACE_VARIANT,
                    ),
                    ft.Icon(ft.Icons.MORE_VERT, size=18, color=ft.Colors.ON_SURFACE_VARIANT),
                ],
                spacing=0,
                alignment=ft.MainAxisAlignment.CENTER,
            ),
            width=BADGE,
            height=BOX,
            alignment=ft.Alignment.CENTER,
            bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH if is_open else None,
            border_radius=8,
            on_click=lambda _: on_click(),
        ),
    )


def plain_badge(text: str, wide: int = BADGE) -> ft.Control:
    """The number or name of an entry that can't be taken out."""
    return ft.Container(
        ft.Text(text, size=look.LABEL, weight=ft.FontWeight.BOLD, color=ft.Colors.ON_SURFACE_VARIANT),
        width=wide,
        height=BOX,
        alignment=ft.Alignment.CENTER,
    )


def entry_tools(name: str, insert: Callable[[], None], take_out: Callable[[], None]) -> ft.Control:
    """What can be done with an entry in the middle of others."""
    return ft.Container(
        ft.Row(
            [
                look.plain("Insert one before", lambda _: insert(), ft.Icons.ADD),
                look.plain(
                    f"Take out {name[:1].lower()}{name[1:]}", lambda _: take_out(), ft.Icons.DELETE_OUTLINE
                ),
            ],
            wrap=True,
            spacing=4,
            run_spacing=0,
        ),
        bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH,
        border_radius=8,
    )


def cell_box(
    item: Field,
    name: str,
    stored: Any,
    unit: str,
    path: str,
    hands: Hands,
    bare: bool = True,
    on_enter: Callable[[], None] | None = None,
    shelf: tuple[Shelf, int] | None = None,
    letters: bool = False,
) -> ft.Control:
    """The box of one number among others. unit: what a fresh number is in. name: what is read out."""
    seen = shown(item, str(stored or ""), hands.system)
    fresh = unit if not seen.text and unit else seen.unit
    keyboard = ft.KeyboardType.TEXT if letters else ft.KeyboardType.NUMBER

    def typed(text: str) -> None:
        hands.change(path, to_store(item, text, fresh) if text.strip() else "")

    odd_unit = seen.label if seen.text and seen.unit != unit and item.unit else ""
    return text_box(
        name if bare else item.label,
        seen.text if item.kind != "bearing" else str(stored or ""),
        typed if item.kind != "bearing" else lambda text: hands.change(path, text),
        odd_unit,
        keyboard,
        key=f"cell-{path}",
        bare=bare,
        on_enter=on_enter,
        shelf=shelf,
        spoken=name,
    )


def unit_of_all(item: Field, entries: list[Any], preferred: str, system: str) -> str:
    """The unit that all filled entries are in, "" when they differ; `preferred` when there are none."""
    units = {shown(item, str(entry), system).unit for entry in entries if str(entry).strip()}
    if not units:
        return preferred
    return units.pop() if len(units) == 1 else ""


def in_other_unit(item: Field, stored: Any, unit: str, system: str) -> Any:
    """An entry with its number kept and its unit changed; blank stays blank."""
    text = shown(item, str(stored or ""), system).text
    return to_store(item, text, unit) if text else ""


def own_problem(item: Field, name: str, stored: Any, hands: Hands) -> str:
    """What is wrong with one entry by itself, "" when nothing is or it is blank."""
    if not str(stored or "").strip():
        return ""
    kind = "number" if item.kind == "list" else item.kind
    alone = replace(item, kind=kind, label=name)
    return Form((alone,)).read({item.key: stored}, hands.pace).problems.get(item.key, "")


def unfinished(sentence: str) -> bool:
    """True for a sentence that only says that something is still to come: no fault while one types."""
    return any(part in sentence for part in ("Fill in", "Give at least", "Nothing is filled in"))


def remarks(problem: str, warning: str) -> list[ft.Control]:
    """What is wrong or odd, below a field; quietly while it is only unfinished."""
    if problem:
        return [look.quiet(problem) if unfinished(problem) else look.remark(problem, serious=True)]
    return [look.remark(warning)] if warning else []
