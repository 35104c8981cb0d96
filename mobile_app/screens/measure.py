"""Measuring: the shape, its readings, the area with its ±, the sketch; a second time; levels."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import flet as ft
from flet.components.hooks.use_ref import MutableRef

from logic.field import Reading
from logic.measure.outline import Outline
from logic.records.standing import Standing
from logic.records.types import Visit
from logic.records.visits import (
    is_measured,
    levels_of,
    method_key,
    reading_at,
    second_of,
    with_method,
    with_reading,
)
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.figures import figure_list
from mobile_app.parts.form import FieldView
from mobile_app.parts.hands import Hands
from mobile_app.parts.kept import Do, kept, later
from mobile_app.parts.parts_editor import OutlineView
from mobile_app.parts.sketch import SketchView
from mobile_app.screens.measure_again import Again
from mobile_app.screens.measure_levels import LevelSection, filled
from mobile_app.screens.pace import paced_with


def hands_for(app: App, visit: Visit, stood: Standing, which: str = "") -> Hands:
    """The hands of the visit's outline, or of its "second" one or its "levels"."""
    before = f"{which}:" if which else ""
    change, discard, count = (Do(do, app, before) for do in (_change, _discard, _count))
    return Hands(app.system, f"{visit.id}-{which}", change, discard, FieldView, count, stood.pace)


def _change(app: App, before: str, path: str, value: Any) -> None:
    app.edit(with_reading(app.visit_in_hand(), before + path, value))


def _discard(app: App, before: str, path: str, value: Any, why: str) -> None:
    app.edit_undoable(with_reading(app.visit_in_hand(), before + path, value), why)


def _count(app: App, before: str, path: str) -> None:
    app.change(counting=before + path)


def _put_method(app: App, key: str) -> None:
    app.edit(with_method(app.visit_in_hand(), key))


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The measuring step."""
    hands, put_method = hands_for(app, visit, stood), Do(_put_method, app)
    outline = kept(f"outline-{visit.id}", OutlineView, visit.outline, stood.measured, hands, put_method, ())
    return [
        kept("pace", PaceLine, app, paced_with(app, visit)),
        look.card(outline, padding=ft.Padding.all(12)),
        *_result(app, visit, stood),
        *_more(app, visit, stood),
    ]


@ft.component
def PaceLine(app: App, said: str) -> ft.Control:
    """With which pace is measured, and the way to measure it."""
    if said:
        button = look.plain("Change", lambda _: app.go("/pace"))
    else:
        said = "To measure in paces, walk a taped course once."
        button = look.plain("Measure my pace", lambda _: app.go("/pace"))
    return ft.Row([look.quiet(said, expand=True), button])


def _result(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    # The sketch comes first and stays while one of its lengths is being typed, so that nothing jumps.
    lines: list[ft.Control] = [look.keyed("drawing", Drawing, app, visit, stood)]
    if stood.outline is None:
        if is_measured(visit) and _only_missing(stood.measured):
            lines.append(look.quiet("Fill in the rest and the area appears here."))
        return lines
    drawn = [look.remark(warning) for warning in stood.outline.warnings]
    return [
        *lines,
        look.card(figure_list(stood.outline.figures, app.system, app.settings.confidence), *drawn),
        look.primary("On to the works", lambda _: app.go(f"/visit/{visit.id}/works"), ft.Icons.ARROW_FORWARD),
    ]


def _only_missing(reading: Reading) -> bool:
    return all(sentence.startswith("Fill in") for sentence in reading.problems.values())


@ft.component
def Drawing(app: App, visit: Visit, stood: Standing) -> ft.Control:
    """The sketch, and under it the length that was tapped."""
    picked, pick = ft.use_state("")
    last: MutableRef[Outline] = ft.use_ref(None)
    found = reading_at(visit, picked) if picked else None
    last.current = stood.outline or (last.current if found else None)
    if last.current is None:
        return ft.Container()
    lines: list[ft.Control] = [
        later("sketch", SketchView, last.current, app.system, ft.use_callback(pick, []))
    ]
    if found is None:
        lines.append(look.quiet("Tap a length to change it."))
        return look.card(*lines, padding=ft.Padding.all(12))
    item, name, stored = found
    key, _, end = picked.rpartition(".")
    hands = hands_for(app, visit, stood)
    one = look.keyed(
        f"one-{picked}",
        FieldView,
        _alone(item, end, name),
        stored,
        "" if not stored else stood.measured.problems.get(picked.split(".")[0], ""),
        "",
        hands.under(key) if key else hands,
    )
    lines.append(
        ft.Container(
            look.stack(one, ft.Row([look.plain("Done", lambda _: pick(""))]), spacing=4),
            bgcolor=ft.Colors.SURFACE_CONTAINER_HIGH,
            border_radius=8,
            padding=ft.Padding.all(10),
        )
    )
    return look.card(*lines, padding=ft.Padding.all(12))


def _alone(item: Any, key: str, name: str) -> Any:
    """A field drawn by itself, under its whole name and with the last piece of its path as its key."""
    return replace(item, key=key, label=name, help="")


def _more(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    lines: list[ft.Control] = []
    if stood.outline is not None:
        second = second_of(visit), method_key(visit), stood.twice
        lines.append(kept("again", Again, app, *second, hands_for(app, visit, stood, "second")))
    hands, sure = hands_for(app, visit, stood, "levels"), app.settings.confidence
    lines.append(kept("levels", LevelSection, app, levels_of(visit), filled(visit), hands, sure))
    return lines
