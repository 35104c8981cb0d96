"""The pace counter: one large area to tap at every pace, undo, legs that add up, the phone's own count."""

from __future__ import annotations

from collections.abc import Callable

import flet as ft

from logic.records.types import Visit
from logic.records.visits import reading_at, with_reading
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.motion import MotionCount

_NO_LEGS: tuple[float, ...] = ()


def counter(app: App, visit: Visit) -> ft.Control:
    """Counts paces for the reading that asked for it, over the whole screen."""
    place = app.state.counting
    found = reading_at(visit, place)
    name = found[1] if found else "Paces"
    following = _following(visit, place)
    pace = app.pace_of(visit)

    def use(total: float) -> None:
        app.edit(with_reading(app.visit_in_hand(), place, f"{total:g} paces"))
        app.change(counting="")

    def use_and_go_on(total: float) -> None:
        app.edit(with_reading(app.visit_in_hand(), place, f"{total:g} paces"))
        app.change(counting=following)

    steps = 2 if pace and pace.steps == "two" else 1
    return look.keyed(
        f"counter-{place}", CounterPad, app, name, use, use_and_go_on if following else None, steps
    )


def _following(visit: Visit, place: str) -> str:
    """The place of the next entry of the same list or column, "" outside lists."""
    head, _, path = place.rpartition(":")
    pieces = path.split(".")
    numbers = [i for i, piece in enumerate(pieces) if piece.isdecimal()]
    if not numbers or len(pieces) - numbers[-1] > 2:
        return ""
    at = numbers[-1]
    pieces[at] = str(int(pieces[at]) + 1)
    found = f"{head}:{'.'.join(pieces)}" if head else ".".join(pieces)
    return found if reading_at(visit, found) else ""


@ft.component
def CounterPad(
    app: App,
    heading: str,
    use: Callable[[float], None],
    use_and_go_on: Callable[[float], None] | None = None,
    steps: int = 1,
) -> ft.Control:
    """The pad itself. Every tap is one pace; a leg is closed at a corner; halves are added at the end.

    steps: how many steps make one of the walker's paces.
    """
    count, set_count = ft.use_state(0.0)
    legs, set_legs = ft.use_state(_NO_LEGS)

    def tap(_: object) -> None:
        app.tick()
        set_count(lambda n: n + 1)

    def undo(_: object) -> None:
        if count:
            set_count(lambda n: max(0.0, n - 1))
        elif legs:
            set_count(legs[-1])
            set_legs(legs[:-1])

    def close_leg(_: object) -> None:
        if count:
            set_legs((*legs, count))
            set_count(0.0)

    total = sum(legs) + count
    finish: list[ft.Control] = [look.primary(f"Use {total:g} paces", lambda _: use(total))]
    if use_and_go_on:
        go_on = use_and_go_on
        finish.append(look.secondary("Use, then the next", lambda _: go_on(total)))
    finish.append(look.plain("Cancel", lambda _: app.change(counting="")))
    tools = [
        look.secondary("Undo", undo, ft.Icons.UNDO),
        look.secondary("Next leg", close_leg),
        look.secondary("+ ½", lambda _: set_count(lambda n: n + 0.5)),
    ]
    take = lambda paces: set_count(float(max(0.0, paces - sum(legs))))  # noqa: E731
    return ft.Container(
        ft.SafeArea(
            ft.Column(
                [
                    look.title(heading),
                    ft.Row(finish, wrap=True, spacing=8, run_spacing=8),
                    _pad(total, legs, count, tap),
                    ft.Row(tools, wrap=True, spacing=8, run_spacing=8),
                    look.keyed("motion", MotionCount, app, steps, take),
                ],
                spacing=10,
                expand=True,
                horizontal_alignment=ft.CrossAxisAlignment.STRETCH,
            ),
            expand=True,
        ),
        padding=ft.Padding.all(14),
        expand=True,
        bgcolor=ft.Colors.SURFACE,
    )


def _pad(total: float, legs: tuple[float, ...], count: float, tap: Callable[[object], None]) -> ft.Control:
    """The area to tap. Two bars light in turn, so that a tap is seen without reading the number."""
    said = " + ".join(f"{leg:g}" for leg in (*legs, count)) if legs else "Tap once at every pace"
    odd = int(count) % 2 == 1

    def foot(lit: bool) -> ft.Control:
        return ft.Container(
            width=14, border_radius=7, bgcolor=ft.Colors.PRIMARY if lit else ft.Colors.TRANSPARENT
        )

    number = ft.Column(
        [
            ft.Text(
                f"{total:g}",
                size=96,
                weight=ft.FontWeight.BOLD,
                color=ft.Colors.ON_PRIMARY_CONTAINER,
                height=116,
            ),
            ft.Text(
                said, size=look.BODY, color=ft.Colors.ON_PRIMARY_CONTAINER, text_align=ft.TextAlign.CENTER
            ),
        ],
        alignment=ft.MainAxisAlignment.CENTER,
        horizontal_alignment=ft.CrossAxisAlignment.CENTER,
        spacing=0,
        expand=True,
    )
    return ft.Semantics(
        button=True,
        label=f"Count a pace, {total:g} so far",
        live_region=True,
        identifier="count-pad",
        exclude_semantics=True,
        on_tap=tap,
        expand=True,
        content=ft.Container(
            ft.Row(
                [foot(odd), number, foot(bool(count) and not odd)],
                vertical_alignment=ft.CrossAxisAlignment.STRETCH,
                expand=True,
            ),
            bgcolor=ft.Colors.PRIMARY_CONTAINER,
            border_radius=16,
            padding=ft.Padding.all(12),
            on_tap_down=tap,
            expand=True,
        ),
    )
