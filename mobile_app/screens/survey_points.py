"""Cover counted by tapping: one large button for each thing that a point can lie on, in gloves, with undo."""

from __future__ import annotations

from typing import Any

import flet as ft

from logic.field import Reading
from logic.records.types import Visit
from logic.survey import stored
from logic.survey.cover import CLASSES
from logic.survey.kind import Taken
from logic.survey.stored import Held
from logic.survey.wanted import still_wanted
from logic.units import nominal
from mobile_app import survey
from mobile_app.app import App
from mobile_app.parts import look

COUNTING = "points:"  # before the id of the reading, in the state's `counting`
_SHORT = {"grass": "Grass", "other_grass": "Other grass", "moss": "Moss", "weed": "Weed", "bare": "Bare"} | {
    "dead": "Dead, straw"
}
_LEAST, _AROUND = 104.0, 196.0  # least height of a button; what stands above and below all of them [px]
_NO_TAPS: tuple[str, ...] = ()


def start(app: App, one: Held) -> ft.Control:
    """The way to the pad, with what has been counted so far."""
    values = one.entry.get("values") or {}
    points = sum(_count(values, key) for key, _ in CLASSES)
    said = f"Go on counting: {points} so far" if points else "Count by tapping"

    def count(_: object) -> None:
        app.change(counting=f"{COUNTING}{one.entry['id']}")

    return look.primary(said, count, ft.Icons.TOUCH_APP)


def pad(app: App, visit: Visit) -> ft.Control:
    """The pad over the whole screen, for the reading that asked for it."""
    entry_id = app.state.counting.removeprefix(COUNTING)
    one = next((one for one in survey.readings(app, visit) if one.entry["id"] == entry_id), None)
    if one is None:
        entry = stored.entry_of(visit.readings, entry_id) or {"id": entry_id}
        one = Held(entry, None, Reading(None))
    return look.keyed(f"points-{entry_id}", Pad, app, one)


def _count(values: Any, key: str) -> int:
    """Points of a class so far; what was typed and is no count is counted on from nought."""
    text = str(values.get(key) or "").strip()
    return int(text) if text.isdecimal() and len(text) < 7 else 0


@ft.component
def Pad(app: App, one: Held) -> ft.Control:
    """Every tap is one point. Another place of the frame is said with a tap of its own."""
    taps, set_taps = ft.use_state(_NO_TAPS)
    tall, set_tall = ft.use_state(0.0)
    entry_id, values = str(one.entry["id"]), one.entry.get("values") or {}
    points = sum(_count(values, key) for key, _ in CLASSES)
    places = max(1, _count(values, "places"))

    def tap(key: str) -> None:
        app.tick()
        held = stored.entry_of(app.visit_in_hand().readings, entry_id) or {}
        now = held.get("values") or {}
        more = {} if _count(now, "places") else {"places": "1"}
        survey.tapped(app, entry_id, {key: str(_count(now, key) + 1), **more})
        set_taps(lambda before: (*before, key))

    def undo(_: object) -> None:
        if not taps:
            return
        key = taps[-1]
        held = stored.entry_of(app.visit_in_hand().readings, entry_id) or {}
        left = _count(held.get("values") or {}, key) - 1
        survey.tapped(app, entry_id, {key: str(left) if left > 0 else ""})
        set_taps(taps[:-1])

    def move(_: object) -> None:
        survey.tapped(app, entry_id, {"places": str(places + 1)})

    head = ft.Row(
        [
            look.stack(
                look.title(f"{points} points" if points != 1 else "1 point"),
                look.quiet(f"Place {places}. {_wanted(one.taken)}"),
                spacing=0,
            ),
            look.primary("Done", lambda _: app.change(counting="")),
        ],
        alignment=ft.MainAxisAlignment.SPACE_BETWEEN,
    )
    head.controls[0].expand = True
    least = max(_LEAST, (tall - _AROUND) / 3)
    rows = [
        ft.Row([_button(key, values, one.taken, tap, least) for key, _ in CLASSES[at : at + 2]], spacing=8)
        for at in range(0, len(CLASSES), 2)
    ]
    tools = ft.Row(
        [
            look.secondary("Undo", undo, ft.Icons.UNDO, disabled=not taps),
            look.secondary("Next place", move),
        ],
        wrap=True,
        spacing=8,
        run_spacing=8,
    )
    return ft.Container(
        ft.SafeArea(
            ft.Column(
                [head, *rows, tools],
                spacing=8,
                scroll=ft.ScrollMode.AUTO,
                horizontal_alignment=ft.CrossAxisAlignment.STRETCH,
            ),
            expand=True,
        ),
        padding=ft.Padding.all(12),
        expand=True,
        bgcolor=ft.Colors.SURFACE,
        on_size_change=lambda e: set_tall(round(e.height)),
    )


def _wanted(taken: Taken | None) -> str:
    """How many more points are wanted, or that there are enough."""
    more = still_wanted(taken) if taken else None
    if more is None:
        return "Tap what lies under each crossing."
    within = f"for ± {nominal(taken.values.within):g} %" if taken else ""
    return f"{more.nominal:.0f} more {within}" if more.nominal else f"Enough {within}"


def _button(key: str, values: Any, taken: Taken | None, tap: Any, least: float) -> ft.Control:
    """A button at least so high: what it is, how many, and the range that its share lies in."""
    count = _count(values, key)
    share = ""
    if taken and count and taken.has(f"{key}_cover"):
        low, high = (taken.figure(f"{key}_cover_{end}").nominal for end in ("low", "high"))
        share = f"{low:.0f} to {high:.0f} %"
    ink = ft.Colors.ON_PRIMARY_CONTAINER

    def tapped(_: object) -> None:
        tap(key)

    text = ft.Column(
        [
            ft.Text(
                _SHORT[key],
                size=look.BODY,
                weight=ft.FontWeight.BOLD,
                color=ink,
                text_align=ft.TextAlign.CENTER,
            ),
            ft.Text(str(count), size=40, weight=ft.FontWeight.BOLD, color=ink),
            ft.Text(share or " ", size=look.LABEL, color=ink, text_align=ft.TextAlign.CENTER),
        ],
        spacing=0,
        tight=True,
        horizontal_alignment=ft.CrossAxisAlignment.CENTER,
        expand=True,
    )
    return ft.Semantics(
        button=True,
        label=f"{_SHORT[key]}, {count}",
        identifier=f"point-{key}",
        exclude_semantics=True,
        on_tap=tapped,
        expand=True,
        content=ft.Container(
            ft.Row(
                [text, ft.Container(width=0, height=least)],
                spacing=0,
                alignment=ft.MainAxisAlignment.CENTER,
            ),
            bgcolor=ft.Colors.PRIMARY_CONTAINER,
            border=ft.Border.all(2, ft.Colors.PRIMARY),
            border_radius=12,
            padding=ft.Padding.symmetric(horizontal=6),
            on_tap_down=tapped,
        ),
    )
