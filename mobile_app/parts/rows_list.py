"""A list of numbers: two to a row, one unit for all of them, one more always at hand."""

from __future__ import annotations

from functools import partial
from typing import Any

import flet as ft
from flet.components.hooks.use_ref import MutableRef

from logic.field import Field
from logic.typed import PACES
from logic.units import shown_unit
from mobile_app.parts import cells, look
from mobile_app.parts.box import Shelf, go_to
from mobile_app.parts.hands import Hands


def list_view(item: Field, stored: Any, problem: str, warning: str, hands: Hands) -> ft.Control:
    """The list with its heading, its entries and what is wrong with them."""
    return look.keyed(f"list-{item.key}", Entries, item, stored, problem, warning, hands)


@ft.component
def Entries(item: Field, stored: Any, problem: str, warning: str, hands: Hands) -> ft.Control:
    """Enter goes on to the next entry; the number before an entry opens what can be done with it."""
    own = shown_unit(item.unit, hands.system)[0]
    entries = [str(entry) for entry in stored] if isinstance(stored, list | tuple) else []
    fixed = item.fewest == item.most_entries
    unit, set_unit = ft.use_state(cells.unit_of_all(item, entries, own, hands.system) or own)
    tools_at, set_tools = ft.use_state(-1)
    shelf: MutableRef[Shelf] = ft.use_ref(lambda: Shelf())
    boxes = shelf.current if shelf.current is not None else {}
    in_use = cells.unit_of_all(item, entries, unit, hands.system)
    count = item.fewest if fixed else min(len(entries) + 1, item.most_entries)

    def switch(to: str) -> None:
        set_unit(to)
        if any(entries):
            hands.change(item.key, [cells.in_other_unit(item, e, to, hands.system) for e in entries])

    def insert(place: int) -> None:
        set_tools(-1)
        hands.change(item.key, [*entries[:place], "", *entries[place:]])

    def take_out(place: int) -> None:
        set_tools(-1)
        name = item.entry_name(place + 1)
        rest = [*entries[:place], *entries[place + 1 :]]
        hands.discard(item.key, rest, f"take out {name[:1].lower()}{name[1:]}")

    def entry(place: int) -> ft.Control:
        name, path = item.entry_name(place + 1), f"{item.key}.{place}"
        text = entries[place] if place < len(entries) else ""
        box = cells.cell_box(
            item,
            name,
            text,
            in_use,
            path,
            hands,
            on_enter=lambda: go_to(boxes, place + 1),
            shelf=(boxes, place),
        )
        row: list[ft.Control]
        if fixed:
            row = [cells.plain_badge(name, 72), box]
        elif place == len(entries):
            row = [cells.plain_badge(str(place + 1)), box]
        else:
            is_open = tools_at == place
            row = [cells.badge(place + 1, name, is_open, lambda: set_tools(-1 if is_open else place)), box]
        if cells.signed(item):
            row.append(cells.sign_button(name, text, lambda flipped: hands.change(path, flipped)))
        return ft.Container(
            ft.Row(row, spacing=2), key=f"{item.key}-{place}", col=12 if fixed or cells.signed(item) else 6
        )

    drawn: list[ft.Control] = []
    explained = False
    for place in range(count):
        drawn.append(entry(place))
        if place < len(entries) and problem:
            said = cells.own_problem(item, item.entry_name(place + 1), entries[place], hands)
            if said:
                explained = True
                drawn.append(ft.Container(look.remark(said, serious=True), col=12))
        if tools_at == place and place < len(entries):
            name = item.entry_name(place + 1)
            tools = cells.entry_tools(name, partial(insert, place), partial(take_out, place))
            drawn.append(ft.Container(tools, col=12))
    grid = ft.ResponsiveRow(drawn, spacing=6, run_spacing=8)
    lines: list[ft.Control] = [_head(item, in_use, hands, switch)]
    if item.help:
        lines.append(look.quiet(item.help))
    lines.append(grid)
    if in_use == PACES and hands.count and not fixed and len(entries) < item.most_entries:
        tap_count, path, name = hands.count, f"{item.key}.{len(entries)}", item.entry_name(len(entries) + 1)
        said = f"Count {name[:1].lower()}{name[1:]}"
        lines.append(look.secondary(said, lambda _: tap_count(path), ft.Icons.TOUCH_APP))
    lines += cells.remarks(problem if not explained else "", warning)
    return look.stack(*lines, spacing=8)


def _head(item: Field, unit: str, hands: Hands, switch: Any) -> ft.Control:
    label = shown_unit(item.unit, hands.system)[1] if item.unit and not item.paces else ""
    name = ft.Text(
        f"{item.label}, {label}" if label else item.label,
        size=look.LABEL,
        weight=ft.FontWeight.BOLD,
        expand=True,
    )
    if not item.paces:
        return ft.Row([name])
    return ft.Row([name, cells.unit_switch(item, unit, hands.system, switch, item.name())], spacing=8)
