"""The works of a visit: each with what it needs to know, what it needs to do it, and its cautions."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import flet as ft

from logic.field import PaceLike, Reading
from logic.measure.outline import Outline
from logic.programme.conflicts import Conflict
from logic.records.standing import Standing
from logic.records.types import Visit
from logic.records.visits import (
    with_work,
    with_work_value,
    without_work,
    work_given,
)
from logic.works.operation import Operation, Worked
from logic.works.operations import operations
from mobile_app import programme
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.figures import figure_line, figure_list
from mobile_app.parts.form import form_view
from mobile_app.parts.kept import Do, kept
from mobile_app.parts.pictures import picture
from mobile_app.records import site_warnings
from mobile_app.screens import works_entry

_ALWAYS = 3  # fields of a work that are never folded away
_GROUPS = ("open up", "seed and sand", "feed and water", "check")


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The works step."""
    rows: list[ft.Control] = []
    if stood.outline is None:
        rows.append(look.remark("Measure the green first: every quantity follows from its area."))
        rows.append(look.secondary("Measure", lambda _: app.go(f"/visit/{visit.id}/measure")))
    rows += [look.remark(told, serious=True) for told in site_warnings(app, app.sward_of(visit))]
    conflicts = programme.against(app, visit) if visit.works else {}
    for index, (entry, (worked, reading)) in enumerate(zip(visit.works, stood.planned, strict=True)):
        rows.append(
            kept(
                f"{index}-{entry['operation']}",
                _WorkCard,
                app,
                _Place(visit.id, index, len(visit.works), stood.pace, app.system, app.settings.confidence),
                entry,
                worked,
                reading,
                stood.outline,
                conflicts.get(index, ()),
            )
        )
    if not visit.works:
        rows.append(look.title("What is to be done?"))
        rows.append(look.quiet("Add the works in any order; they are put in the usual order of a day."))
    rows.append(kept("add", _Add, app, bool(visit.works)))
    rows.append(works_entry.proposal(app, visit))
    if visit.works:
        rows.append(
            look.plain("Agreed", lambda _: app.go(f"/visit/{visit.id}/agreed"), ft.Icons.DRAW_OUTLINED)
        )
        rows.append(
            look.primary("On to the day", lambda _: app.go(f"/visit/{visit.id}/day"), ft.Icons.ARROW_FORWARD)
        )
    if stood.worked:
        rows.append(look.secondary("On to the paper", lambda _: app.go(f"/visit/{visit.id}/paper")))
    return rows


@dataclass(frozen=True)
class _Place:
    """Where a work stands, and how it is read."""

    visit_id: str
    index: int
    count: int
    pace: PaceLike | None
    system: str
    confidence: float


@ft.component
def _WorkCard(
    app: App,
    at: _Place,
    entry: Mapping[str, Any],
    worked: Worked | None,
    reading: Reading | None,
    outline: Outline | None,
    against: Sequence[Conflict] = (),
) -> ft.Control:
    """One work: headline figures always, its form and all figures when open. against: what speaks against
    it."""
    begun = bool(entry.get("values") or entry.get("why"))
    is_open, set_open = ft.use_state(not begun)
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
    lines: list[ft.Control] = [head, *works_entry.against(against), *_headlines(worked, at.system)]
    lines += works_entry.agreed(entry)
    if not is_open:
        if worked is None:
            lines.append(look.remark("Something is still missing here. Open it."))
        return look.card(*lines, spacing=12)
    if operation.help:
        lines.append(look.quiet(operation.help))
    lines += works_entry.why(entry)
    lines.append(_form(app, at, entry, operation, reading or Reading(None)))
    if worked:
        lines.append(look.rule())
        lines.append(figure_list(worked.figures, at.system, at.confidence))
        lines += [look.remark(caution.sentence) for caution in worked.cautions]
        drawn = picture(worked, outline) if outline else None
        if drawn:
            lines.append(drawn)
    lines += works_entry.machines(app, at.index, entry)
    lines += [works_entry.places(app, at.index, at.count), _take_out(app, at.index)]
    return look.card(*lines, spacing=12)


def _headlines(worked: Worked | None, system: str) -> list[ft.Control]:
    """What one wants to see without opening: the few main figures, and what to look at."""
    if worked is None:
        return []
    lines = [figure_line(f.name, f.text(system)) for f in worked.figures if f.headline]
    return lines + [look.remark(warning) for warning in worked.warnings]


def _form(
    app: App, at: _Place, entry: Mapping[str, Any], operation: Operation, reading: Reading
) -> ft.Control:
    """What must be said first; what has a usual value is folded away behind it."""
    given = work_given(entry)
    form = operation.form
    asked = form.asked(form.way(given))
    first = {f.key for place, f in enumerate(asked) if place < _ALWAYS or (f.required and not f.default)}
    rest = [f.key for f in asked if f.key not in first]

    change, discard = Do(_change, app, at.index), Do(_discard, app, at.index)
    scope = f"{at.visit_id}-{at.index}-{operation.key}"

    def part(keys: Collection[str]) -> ft.Control:
        return form_view(
            form, given, reading, at.system, change, scope, discard=discard, pace=at.pace, only=keys
        )

    lines: list[ft.Control] = []
    if form.ways:
        pairs = tuple((way.key, way.label) for way in form.ways)
        lines.append(look.choices(pairs, form.way(given), lambda key: change("way", key)))
    lines.append(part(first))
    if rest:
        trouble = any(key in reading.problems or key in reading.warnings for key in rest)
        lines.append(look.keyed("more", _More, len(rest), trouble, lambda: part(rest)))
    return look.stack(*lines, spacing=16)


def _change(app: App, index: int, key: str, value: Any) -> None:
    app.edit(with_work_value(app.visit_in_hand(), index, key, value))


def _discard(app: App, index: int, key: str, value: Any, why: str) -> None:
    app.edit_undoable(with_work_value(app.visit_in_hand(), index, key, value), why)


@ft.component
def _More(count: int, trouble: bool, draw: Callable[[], ft.Control]) -> ft.Control:
    """The folded part of a form. It can't hide something that is wrong."""
    is_open, set_open = ft.use_state(False)
    shown = is_open or trouble
    button = look.plain(
        "Less" if shown else f"{count} more, with usual values",
        lambda _: set_open(not is_open),
        ft.Icons.EXPAND_LESS if shown else ft.Icons.EXPAND_MORE,
    )
    return look.stack(draw(), button) if shown else button


def _take_out(app: App, index: int) -> ft.Control:
    def tapped(_: object) -> None:
        app.edit_undoable(without_work(app.visit_in_hand(), index), "take out a work")

    return ft.Row([look.plain("Take out", tapped, ft.Icons.DELETE_OUTLINE)])


@ft.component
def _Add(app: App, begun: bool) -> ft.Control:
    """The list of operations to add one from. begun: there are works already."""
    is_open, set_open = ft.use_state(not begun)

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
    if begun:
        lines.append(look.plain("Close the list", lambda _: set_open(False)))
    return look.stack(*lines, spacing=8)
