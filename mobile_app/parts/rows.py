"""A list of small forms: a table of two numbers a row where they fit, else numbered cards."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

import flet as ft
from flet.components.hooks.use_ref import MutableRef

from logic.field import Field, Form, is_empty
from logic.typed import PACES
from logic.units import shown_unit
from mobile_app.parts import cells, look
from mobile_app.parts.box import Shelf, go_to
from mobile_app.parts.hands import Hands

_NUMBERS = ("number", "bearing")
Rows = list[Mapping[str, Any]]


def rows_view(item: Field, stored: Any, problem: str, warning: str, hands: Hands) -> ft.Control:
    """The rows with their heading and what is wrong with them."""
    if any(cell.kind == "outline" for cell in item.row):
        from mobile_app.parts.parts_editor import Parts  # which draws forms itself

        return look.keyed(f"parts-{item.key}", Parts, item, rows_of(item, stored), problem, warning, hands)
    return look.keyed(f"rows-{item.key}", RowTable, item, rows_of(item, stored), problem, warning, hands)


def rows_of(item: Field, stored: Any) -> Rows:
    """The rows as mappings; a job file may give them as plain lists."""
    keys = Form(item.row).keys()
    if not isinstance(stored, list | tuple):
        return []
    return [row if isinstance(row, Mapping) else dict(zip(keys, row, strict=False)) for row in stored]


@ft.component
def RowTable(item: Field, rows: Rows, problem: str, warning: str, hands: Hands) -> ft.Control:
    """The rows, with one more always at hand. The number before a row opens what can be done with it."""
    table = len(item.row) <= 2 and all(cell.kind in _NUMBERS for cell in item.row)
    tools_at, set_tools = ft.use_state(-1)
    paced, set_paced = ft.use_state(_paced_cells(item, rows, hands.system))
    letters, set_letters = ft.use_state(_has_letters(item, rows))
    shelf: MutableRef[Shelf] = ft.use_ref(lambda: Shelf())
    boxes = shelf.current if shelf.current is not None else {}
    count = min(len(rows) + 1, item.most_entries)
    units = {
        cell.key: cells.unit_of_all(
            cell,
            [row.get(cell.key, "") for row in rows],
            PACES if cell.key in paced else shown_unit(cell.unit, hands.system)[0],
            hands.system,
        )
        for cell in item.row
        if cell.kind in _NUMBERS
    }

    def switch(cell: Field, to: str) -> None:
        set_paced(paced | {cell.key} if to == PACES else paced - {cell.key})
        if rows:
            changed = [
                {**row, cell.key: cells.in_other_unit(cell, row.get(cell.key), to, hands.system)}
                for row in rows
            ]
            hands.change(item.key, changed)

    def insert(place: int) -> None:
        set_tools(-1)
        hands.change(item.key, [*rows[:place], {}, *rows[place:]])

    def take_out(place: int) -> None:
        set_tools(-1)
        name = item.entry_name(place + 1)
        rest = [*rows[:place], *rows[place + 1 :]]
        hands.discard(item.key, rest, f"take out {name[:1].lower()}{name[1:]}")

    def box(place: int, column: int, bare: bool) -> ft.Control:
        cell = item.row[column]
        row = rows[place] if place < len(rows) else {}
        name = f"{item.entry_name(place + 1)}, {cell.name()}"
        number = place * len(item.row) + column
        return cells.cell_box(
            cell,
            name,
            row.get(cell.key, ""),
            units[cell.key],
            f"{item.key}.{place}.{cell.key}",
            hands,
            bare,
            on_enter=lambda: go_to(boxes, number + 1),
            shelf=(boxes, number),
            letters=letters and cell.kind == "bearing",
        )

    def number_of(place: int) -> ft.Control:
        if place >= len(rows):
            return cells.plain_badge(str(place + 1))
        is_open = tools_at == place
        toggle = lambda: set_tools(-1 if is_open else place)  # noqa: E731
        return cells.badge(place + 1, item.entry_name(place + 1), is_open, toggle)

    def below(place: int) -> list[ft.Control]:
        drawn: list[ft.Control] = []
        if place < len(rows) and problem:
            drawn += [
                look.remark(said, serious=True) for said in _own_problems(item, place, rows[place], hands)
            ]
        if tools_at == place and place < len(rows):
            drawn.append(
                cells.entry_tools(item.entry_name(place + 1), lambda: insert(place), lambda: take_out(place))
            )
        return drawn

    drawn: list[ft.Control] = []
    explained = False
    for place in range(count):
        more = below(place)
        explained = explained or (bool(more) and tools_at != place)
        line: ft.Control
        if table:
            line = ft.Row(
                [
                    number_of(place),
                    *(
                        _signed(item, c, place, rows, box(place, c, True), hands)
                        for c in range(len(item.row))
                    ),
                ],
                spacing=4,
            )
        else:
            line = _card(item, place, rows, number_of(place), box, hands)
        drawn.append(ft.Container(look.stack(line, *more, spacing=4), key=f"{item.key}-{place}"))
    lines: list[ft.Control] = [ft.Text(item.label, size=look.LABEL, weight=ft.FontWeight.BOLD)]
    if item.help:
        lines.append(look.quiet(item.help))
    lines += _switches(item, units, letters, switch, set_letters, hands)
    if table:
        lines.append(_columns(item, units, hands.system))
    lines += [look.stack(*drawn, spacing=6 if table else 14)]
    lines += _counting(item, rows, units, hands)
    lines += cells.remarks("" if explained else problem, warning)
    return look.stack(*lines, spacing=8)


def _paced_cells(item: Field, rows: Rows, system: str) -> frozenset[str]:
    return frozenset(
        cell.key
        for cell in item.row
        if cell.paces
        and cells.unit_of_all(cell, [row.get(cell.key, "") for row in rows], "", system) == PACES
    )


def _has_letters(item: Field, rows: Rows) -> bool:
    bearings = [str(row.get(c.key, "")) for c in item.row if c.kind == "bearing" for row in rows]
    return any(letter in text.upper() for text in bearings for letter in "NESW")


def _own_problems(item: Field, place: int, row: Mapping[str, Any], hands: Hands) -> list[str]:
    """What is wrong in the filled cells of one row."""
    found = Form(item.row).read(row, hands.pace).problems
    name = item.entry_name(place + 1)
    return [f"{name}: {said}" for key, said in found.items() if not is_empty(row.get(key))]


def _signed(item: Field, column: int, place: int, rows: Rows, box: ft.Control, hands: Hands) -> ft.Control:
    """A cell; one that may be negative has a button for its sign when it is the last of its row."""
    cell = item.row[column]
    if not cells.signed(cell) or column < len(item.row) - 1:
        return box
    text = str((rows[place] if place < len(rows) else {}).get(cell.key, ""))
    path = f"{item.key}.{place}.{cell.key}"
    sign = cells.sign_button(
        f"{item.entry_name(place + 1)}, {cell.name()}", text, lambda t: hands.change(path, t)
    )
    return ft.Row([box, sign], spacing=2, expand=True)


def _card(item: Field, place: int, rows: Rows, number: ft.Control, box: Any, hands: Hands) -> ft.Control:
    row = rows[place] if place < len(rows) else {}
    inner = hands.under(f"{item.key}.{place}")
    pieces: list[ft.Control] = []
    for column, cell in enumerate(item.row):
        if cell.kind in _NUMBERS:
            pieces.append(ft.Container(ft.Row([box(place, column, False)]), col=6))
        else:
            drawn = hands.draw(cell, row.get(cell.key, ""), "", "", inner)
            pieces.append(ft.Container(drawn, col=12))
    name = ft.Text(item.entry_name(place + 1), size=look.BODY, weight=ft.FontWeight.BOLD)
    return ft.Container(
        look.stack(
            ft.Row([number, name], spacing=4), ft.ResponsiveRow(pieces, spacing=8, run_spacing=10), spacing=4
        ),
        border=ft.Border.only(left=ft.BorderSide(3, ft.Colors.OUTLINE_VARIANT)),
        padding=ft.Padding.only(left=8),
    )


def _switches(
    item: Field, units: Mapping[str, str], letters: bool, switch: Any, set_letters: Any, hands: Hands
) -> list[ft.Control]:
    lines: list[ft.Control] = []
    for cell in item.row:
        control: ft.Control | None = None
        if cell.paces:
            control = cells.unit_switch(
                cell, units[cell.key], hands.system, partial(switch, cell), cell.name()
            )
        elif cell.kind == "bearing":
            control = ft.Row(
                [
                    cells.small_button("26°", "Bearings in degrees", lambda: set_letters(False), not letters),
                    cells.small_button("N26E", "Bearings with letters", lambda: set_letters(True), letters),
                ],
                spacing=4,
                tight=True,
            )
        if control:
            lines.append(ft.Row([look.quiet(cell.label, expand=True), control], spacing=8))
    return lines


def _columns(item: Field, units: Mapping[str, str], system: str) -> ft.Control:
    """The names of the columns, above the table."""

    def name(cell: Field) -> ft.Control:
        unit = units[cell.key]
        label = unit if unit == PACES else shown_unit(cell.unit, system)[1]
        return ft.Text(
            f"{cell.label}, {label}" if label and unit else cell.label,
            size=look.LABEL,
            color=ft.Colors.ON_SURFACE_VARIANT,
            expand=True,
            text_align=ft.TextAlign.RIGHT,
        )

    sign = [ft.Container(width=48)] if cells.signed(item.row[-1]) else []
    return ft.Row([ft.Container(width=cells.BADGE), *(name(cell) for cell in item.row), *sign], spacing=4)


def _counting(item: Field, rows: Rows, units: Mapping[str, str], hands: Hands) -> list[ft.Control]:
    """A button that counts the next reading that is in paces and still blank."""
    if hands.count is None or len(rows) >= item.most_entries:
        return []
    count = hands.count
    for place in range(len(rows) + 1):
        row = rows[place] if place < len(rows) else {}
        for cell in item.row:
            if units.get(cell.key) == PACES and is_empty(row.get(cell.key)):
                name = item.entry_name(place + 1)
                path = f"{item.key}.{place}.{cell.key}"
                said = f"Count {name[:1].lower()}{name[1:]}, {cell.name()}"
                return [look.secondary(said, partial(_count, count, path), ft.Icons.TOUCH_APP)]
    return []


def _count(count: Callable[[str], None], path: str, _: Any) -> None:
    count(path)
