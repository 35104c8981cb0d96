"""A form drawn from its Fields: label, box, unit, help, and a sentence when something is wrong or odd."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import flet as ft

from logic.field import Field, Form, Reading, is_empty
from logic.typed import PACES, shown, to_store
from logic.units import shown_unit
from mobile_app.parts import look
from mobile_app.parts.box import text_box

Change = Callable[[str, Any], None]
Count = Callable[[str], None] | None
Draw = Callable[[Field, Any, str, Change, Count], ft.Control]
_FEW = 4


def form_view(
    form: Form,
    given: Mapping[str, Any],
    reading: Reading,
    system: str,
    change: Change,
    scope: str,
    count: Count = None,
) -> ft.Control:
    """The whole form. change(key, stored value) is called as it is typed; count(key) opens the pace counter.

    scope: what the form belongs to; with the field's key it names each box, so that a box keeps its text.
    """
    rows: list[ft.Control] = []
    way = form.way(given)
    if form.ways:
        rows.append(look.choices(tuple((w.key, w.label) for w in form.ways), way, lambda k: change("way", k)))
    for item in form.asked(way):
        stored = given.get(item.key)
        problem = "" if is_empty(stored) else reading.problems.get(item.key, "")
        rows.append(
            look.keyed(
                f"{scope}-{item.key}-{system}",
                FieldView,
                item,
                "" if stored is None else stored,
                problem,
                reading.warnings.get(item.key, ""),
                system,
                change,
                count if item.paces else None,
            )
        )
    loose = reading.problems.get("", "")
    if loose:
        rows.append(look.remark(loose, serious=True))
    return look.stack(*rows, spacing=16)


@ft.component
def FieldView(
    item: Field,
    stored: Any,
    problem: str,
    warning: str,
    system: str,
    change: Change,
    count: Count,
) -> ft.Control:
    """One field, whatever its kind."""
    draw: Draw = _KINDS.get(item.kind, _number)
    return look.stack(draw(item, stored, system, change, count), *_below(item, problem, warning), spacing=4)


def _below(item: Field, problem: str, warning: str) -> list[ft.Control]:
    if problem:
        return [look.remark(problem, serious=True)]
    if warning:
        return [look.remark(warning)]
    return [look.quiet(item.help)] if item.help else []


def _number(item: Field, stored: Any, system: str, change: Change, count: Count) -> ft.Control:
    """A number with its unit beside it; a length can be switched to paces and counted."""
    seen = shown(item, str(stored), system)
    in_paces = seen.unit == PACES

    def typed(text: str) -> None:
        change(item.key, to_store(item, text, seen.unit))

    usual = shown(item, item.default, system).text if item.default else ""
    hint = f"{usual} {seen.label}".strip()  # an empty box says its unit, and what is taken when it stays so
    box = text_box(item.label, seen.text, typed, seen.label, ft.KeyboardType.NUMBER, hint)
    if not item.paces:
        return ft.Row([box])
    row: list[ft.Control] = [box]
    if count and in_paces:
        row.append(
            ft.Container(look.secondary("Count", lambda _: count(item.key)), padding=ft.Padding.only(top=26))
        )
    return ft.Column(
        [ft.Row(row, spacing=8), _unit_switch(item, seen.text, in_paces, system, change)], spacing=6
    )


def _unit_switch(item: Field, text: str, in_paces: bool, system: str, change: Change) -> ft.Control:
    unit, label = shown_unit(item.unit, system)

    def pick(key: str) -> None:
        change(item.key, to_store(item, text, key))

    return look.choices(((unit, f"in {label}"), (PACES, "in paces")), PACES if in_paces else unit, pick)


def _choice(item: Field, stored: Any, system: str, change: Change, count: Count) -> ft.Control:
    """One of a few words; of many, the chosen one and a way to the others."""
    return look.keyed(f"choice-{item.key}", Chooser, item, str(stored or item.default), change)


@ft.component
def Chooser(item: Field, chosen: str, change: Change) -> ft.Control:
    """The choices of a field, folded away when there are more than fit a screen."""
    few = len(item.choices) <= _FEW
    is_open, set_open = ft.use_state(False)

    def pick(key: str) -> None:
        set_open(False)
        change(item.key, key)

    name = ft.Text(item.label, size=look.LABEL, weight=ft.FontWeight.BOLD)
    if few or is_open:
        return look.stack(name, look.choices(item.choices, chosen, pick), spacing=6)
    said = dict(item.choices).get(chosen, chosen)
    line = ft.Row(
        [ft.Text(said, size=20, expand=True), look.secondary("Change", lambda _: set_open(True))], spacing=8
    )
    return look.stack(name, line, spacing=2)


def _list(item: Field, stored: Any, system: str, change: Change, count: Any) -> ft.Control:
    """Numbers one below the other, with one more always at hand."""
    entries = [str(entry) for entry in stored] if isinstance(stored, list | tuple) else []
    shown_entries = [*entries, ""] if not entries or entries[-1].strip() else entries

    def typed(index: int, unit: str) -> Callable[[str], None]:
        def put(text: str) -> None:
            new = [*shown_entries]
            new[index] = to_store(item, text, unit)
            while new and not new[-1]:
                new.pop()
            change(item.key, new)

        return put

    def box(index: int, entry: str) -> ft.Control:
        seen = shown(item, entry, system)
        return ft.Container(
            text_box(f"{index + 1}", seen.text, typed(index, seen.unit), seen.label, ft.KeyboardType.NUMBER),
            key=f"{item.key}-{index}",
            col=6,
        )

    boxes = [box(index, entry) for index, entry in enumerate(shown_entries)]
    return look.stack(
        ft.Text(item.label, size=look.LABEL, weight=ft.FontWeight.BOLD),
        ft.ResponsiveRow(boxes, spacing=10, run_spacing=10),
        spacing=6,
    )


_KINDS: dict[str, Draw] = {
    "number": _number,
    "choice": _choice,
    "list": _list,
}
