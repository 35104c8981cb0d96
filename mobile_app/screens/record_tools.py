"""What can be done with any record: its history, making one of two, a client's data, the bin."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import flet as ft

from logic.records import merge
from logic.records.types import Client, Record
from mobile_app.app import App
from mobile_app.parts import look


@dataclass(frozen=True)
class _Tool:
    name: str
    icon: ft.IconData
    place: str


def tools(app: App, record: Record, back: str = "", with_bin: bool = True) -> list[ft.Control]:
    """The buttons. back: where to go when the record has gone into the bin; "" for the list of its kind."""
    found = [_Tool("History", ft.Icons.HISTORY, f"/history/{record.table}/{record.id}")]
    if type(record) in merge.CHILDREN:
        found.append(_Tool("Merge with another", ft.Icons.MERGE, f"/merge/{record.table}/{record.id}"))
    if isinstance(record, Client):
        found.append(
            _Tool("Copy or delete their data", ft.Icons.PRIVACY_TIP_OUTLINED, f"/privacy/{record.id}")
        )

    def bin_it(_: object) -> None:
        app.delete(record)
        app.go(back or f"/records/{record.table}")

    buttons = [look.plain(tool.name, _to(app, tool.place), tool.icon) for tool in found]
    if with_bin:
        buttons.append(look.plain("Put in the bin", bin_it, ft.Icons.DELETE_OUTLINE))
    return [look.rule(), ft.Column(buttons, spacing=0, horizontal_alignment=ft.CrossAxisAlignment.START)]


def _to(app: App, place: str) -> Callable[[object], None]:
    return lambda _: app.go(place)
