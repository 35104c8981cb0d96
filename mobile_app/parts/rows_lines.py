"""How the rows of a list of small forms are drawn: as lines of a table, or as cards."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import flet as ft

from logic.field import Field
from logic.typed import PACES
from logic.units import shown_unit
from mobile_app.parts import cells, look
from mobile_app.parts.box import Shelf, go_to
from mobile_app.parts.hands import Hands

NUMBERS = ("number", "bearing")
Rows = list[Mapping[str, Any]]


@dataclass(frozen=True)
class Lines:
    """The rows of a field and what drawing them takes.

    units: what each number column is in, "" while its entries differ. letters: bearings are written with
    letters. boxes: where the boxes put themselves, so that Enter can go on from one to the next.
    """

    item: Field
    rows: Rows
    units: Mapping[str, str]
    letters: bool
    hands: Hands
    boxes: Shelf

    @property
    def table(self) -> bool:
        """True when a row is so small that it fits a line."""
        return len(self.item.row) <= 2 and all(cell.kind in NUMBERS for cell in self.item.row)

    def row(self, place: int) -> Mapping[str, Any]:
        """What stands in a row; nothing in the blank one at the end."""
        return self.rows[place] if place < len(self.rows) else {}

    def line(self, place: int, number: ft.Control) -> ft.Control:
        """A row with its number before it."""
        if not self.table:
            return self._card(place, number)
        boxes = [self._box(place, column, bare=True) for column in range(len(self.item.row))]
        last = self.item.row[-1]
        if cells.signed(last):
            boxes.append(self.sign(place, last))
        return ft.Row([number, *boxes], spacing=4)

    def sign(self, place: int, cell: Field, said: str = "±") -> ft.Control:
        """Changes the sign of a number of a row."""
        path = f"{self.item.key}.{place}.{cell.key}"
        text = str(self.row(place).get(cell.key, ""))
        return cells.sign_button(
            self._name(place, cell), text, lambda flipped: self.hands.change(path, flipped), said
        )

    def columns(self) -> ft.Control:
        """The names of the columns, above the table."""
        sign = [ft.Container(width=48)] if cells.signed(self.item.row[-1]) else []
        names = [self._column(cell) for cell in self.item.row]
        return ft.Row([ft.Container(width=cells.BADGE), *names, *sign], spacing=4)

    def _column(self, cell: Field) -> ft.Control:
        unit = self.units[cell.key]
        label = unit if unit == PACES else shown_unit(cell.unit, self.hands.system)[1]
        return ft.Text(
            f"{cell.label}, {label}" if label and unit else cell.label,
            size=look.LABEL,
            color=ft.Colors.ON_SURFACE_VARIANT,
            expand=True,
            text_align=ft.TextAlign.RIGHT,
        )

    def _name(self, place: int, cell: Field) -> str:
        return f"{self.item.entry_name(place + 1)}, {cell.name()}"

    def _box(self, place: int, column: int, bare: bool) -> ft.Control:
        cell = self.item.row[column]
        number = place * len(self.item.row) + column
        return cells.cell_box(
            cell,
            self._name(place, cell),
            self.row(place).get(cell.key, ""),
            self.units[cell.key],
            f"{self.item.key}.{place}.{cell.key}",
            self.hands,
            bare,
            on_enter=lambda: go_to(self.boxes, number + 1),
            shelf=(self.boxes, number),
            letters=self.letters and cell.kind == "bearing",
        )

    def _card(self, place: int, number: ft.Control) -> ft.Control:
        row, inner = self.row(place), self.hands.under(f"{self.item.key}.{place}")
        pieces: list[ft.Control] = []
        for column, cell in enumerate(self.item.row):
            if cell.kind in NUMBERS:
                pieces.append(ft.Container(ft.Row([self._box(place, column, bare=False)]), col=6))
            else:
                drawn = inner.draw(cell, row.get(cell.key, ""), "", "", inner)
                pieces.append(ft.Container(drawn, col=12))
        name = ft.Text(self.item.entry_name(place + 1), size=look.BODY, weight=ft.FontWeight.BOLD)
        grid = ft.ResponsiveRow(pieces, spacing=8, run_spacing=10)
        return ft.Container(
            look.stack(ft.Row([number, name], spacing=4), grid, spacing=4),
            border=ft.Border.only(left=ft.BorderSide(3, ft.Colors.OUTLINE_VARIANT)),
            padding=ft.Padding.only(left=8),
        )
