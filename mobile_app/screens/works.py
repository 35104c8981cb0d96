"""The works of a visit: each with what it needs to know, what it needs to do it, and its cautions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import flet as ft

from logic.field import Reading
from logic.records.types import Visit
from logic.records.visits import (
    Standing,
    moved_work,
    with_work,
    with_work_value,
    without_work,
    work_given,
)
from logic.works.operation import Worked
from logic.works.operations import operations
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.figures import figure_line, figure_list
from mobile_app.parts.form import form_view
from mobile_app.parts.frame import icon_button

_GROUPS = ("open up", "seed and sand", "feed and water", "check")


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The works step."""
    rows: list[ft.Control] = []
    if stood.outline is None:
        rows.append(look.remark("Measure the green first: every quantity follows from its area."))
        rows.append(look.secondary("Measure", lambda _: app.go(f"/visit/{visit.id}/measure")))
    for index, (entry, (worked, reading)) in enumerate(zip(visit.works, stood.planned, strict=True)):
        rows.append(
            look.keyed(f"{index}-{entry['operation']}", _WorkCard, app, visit, index, entry, worked, reading)
        )
    if not visit.works:
        rows.append(look.title("What is to be done?"))
        rows.append(look.quiet("Add the works in any order; they are put in the usual order of a day."))
    rows.append(look.keyed("add", _Add, app, visit))
    if stood.worked:
        rows.append(
            look.primary(
                "On to the paper", lambda _: app.go(f"/visit/{visit.id}/paper"), ft.Icons.ARROW_FORWARD
            )
        )
    return rows


@ft.component
def _WorkCard(
    app: App,
    visit: Visit,
    index: int,
    entry: Mapping[str, Any],
    worked: Worked | None,
    reading: Reading | None,
) -> ft.Control:
    """One work: headline figures always, its form and all figures when open."""
    has_values = bool(entry.get("values"))
    is_open, set_open = ft.use_state(not has_values)
    operation = operations().get(str(entry["operation"]))
    if operation is None:
        return look.card(
            look.remark(f"“{entry['operation']}” was planned with a newer version of Swardwright.")
        )
    head = ft.Row(
        [
            ft.Text(operation.name, size=look.TITLE, weight=ft.FontWeight.BOLD, expand=True),
            look.plain("Close" if is_open else "Open", lambda _: set_open(not is_open)),
        ]
    )
    lines: list[ft.Control] = [head]
    if is_open and operation.help:
        lines.append(look.quiet(operation.help))
    if is_open:
        lines.append(
            form_view(
                operation.form,
                work_given(entry),
                reading or Reading(None),
                app.system,
                lambda key, value: app.edit(with_work_value(app.visit_in_hand(), index, key, value)),
                scope=f"{visit.id}-{index}-{operation.key}",
            )
        )
    lines += _worked(app, worked, is_open)
    if worked is None and not is_open:
        lines.append(look.remark("Something is still missing here. Open it."))
    if is_open:
        lines.append(_tools(app, index, len(visit.works)))
    return look.card(*lines, spacing=12)


def _worked(app: App, worked: Worked | None, is_open: bool) -> list[ft.Control]:
    if worked is None:
        return []
    lines: list[ft.Control] = [look.rule()]
    if not is_open:
        lines += [figure_line(f.name, f.text(app.system)) for f in worked.figures if f.headline]
        return lines + [look.remark(warning) for warning in worked.warnings]
    lines.append(figure_list(worked.figures, app.system, app.settings.confidence))
    lines += [look.remark(warning) for warning in worked.warnings]
    return lines + [look.remark(caution.sentence) for caution in worked.cautions]


def _tools(app: App, index: int, count: int) -> ft.Control:
    def move(by: int) -> None:
        app.edit(moved_work(app.visit_in_hand(), index, by))

    buttons: list[ft.Control] = []
    if index > 0:
        buttons.append(icon_button(ft.Icons.ARROW_UPWARD, "Earlier in the day", lambda _: move(-1)))
    if index < count - 1:
        buttons.append(icon_button(ft.Icons.ARROW_DOWNWARD, "Later in the day", lambda _: move(1)))
    buttons.append(ft.Container(expand=True))
    buttons.append(
        look.plain(
            "Take out",
            lambda _: app.edit_undoable(without_work(app.visit_in_hand(), index), "take out a work"),
        )
    )
    return ft.Row(buttons)


@ft.component
def _Add(app: App, visit: Visit) -> ft.Control:
    """The list of operations to add one from."""
    is_open, set_open = ft.use_state(not visit.works)

    def add(key: str) -> None:
        set_open(False)
        app.edit(with_work(app.visit_in_hand(), key))

    if not is_open:
        return look.secondary("Add a work", lambda _: set_open(True), ft.Icons.ADD)
    lines: list[ft.Control] = []
    for group in _GROUPS:
        members = [o for o in operations().values() if o.group == group]
        if not members:
            continue
        lines.append(ft.Text(group[:1].upper() + group[1:], size=look.LABEL, weight=ft.FontWeight.BOLD))
        lines.append(look.choices(tuple((o.key, o.name) for o in members), "", add))
    if visit.works:
        lines.append(look.plain("Close the list", lambda _: set_open(False)))
    return look.stack(*lines, spacing=8)
