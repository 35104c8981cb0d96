"""Measuring: the shape, its readings, the area with its ±, and the sketch."""

from __future__ import annotations

from collections.abc import Mapping

import flet as ft

from logic.field import Reading
from logic.measure.methods import methods
from logic.records.types import Visit
from logic.records.visits import Standing, draft, is_measured, method_key, with_method, with_reading
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.figures import figure_list
from mobile_app.parts.form import form_view
from mobile_app.parts.sketch import sketch

_GROUPS: Mapping[str, str] = {"tape": "Regular shapes", "irregular": "Any shape"}


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The measuring step."""
    return [
        look.keyed("shape", _Shape, app, visit),
        _pace_line(app, visit, stood),
        look.card(
            form_view(
                methods()[method_key(visit)].form,
                draft(visit),
                stood.measured,
                app.system,
                lambda key, value: app.edit(with_reading(app.visit_in_hand(), key, value)),
                scope=f"{visit.id}-{method_key(visit)}",
                count=lambda key: app.change(counting=key, tally=()),
            ),
            spacing=16,
        ),
        *_result(app, visit, stood),
    ]


@ft.component
def _Shape(app: App, visit: Visit) -> ft.Control:
    """Which shape it is, and the list to choose from."""
    is_open, set_open = ft.use_state(False)
    known = methods()
    method = known.get(method_key(visit)) or next(iter(known.values()))

    def pick(key: str) -> None:
        set_open(False)
        app.edit(with_method(app.visit_in_hand(), key))

    head = ft.Row(
        [
            ft.Column(
                [look.quiet("Measured as"), ft.Text(method.name, size=look.TITLE, weight=ft.FontWeight.BOLD)],
                spacing=0,
                tight=True,
                expand=True,
            ),
            look.secondary("Close" if is_open else "Change shape", lambda _: set_open(not is_open)),
        ]
    )
    lines: list[ft.Control] = [head]
    if not is_open:
        lines.append(look.quiet(method.help))
        return look.stack(*lines, spacing=6)
    for group, heading in _GROUPS.items():
        members = tuple((m.key, m.name) for m in known.values() if m.group == group)
        if members:
            lines += [ft.Text(heading, size=look.LABEL, weight=ft.FontWeight.BOLD)]
            lines.append(look.choices(members, method.key, pick))
    return look.stack(*lines, spacing=8)


def _pace_line(app: App, visit: Visit, stood: Standing) -> ft.Control:
    pace = app.pace_of(visit)
    if stood.pace and pace:
        said = f"{pace.person or 'Your pace'}: {stood.pace.figure.text(app.system)}"
        return ft.Row(
            [look.quiet(said, expand=True), look.plain("Pace", lambda _: app.go("/pace"))],
        )
    return ft.Row(
        [
            look.quiet("To measure in paces, walk a taped course once.", expand=True),
            look.plain("Measure my pace", lambda _: app.go("/pace")),
        ]
    )


def _result(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    if stood.outline is None:
        if is_measured(visit) and _only_missing(stood.measured):
            return [look.quiet("Fill in the rest and the area appears here.")]
        return []
    drawn = [look.remark(warning) for warning in stood.outline.warnings]
    return [
        look.card(figure_list(stood.outline.figures, app.system, app.settings.confidence), *drawn),
        look.card(sketch(stood.outline, app.system)),
        look.primary("On to the works", lambda _: app.go(f"/visit/{visit.id}/works"), ft.Icons.ARROW_FORWARD),
    ]


def _only_missing(reading: Reading) -> bool:
    return all(sentence.startswith("Fill in") for sentence in reading.problems.values())
