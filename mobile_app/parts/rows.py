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
from mobile_app.parts.box import Shelf
from mobile_app.parts.hands import Hands
from mobile_app.parts.rows_lines import NUMBERS, Lines, Rows


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
    tools_at, set_tools = ft.use_state(-1)
    paced, set_paced = ft.use_state(_paced(item, rows, hands.system))
    letters, set_letters = ft.use_state(_has_letters(item, rows))
    shelf: MutableRef[Shelf] = ft.use_ref(lambda: Shelf())
    boxes = shelf.current if shelf.current is not None else {}
    lines = Lines(item, rows, _units(item, rows, paced, hands.system), letters, hands, boxes)

    def switch(cell: Field, to: str) -> None:
        set_paced(paced | {cell.key} if to == PACES else paced - {cell.key})
        if rows:
            hands.change(item.key, _in_unit(rows, cell, to, hands.system))

    def insert(place: int) -> None:
        set_tools(-1)
        hands.change(item.key, [*rows[:place], {}, *rows[place:]])

    def take_out(place: int) -> None:
        set_tools(-1)
        hands.discard(item.key, [*rows[:place], *rows[place + 1 :]], f"take out {_lower(item, place)}")

    def number(place: int) -> ft.Control:
        if place >= len(rows):
            return cells.plain_badge(str(place + 1))
        is_open = tools_at == place
        return cells.badge(
            place + 1, item.entry_name(place + 1), is_open, partial(set_tools, -1 if is_open else place)
        )

    def tools(place: int) -> list[ft.Control]:
        if tools_at != place or place >= len(rows):
            return []
        signs = [lines.sign(place, c, f"± {c.name()}") for c in item.row[:-1] if cells.signed(c)]
        name = item.entry_name(place + 1)
        return [*signs, cells.entry_tools(name, partial(insert, place), partial(take_out, place))]

    said = [_own_problems(item, place, row, hands) if problem else [] for place, row in enumerate(rows)]
    drawn: list[ft.Control] = []
    for place in range(min(len(rows) + 1, item.most_entries)):
        wrong = [look.remark(s, serious=True) for s in (said[place] if place < len(rows) else [])]
        pieces = (lines.line(place, number(place)), *wrong, *tools(place))
        drawn.append(ft.Container(look.stack(*pieces, spacing=4), key=f"{item.key}-{place}"))
    return look.stack(
        ft.Text(item.label, size=look.LABEL, weight=ft.FontWeight.BOLD),
        *([look.quiet(item.help)] if item.help else []),
        *_switches(lines, switch, set_letters),
        *([lines.columns()] if lines.table else []),
        look.stack(*drawn, spacing=6 if lines.table else 14),
        *_counting(lines),
        *cells.remarks("" if any(said) else problem, warning),
        spacing=8,
    )


def _lower(item: Field, place: int) -> str:
    name = item.entry_name(place + 1)
    return f"{name[:1].lower()}{name[1:]}"


def _column(rows: Rows, cell: Field) -> list[Any]:
    return [row.get(cell.key, "") for row in rows]


def _paced(item: Field, rows: Rows, system: str) -> frozenset[str]:
    """The columns that are in paces."""
    in_use = {c.key: cells.unit_of_all(c, _column(rows, c), "", system) for c in item.row if c.paces}
    return frozenset(key for key, unit in in_use.items() if unit == PACES)


def _units(item: Field, rows: Rows, paced: frozenset[str], system: str) -> dict[str, str]:
    """What each number column is in."""
    found = {}
    for cell in item.row:
        if cell.kind in NUMBERS:
            preferred = PACES if cell.key in paced else shown_unit(cell.unit, system)[0]
            found[cell.key] = cells.unit_of_all(cell, _column(rows, cell), preferred, system)
    return found


def _in_unit(rows: Rows, cell: Field, unit: str, system: str) -> list[dict[str, Any]]:
    return [{**row, cell.key: cells.in_other_unit(cell, row.get(cell.key), unit, system)} for row in rows]


def _has_letters(item: Field, rows: Rows) -> bool:
    bearings = [str(text) for c in item.row if c.kind == "bearing" for text in _column(rows, c)]
    return any(letter in text.upper() for text in bearings for letter in "NESW")


def _own_problems(item: Field, place: int, row: Mapping[str, Any], hands: Hands) -> list[str]:
    """What is wrong in the filled cells of one row."""
    found = Form(item.row).read(row, hands.pace).problems
    name = item.entry_name(place + 1)
    return [f"{name}: {said}" for key, said in found.items() if not is_empty(row.get(key))]


def _switches(
    lines: Lines, switch: Callable[[Field, str], None], set_letters: Callable[[bool], None]
) -> list[ft.Control]:
    """For each column that can be written in two ways, which of them it is."""
    drawn: list[ft.Control] = []
    for cell in lines.item.row:
        if cell.paces:
            unit = lines.units[cell.key]
            control = cells.unit_switch(cell, unit, lines.hands.system, partial(switch, cell), cell.name())
        elif cell.kind == "bearing":
            control = _letters_switch(lines.letters, set_letters)
        else:
            continue
        drawn.append(ft.Row([look.quiet(cell.label, expand=True), control], spacing=8))
    return drawn


def _letters_switch(letters: bool, set_letters: Callable[[bool], None]) -> ft.Control:
    degrees = cells.small_button("26°", "Bearings in degrees", partial(set_letters, False), not letters)
    points = cells.small_button("N26E", "Bearings with letters", partial(set_letters, True), letters)
    return ft.Row([degrees, points], spacing=4, tight=True)


def _counting(lines: Lines) -> list[ft.Control]:
    """A button that counts the next reading that is in paces and still blank."""
    item, count = lines.item, lines.hands.count
    if count is None or len(lines.rows) >= item.most_entries:
        return []
    for place in range(len(lines.rows) + 1):
        for cell in item.row:
            if lines.units.get(cell.key) == PACES and is_empty(lines.row(place).get(cell.key)):
                path = f"{item.key}.{place}.{cell.key}"
                said = f"Count {_lower(item, place)}, {cell.name()}"
                return [look.secondary(said, partial(_count, count, path), ft.Icons.TOUCH_APP)]
    return []


def _count(count: Callable[[str], None], path: str, _: Any) -> None:
    count(path)
