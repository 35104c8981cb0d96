"""A form drawn from its Fields: label, box, unit, help, and a sentence when something is wrong or odd."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

import flet as ft

from logic.field import Field, Form, PaceLike, Reading, is_empty
from logic.typed import PACES, shown, to_store
from mobile_app.parts import cells, look
from mobile_app.parts.box import text_box
from mobile_app.parts.hands import Change, Discard, Hands
from mobile_app.parts.kept import kept
from mobile_app.parts.rows import rows_view
from mobile_app.parts.rows_list import list_view

_FEW = 4


def form_view(
    form: Form,
    given: Mapping[str, Any],
    reading: Reading,
    system: str,
    change: Change,
    scope: str,
    count: Callable[[str], None] | None = None,
    discard: Discard | None = None,
    pace: PaceLike | None = None,
    only: Collection[str] | None = None,
) -> ft.Control:
    """The whole form. See Hands for change, discard (change, where it is not given), scope, count and pace.

    With the field's key the scope names each box, so that a box keeps its text.
    only: the keys of the fields to draw; None for all of them, the choice of ways, and what is wrong overall.
    """
    throw = discard or (lambda path, value, why: change(path, value))
    return form_in(form, given, reading, Hands(system, scope, change, throw, FieldView, count, pace), only)


def form_in(
    form: Form,
    given: Mapping[str, Any],
    reading: Reading,
    hands: Hands,
    only: Collection[str] | None = None,
) -> ft.Control:
    """The form, drawn for these hands."""
    rows: list[ft.Control] = []
    way = form.way(given)
    if form.ways and only is None:
        rows.append(
            look.choices(tuple((w.key, w.label) for w in form.ways), way, lambda k: hands.change("way", k))
        )
    for item in form.asked(way):
        if only is not None and item.key not in only:
            continue
        stored = given.get(item.key)
        rows.append(
            kept(
                f"{hands.scope}-{item.key}-{hands.system}",
                FieldView,
                item,
                "" if stored is None else stored,
                _problem(item, stored, reading),
                reading.warnings.get(item.key, ""),
                hands,
            )
        )
    loose = reading.problems.get("", "")
    if loose and only is None:
        rows.append(look.remark(loose, serious=True))
    return look.stack(*rows, spacing=18)


def _problem(item: Field, stored: Any, reading: Reading) -> str:
    """What is wrong, but not that an empty box is empty: it says so itself."""
    problem = reading.problems.get(item.key, "")
    return "" if is_empty(stored) and problem.startswith("Fill in") else problem


@ft.component
def FieldView(item: Field, stored: Any, problem: str, warning: str, hands: Hands) -> ft.Control:
    """One field, whatever its kind."""
    if item.kind in _BY_ENTRY:
        return _BY_ENTRY[item.kind](item, stored, problem, warning, hands)
    below = cells.remarks(problem, warning) or ([look.quiet(item.help)] if item.help else [])
    return look.stack(_KINDS[item.kind](item, stored, hands), *below, spacing=6)


def _number(item: Field, stored: Any, hands: Hands) -> ft.Control:
    """A number with its unit beside it; a length can be switched to paces and counted."""
    seen = shown(item, str(stored), hands.system)

    def typed(text: str) -> None:
        hands.change(item.key, to_store(item, text, seen.unit))

    usual = shown(item, item.default, hands.system).text if item.default else ""
    suffix = "" if item.paces else seen.label  # the switch beside it says the unit of what may be paced
    hint = f"{usual} {suffix}".strip()  # an empty box says its unit, and what is taken when it stays so
    row: list[ft.Control] = [text_box(item.label, seen.text, typed, suffix, ft.KeyboardType.NUMBER, hint)]
    if cells.signed(item):
        row.append(cells.sign_button(item.name(), seen.text, typed))
    if not item.paces:
        return ft.Row(row, spacing=8, vertical_alignment=ft.CrossAxisAlignment.END)

    def switch(unit: str) -> None:
        hands.change(item.key, to_store(item, seen.text, unit))

    row.append(cells.unit_switch(item, seen.unit, hands.system, switch))
    lines: list[ft.Control] = [ft.Row(row, spacing=8, vertical_alignment=ft.CrossAxisAlignment.END)]
    if hands.count and seen.unit == PACES:
        count = hands.count
        said = f"Count the {item.name()}"
        lines.append(look.secondary(said, lambda _: count(item.key), ft.Icons.TOUCH_APP))
    return look.stack(*lines, spacing=8)


def _bearing(item: Field, stored: Any, hands: Hands) -> ft.Control:
    return ft.Row(
        [text_box(item.label, str(stored), lambda text: hands.change(item.key, text), hint="N26 10E")]
    )


def _choice(item: Field, stored: Any, hands: Hands) -> ft.Control:
    """One of a few words; of many, the chosen one and a way to the others."""
    return look.keyed(f"choice-{item.key}", Chooser, item, str(stored or item.default), hands.change)


@ft.component
def Chooser(item: Field, chosen: str, change: Change) -> ft.Control:
    """The choices of a field, folded away when there are more than fit a screen."""
    few = len(item.choices) <= _FEW
    is_open, set_open = ft.use_state(False)

    def pick(key: str) -> None:
        set_open(False)
        change(item.key, "" if key == chosen and not item.required else key)

    name = ft.Text(item.label, size=look.LABEL, weight=ft.FontWeight.BOLD)
    if few or is_open:
        return look.stack(name, look.choices(item.choices, chosen, pick), spacing=6)
    said = dict(item.choices).get(chosen, chosen)
    line = ft.Row(
        [
            ft.Text(said, size=20, expand=True),
            look.secondary("Change" if said else "Choose", lambda _: set_open(True)),
        ],
        spacing=8,
    )
    return look.stack(name, line, spacing=2)


def _text(item: Field, stored: Any, hands: Hands) -> ft.Control:
    return ft.Row([text_box(item.label, str(stored), lambda text: hands.change(item.key, text))])


def _outline(item: Field, stored: Any, problem: str, warning: str, hands: Hands) -> ft.Control:
    from mobile_app.parts.parts_editor import OutlineField  # which draws forms itself

    return look.keyed(f"outline-{item.key}", OutlineField, item, stored, hands)


_KINDS: dict[str, Callable[[Field, Any, Hands], ft.Control]] = {
    "number": _number,
    "bearing": _bearing,
    "choice": _choice,
    "text": _text,
}
#: Kinds that say themselves what is wrong, beside the entry.
_BY_ENTRY: dict[str, Callable[[Field, Any, str, str, Hands], ft.Control]] = {
    "list": list_view,
    "rows": rows_view,
    "outline": _outline,
}
