"""Levels: hollows under a straight-edge, or heights on a grid; their map; the fill for the topdressing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import flet as ft

from logic.figure import Figure
from logic.records.drafts import given_of, method_in, values_in, with_method
from logic.records.levelled import FIRST_WAY, WAYS, Levelled, level_form, take_levels
from logic.records.types import Visit
from logic.records.visits import levels_of, with_levels, with_work, with_work_value
from logic.units import spread
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.figures import figure_list
from mobile_app.parts.form import form_in
from mobile_app.parts.hands import Hands
from mobile_app.parts.levels import LevelMap

_FILLS = "topdressing"


@ft.component
def LevelSection(app: App, doc: Mapping[str, Any], put: str, hands: Hands, confidence: float) -> ft.Control:
    """Levels, folded away until someone takes them. put: what of them is in the topdressing."""
    is_open, set_open = ft.use_state(False)

    def begin(_: object) -> None:
        set_open(True)
        if not levels_of(app.visit_in_hand()):
            app.edit(with_levels(app.visit_in_hand(), with_method({}, FIRST_WAY, level_form)))

    def pick(way: str) -> None:
        held = levels_of(app.visit_in_hand())
        app.edit(with_levels(app.visit_in_hand(), with_method(held, way, level_form)))

    if not doc or not is_open:
        return _folded(doc, hands, begin)
    found, reading = take_levels(given_of(doc), hands.pace)
    way = method_in(doc)
    lines: list[ft.Control] = [
        look.title("Levels", look.BODY),
        look.choices(tuple((key, name) for key, (name, _) in WAYS.items()), way, pick),
        look.keyed(f"form-{way}", _LevelForm, way, doc, reading, hands),
    ]
    if found:
        if found.map:
            lines.append(look.keyed("map", LevelMap, found.map))
        lines.append(figure_list(found.figures, hands.system, confidence))
        lines.append(_to_works(app, put, found.volume))
    lines.append(ft.Row([look.plain("Fold levels away", lambda _: set_open(False))]))
    return look.card(*lines, padding=ft.Padding.all(12), spacing=14)


@ft.component
def _LevelForm(way: str, doc: Mapping[str, Any], reading: Any, hands: Hands) -> ft.Control:
    return form_in(level_form(way), values_in(doc), reading, hands)


def _folded(doc: Mapping[str, Any], hands: Hands, begin: Any) -> ft.Control:
    said = "Hollows under a straight-edge, or heights on a grid: how much fill they take, and where."
    found: Levelled | None = take_levels(given_of(doc), hands.pace)[0] if doc else None
    if found:
        said = f"{found.volume.name}: {found.volume.text_with_margin(hands.system)}"
    return look.card(
        look.title("Levels", look.BODY),
        look.quiet(said),
        ft.Row([look.secondary("Open the levels" if doc else "Take levels", begin)]),
    )


def fill_text(volume: Figure) -> str:
    """The fill as a form stores it: litres, with the ± that the levels leave."""
    litres = volume.value.to("L").magnitude
    return f"{volume.nominal * 1000:.4g} ± {spread(litres):.3g} L"


def filled(visit: Visit) -> str:
    """The hollows that the topdressing of a visit makes up, as stored; "" when it makes up none."""
    dressing = next((work for work in visit.works if work.get("operation") == _FILLS), {})
    return str(dressing.get("values", {}).get("hollows") or "")


def _to_works(app: App, put: str, volume: Figure) -> ft.Control:
    """Hands the fill on to the topdressing, adding that work where it is not planned yet."""
    text = fill_text(volume)
    if put == text:
        return look.quiet("The topdressing makes these hollows up.")

    def hand_on(_: object) -> None:
        visit = app.visit_in_hand()
        if not any(work.get("operation") == _FILLS for work in visit.works):
            visit = with_work(visit, _FILLS)
        place = next(i for i, work in enumerate(visit.works) if work.get("operation") == _FILLS)
        app.edit_undoable(
            with_work_value(visit, place, "hollows", text), "put the hollows into the topdressing"
        )

    return ft.Row([look.secondary("Put it into the topdressing", hand_on)], wrap=True)
