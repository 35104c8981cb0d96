"""Which shape it is: the one in use, and the list to choose from, each with its drawing."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import flet as ft

from logic.field import Field
from logic.measure.methods import methods
from logic.measure.outline import Method
from mobile_app.parts import look
from mobile_app.parts.glyphs import glyph

_GROUPS: Mapping[str, str] = {"tape": "Regular shapes", "irregular": "Any shape"}
#: Never offered: measuring a second time is asked for after the first.
_NOT_OFFERED = ("twice",)


@ft.component
def ShapeHead(method: str, is_open: bool, set_open: Callable[[bool], None]) -> ft.Control:
    """The shape in use with its drawing, and the way to the others."""
    known = methods()
    chosen = known.get(method) or next(iter(known.values()))
    name = ft.Column(
        [look.quiet("Measured as"), ft.Text(chosen.name, size=look.TITLE, weight=ft.FontWeight.BOLD)],
        spacing=0,
        tight=True,
        expand=True,
    )
    change = look.secondary("Close the list" if is_open else "Change shape", lambda _: set_open(not is_open))
    lines: list[ft.Control] = [ft.Row([glyph(chosen.key, 60), name], spacing=12)]
    if not is_open:
        lines.append(look.quiet(chosen.help))
    return look.stack(*lines, ft.Row([change]), spacing=8)


def shape_list(method: str, take: Callable[[str], None], exclude: tuple[str, ...] = ()) -> ft.Control:
    """All shapes to choose from, in two groups."""
    lines: list[ft.Control] = []
    for group, heading in _GROUPS.items():
        members = [
            m for m in methods().values() if m.group == group and m.key not in (*exclude, *_NOT_OFFERED)
        ]
        if members:
            lines.append(look.title(heading, look.BODY))
            tiles = [_tile(m, m.key == method, take) for m in members]
            lines.append(ft.ResponsiveRow(tiles, spacing=8, run_spacing=8))
    return look.stack(*lines, spacing=10)


def _tile(method: Method, chosen: bool, take: Callable[[str], None]) -> ft.Control:
    """One shape: drawing, name, and what will be asked for."""

    def tapped(_: object) -> None:
        take(method.key)

    words = ft.Column(
        [
            ft.Text(method.name, size=look.BODY, weight=ft.FontWeight.BOLD),
            look.quiet(hint(method), max_lines=1, overflow=ft.TextOverflow.ELLIPSIS),
        ],
        spacing=0,
        tight=True,
        expand=True,
    )
    return ft.Semantics(
        key=method.key,
        button=True,
        selected=chosen,
        label=method.name,
        identifier=f"shape-{method.key}",
        exclude_semantics=True,
        on_tap=tapped,
        col={"xs": 12, "md": 6},
        content=ft.Container(
            ft.Row([glyph(method.key, 54), words], spacing=12),
            padding=ft.Padding.symmetric(horizontal=10, vertical=9),
            bgcolor=ft.Colors.SURFACE_CONTAINER,
            border=ft.Border.all(
                3 if chosen else 1, ft.Colors.PRIMARY if chosen else ft.Colors.OUTLINE_VARIANT
            ),
            border_radius=8,
            on_click=tapped,
        ),
    )


def hint(method: Method) -> str:
    """What a way of measuring asks for, in a few words: "length, width"."""
    form = method.form
    asked = form.asked(form.ways[0].key) if form.ways else form.fields
    names: list[str] = []
    for item in asked:
        if item.required and item.kind != "choice":
            names += _names(item)
    return ", ".join(names)[:1].upper() + ", ".join(names)[1:]


def _names(item: Field) -> list[str]:
    if any(cell.kind == "outline" for cell in item.row):
        return ["each in its own way"]
    return [cell.name() for cell in item.row] or [item.name()]
