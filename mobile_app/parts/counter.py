"""The pace counter: one large area to tap at every pace, undo, and legs that add up."""

from __future__ import annotations

from collections.abc import Callable

import flet as ft

from logic.records.types import Visit
from logic.records.visits import with_reading
from mobile_app.app import App
from mobile_app.parts import look

_NO_LEGS: tuple[float, ...] = ()


def counter(app: App, visit: Visit) -> ft.Control:
    """Counts paces for the field that asked for it, full screen."""
    key = app.state.counting

    def use(total: float) -> None:
        app.edit(with_reading(visit, key, f"{total:g} paces"))
        app.change(counting="")

    return look.keyed(f"counter-{key}", CounterPad, app, f"Paces: {key.replace('_', ' ')}", use)


@ft.component
def CounterPad(app: App, heading: str, use: Callable[[float], None]) -> ft.Control:
    """The pad itself. Every tap is one pace; a leg is closed at a corner; halves are added at the end."""
    count, set_count = ft.use_state(0.0)
    legs, set_legs = ft.use_state(_NO_LEGS)

    def tap(_: object) -> None:
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
    said = " + ".join(f"{leg:g}" for leg in (*legs, count)) if legs else "Tap once at every pace"
    pad = ft.Semantics(
        button=True,
        label=f"Count a pace, {total:g} so far",
        live_region=True,
        identifier="count-pad",
        exclude_semantics=True,
        on_tap=tap,
        expand=True,
        content=ft.Container(
            ft.Column(
                [
                    ft.Text(
                        f"{total:g}",
                        size=120,
                        weight=ft.FontWeight.BOLD,
                        color=ft.Colors.ON_PRIMARY_CONTAINER,
                    ),
                    ft.Text(said, size=look.BODY, color=ft.Colors.ON_PRIMARY_CONTAINER),
                ],
                alignment=ft.MainAxisAlignment.CENTER,
                horizontal_alignment=ft.CrossAxisAlignment.CENTER,
            ),
            bgcolor=ft.Colors.PRIMARY_CONTAINER,
            border_radius=16,
            alignment=ft.Alignment.CENTER,
            on_tap_down=tap,
            expand=True,
        ),
    )
    tools = ft.Row(
        [
            look.secondary("Undo", undo),
            look.secondary("Next leg", close_leg),
            look.secondary("+ ½", lambda _: set_count(lambda n: n + 0.5)),
        ],
        wrap=True,
        spacing=8,
        run_spacing=8,
    )
    finish = ft.Row(
        [
            look.primary(f"Use {total:g} paces", lambda _: use(total)),
            look.plain("Cancel", lambda _: app.change(counting="")),
        ],
        wrap=True,
        spacing=8,
    )
    return ft.Container(
        ft.SafeArea(
            ft.Column([look.title(heading), finish, pad, tools], spacing=12, expand=True), expand=True
        ),
        padding=ft.Padding.all(16),
        expand=True,
        bgcolor=ft.Colors.SURFACE,
    )
