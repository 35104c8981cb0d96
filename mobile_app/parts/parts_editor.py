"""Outlines within a form, each with its own way of measuring; the parts of a compound."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import flet as ft

from logic.errors import BadValue
from logic.field import Field, Form, Reading
from logic.measure.methods import measure, methods
from logic.measure.outline import Outline
from logic.records.drafts import (
    FIRST_METHOD,
    Doc,
    given_of,
    method_in,
    outline_form,
    values_in,
    with_method,
)
from mobile_app.parts import look
from mobile_app.parts.form import form_in
from mobile_app.parts.hands import Hands
from mobile_app.parts.kept import kept
from mobile_app.parts.shapes import ShapeHead, shape_list

#: What can't be a part of anything: it would lie within itself.
_NO_PARTS = ("compound", "twice")


def read_outline(doc: Any, hands: Hands) -> tuple[Outline | None, Reading]:
    """The outline of a draft as far as it goes; never raises."""
    try:
        return measure(given_of(doc if isinstance(doc, Mapping) else {}), hands.pace)
    except BadValue as bad:
        return None, Reading(None, "", {"": bad.sentence})


@ft.component
def OutlineView(
    doc: Doc, reading: Reading, hands: Hands, put_method: Any, exclude: tuple[str, ...] = ()
) -> ft.Control:
    """The shape of an outline and its readings. put_method(key): measure it another way."""
    is_open, set_open = ft.use_state(False)
    method = method_in(doc)
    form = methods()[method].form if method in methods() else Form(())

    def take(key: str) -> None:
        set_open(False)
        if key != method:
            put_method(key)

    hands = replace(hands, scope=f"{hands.scope}-{method}")
    head = kept("head", ShapeHead, method, is_open, ft.use_callback(set_open, []))
    if is_open:
        return look.stack(head, shape_list(method, take, exclude), spacing=12)
    return look.stack(
        head,
        form_in(form, values_in(doc), reading, hands),
        kept("slope", Slope, values_in(doc).get("slope", ""), *_said("slope", reading), hands),
        spacing=18,
    )


@ft.component
def Slope(slope: Any, problem: str, warning: str, hands: Hands) -> ft.Control:
    """The slope of the ground, asked for only when someone says that there is one."""
    is_open, set_open = ft.use_state(bool(slope))
    item = outline_form(FIRST_METHOD).field("slope")
    if not is_open:
        return ft.Row([look.plain("On sloping ground?", lambda _: set_open(True))])
    return kept(f"{hands.scope}-slope", hands.draw, item, slope, problem, warning, hands)


def _said(key: str, reading: Reading) -> tuple[str, str]:
    return reading.problems.get(key, ""), reading.warnings.get(key, "")


@ft.component
def OutlineField(item: Field, stored: Any, hands: Hands) -> ft.Control:
    """An outline that a form asks for, on a slip of its own."""
    doc = stored if isinstance(stored, Mapping) and "drafts" in stored else None
    heading = look.title(item.label, look.BODY)
    if doc is None:
        begin = look.secondary("Measure it", lambda _: hands.change(item.key, with_method({}, FIRST_METHOD)))
        return look.card(heading, *([look.quiet(item.help)] if item.help else []), begin)
    outline, reading = read_outline(doc, hands)
    area = (
        [look.words(outline.area.text_with_margin(hands.system), weight=ft.FontWeight.BOLD)]
        if outline
        else []
    )

    def put_method(key: str) -> None:
        hands.change(item.key, with_method(doc, key))

    view = look.keyed("view", OutlineView, doc, reading, hands.under(item.key), put_method, _NO_PARTS)
    return look.card(heading, view, *area, spacing=14)


@ft.component
def Parts(item: Field, rows: list[Mapping[str, Any]], problem: str, warning: str, hands: Hands) -> ft.Control:
    """The parts as slips; one is open at a time."""
    open_at, set_open = ft.use_state(0 if len(rows) == 1 else -1)

    def add(sign: str) -> None:
        part = {"sign": sign, "outline": with_method({}, FIRST_METHOD)}
        hands.change(f"{item.key}.{len(rows)}", part)
        set_open(len(rows))

    def take_out(place: int) -> None:
        set_open(-1)
        rest = [*rows[:place], *rows[place + 1 :]]
        hands.discard(item.key, rest, f"take out part {place + 1}")

    def slip(place: int, row: Mapping[str, Any]) -> ft.Control:
        is_open = open_at == place
        toggle = lambda: set_open(-1 if is_open else place)  # noqa: E731
        return look.keyed(
            f"{item.key}-{place}", Part, item, place, row, is_open, toggle, lambda: take_out(place), hands
        )

    lines: list[ft.Control] = [slip(place, row) for place, row in enumerate(rows)]
    if len(rows) < item.most_entries:
        buttons: list[ft.Control] = [look.secondary("Add a part", lambda _: add("+"), ft.Icons.ADD)]
        if rows:
            buttons.append(look.secondary("Take a part off", lambda _: add("-"), ft.Icons.REMOVE))
        lines.append(ft.Row(buttons, wrap=True, spacing=8, run_spacing=8))
    if problem:
        lines.append(_problem(problem))
    if warning:
        lines.append(look.remark(warning))
    return look.stack(*lines, spacing=10)


def _problem(sentence: str) -> ft.Control:
    from mobile_app.parts.cells import unfinished

    return look.quiet(sentence) if unfinished(sentence) else look.remark(sentence, serious=True)


@ft.component
def Part(
    item: Field, place: int, row: Mapping[str, Any], is_open: bool, toggle: Any, take_out: Any, hands: Hands
) -> ft.Control:
    """One part: its sign, its shape and area; opened, its own form and where it lies."""
    doc = row.get("outline") or {}
    outline, reading = read_outline(doc, hands)
    cells = {cell.key: cell for cell in item.row}
    inner = hands.under(f"{item.key}.{place}")
    added = row.get("sign", "+") == "+"
    method = methods().get(method_in(doc))
    what = str(row.get("part_name") or "") or (method.name if method else "")
    said = outline.area.text_with_margin(hands.system) if outline else "not measured yet"
    head = _part_head(place, added, what, said, is_open, toggle)
    if not is_open:
        return look.card(head, padding=ft.Padding.all(0))

    def put_method(key: str) -> None:
        inner.change("outline", with_method(doc, key))

    body = [
        inner.draw(cells["sign"], row.get("sign", "+"), "", "", inner),
        look.keyed("view", OutlineView, doc, reading, inner.under("outline"), put_method, _NO_PARTS),
        inner.draw(cells["part_name"], row.get("part_name", ""), "", "", inner),
        look.keyed("place", Place, cells, row, inner),
        ft.Row([look.plain(f"Take out part {place + 1}", lambda _: take_out(), ft.Icons.DELETE_OUTLINE)]),
    ]
    inside = ft.Container(
        look.stack(*body, spacing=18), padding=ft.Padding.only(left=12, right=12, bottom=12)
    )
    return look.card(head, inside, padding=ft.Padding.all(0))


def _part_head(place: int, added: bool, what: str, said: str, is_open: bool, toggle: Any) -> ft.Control:
    sign = ft.Container(
        ft.Text(
            "+" if added else "−", size=look.TITLE, weight=ft.FontWeight.BOLD, color=ft.Colors.ON_PRIMARY
        ),
        width=36,
        height=36,
        border_radius=18,
        alignment=ft.Alignment.CENTER,
        bgcolor=ft.Colors.PRIMARY if added else ft.Colors.TERTIARY,
    )
    words = ft.Column(
        [ft.Text(what, size=look.BODY, weight=ft.FontWeight.BOLD), look.quiet(said)],
        spacing=0,
        tight=True,
        expand=True,
    )
    arrow = ft.Icon(ft.Icons.EXPAND_LESS if is_open else ft.Icons.EXPAND_MORE, size=24)
    return ft.Semantics(
        button=True,
        expanded=is_open,
        label=f"Part {place + 1}, {'added' if added else 'taken off'}: {what}, {said}",
        exclude_semantics=True,
        on_tap=lambda _: toggle(),
        content=ft.Container(
            ft.Row([sign, words, arrow], spacing=10),
            padding=ft.Padding.symmetric(horizontal=12, vertical=10),
            on_click=lambda _: toggle(),
        ),
    )


@ft.component
def Place(cells: Mapping[str, Field], row: Mapping[str, Any], hands: Hands) -> ft.Control:
    """Where a part lies and how it is turned; asked for only when someone wants to say."""
    is_open, set_open = ft.use_state(bool(row.get("at") or row.get("turn")))
    if not is_open:
        return ft.Row([look.plain("Say where it lies", lambda _: set_open(True))])
    return look.stack(
        *(hands.draw(cells[key], row.get(key, ""), "", "", hands) for key in ("at", "turn")), spacing=14
    )
