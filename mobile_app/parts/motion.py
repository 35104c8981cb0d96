"""The phone's own count of steps: a suggestion beside the pad, taken over only by a tap."""

from __future__ import annotations

from collections.abc import Callable

import flet as ft
from flet.components.hooks.use_ref import MutableRef

from logic.measure.steps import StepCounter
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.protocols import Listening, Sample

_SAID = {
    "absent": "There are no motion readings here. Tap once at every pace; your count is as it was.",
    "denied": "The motion sensor was not allowed. Tap once at every pace; your count is as it was.",
    "asked": "Waiting for the motion sensor …",
}


class _Ear:
    """What listens while the pad is open."""

    def __init__(self) -> None:
        self.counter = StepCounter()
        self.listening: Listening | None = None


@ft.component
def MotionCount(app: App, steps: int, take: Callable[[int], None]) -> ft.Control:
    """Offers to count by motion. steps: how many make a pace. take: use so many paces as the count."""
    state, set_state = ft.use_state("")
    counted, set_counted = ft.use_state(0)
    ear: MutableRef[_Ear] = ft.use_ref(lambda: _Ear())
    kept = ear.current or _Ear()

    def hear(samples: list[Sample]) -> None:
        for sample in samples:
            kept.counter.take(*sample)
        set_state("on")
        set_counted(kept.counter.steps)

    def start(_: object) -> None:
        kept.counter = StepCounter()
        set_counted(0)
        set_state("asked")
        kept.listening = app.listen_to_motion(hear, set_state)

    def stop() -> None:
        if kept.listening:
            kept.listening.stop()
        kept.listening = None

    def stop_and_say(_: object) -> None:
        stop()
        set_state("")

    ft.on_unmounted(stop)
    if state == "on":
        paces = counted // steps
        return look.card(
            look.words(f"The phone suggests {paces} paces", weight=ft.FontWeight.BOLD),
            look.quiet("A guess from its motion (common practice, no source). Check it before you take it."),
            ft.Row(
                [
                    look.secondary(f"Take {paces}", lambda _: take(paces)),
                    look.plain("Stop", stop_and_say),
                ],
                spacing=8,
            ),
            spacing=6,
        )
    if state == "asked":
        return look.quiet(_SAID[state])
    button = ft.Row([look.plain("Let the phone count", start, ft.Icons.DIRECTIONS_WALK)])
    return look.stack(*([look.quiet(_SAID[state])] if state in _SAID else []), button, spacing=0)
