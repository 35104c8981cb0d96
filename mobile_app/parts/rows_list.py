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

    def number(place: int) -> ft.Control:
        if fixed:
            return cells.plain_badge(item.entry_name(place + 1), 96)
        if place >= len(entries):
            return cells.plain_badge(str(place + 1))
        is_open = tools_at == place
        toggle = partial(set_tools, -1 if is_open else place)
        return cells.badge(place + 1, item.entry_name(place + 1), is_open, toggle)

    drawn: list[ft.Control] = []
    explained = False
    for place in range(count):
        text = entries[place] if place < len(entries) else ""
        drawn.append(_entry(item, place, text, in_use, number(place), boxes, hands))
        said = cells.own_problem(item, item.entry_name(place + 1), text, hands) if problem else ""
        explained = explained or bool(said)
        below = [look.remark(said, serious=True)] if said else []
        if tools_at == place and place < len(entries):
            name = item.entry_name(place + 1)
            below.append(cells.entry_tools(name, partial(insert, place), partial(take_out, place)))
        drawn += [ft.Container(control, col=12) for control in below]
    return look.stack(
        _head(item, in_use, hands, switch),
        *([look.quiet(item.help)] if item.help else []),
        ft.ResponsiveRow(drawn, spacing=6, run_spacing=8),
        *([] if fixed or in_use != PACES else _counting(item, len(entries), hands)),
        *cells.remarks("" if explained else problem, warning),
        spacing=8,
    )


def _entry(
    item: Field, place: int, text: str, unit: str, number: ft.Control, boxes: Shelf, hands: Hands
) -> ft.Control:
    name, path = item.entry_name(place + 1), f"{item.key}.{place}"
    box = cells.cell_box(
        item, name, text, unit, path, hands, on_enter=lambda: go_to(boxes, place + 1), shelf=(boxes, place)
    )
    row: list[ft.Control] = [number, box]
    if cells.signed(item):
        row.append(cells.sign_button(name, text, lambda flipped: hands.change(path, flipped)))
    wide = cells.signed(item) or item.fewest == item.most_entries
    return ft.Container(ft.Row(row, spacing=2), key=f"{item.key}-{place}", col=12 if wide else 6)


def _counting(item: Field, filled: int, hands: Hands) -> list[ft.Control]:
    """A button that counts the next entry."""
    count = hands.count
    if count is None or filled >= item.most_entries:
        return []
    name = item.entry_name(filled + 1)
    said = f"Count {name[:1].lower()}{name[1:]}"
    return [look.secondary(said, lambda _: count(f"{item.key}.{filled}"), ft.Icons.TOUCH_APP)]


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
