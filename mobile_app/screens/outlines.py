"""How a green's outline was measured over the years: a small sketch of each visit that measured it anew."""

from __future__ import annotations

import flet as ft

from logic.records.types import Sward, Visit
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.folded import folded
from mobile_app.parts.sketch import SketchView

_MOST = 6


def section(app: App, sward: Sward) -> list[ft.Control]:
    """The outlines, folded away; nothing while there is only one."""
    found = measured_anew(app.book.visits_of(sward.id))[:_MOST]
    if len(found) < 2:
        return []
    return [folded(f"outlines-{sward.id}", "Outline history", lambda: _sketches(app, found))]


def measured_anew(visits: list[Visit]) -> list[Visit]:
    """The visits, newest first, whose outline is not that of the visit before."""
    outlines = [*(visit.outline for visit in visits[1:]), {}]
    return [visit for visit, before in zip(visits, outlines, strict=False) if visit.outline != before]


def _sketches(app: App, visits: list[Visit]) -> ft.Control:
    cards: list[ft.Control] = []
    for visit in visits:
        stood = app.standing(visit)
        if stood.outline is None or stood.area is None:
            continue
        said = f"{visit.started.astimezone():%d %b %Y}: {stood.area.text_with_margin(app.system)}"
        cards.append(
            look.card(
                ft.Text(said, size=look.BODY, weight=ft.FontWeight.BOLD),
                look.keyed(f"sketch-{visit.id}", SketchView, stood.outline, app.system),
                key=f"outline-{visit.id}",
            )
        )
    return look.stack(*cards)
