"""A clock that counts up, once a second, and draws nothing but itself."""

from __future__ import annotations

import asyncio
from datetime import datetime

import flet as ft
from flet.components.hooks.use_ref import MutableRef

from logic.records.types import utc_now
from mobile_app.parts import look

_HUGE = 54


class _Hand:
    """What moves the clock while it is on the screen."""

    def __init__(self) -> None:
        self.task: asyncio.Task[None] | None = None

    def stop(self) -> None:
        if self.task is not None:
            self.task.cancel()
        self.task = None


def reads(seconds: float) -> str:
    """Seconds as "7:05" or "1:07:05"."""
    whole = int(seconds)
    hours, minutes, rest = whole // 3600, whole // 60 % 60, whole % 60
    return f"{hours}:{minutes:02d}:{rest:02d}" if hours else f"{minutes}:{rest:02d}"


@ft.component
def Clock(spent: float, since: datetime | None, size: int = _HUGE) -> ft.Control:
    """Time worked. spent: seconds of what has ended; since: when what runs was started, None when nothing
    does."""
    _, set_now = ft.use_state(0)
    hand: MutableRef[_Hand] = ft.use_ref(lambda: _Hand())
    kept = hand.current or _Hand()

    def start() -> None:
        kept.stop()
        if since is not None:
            kept.task = asyncio.get_running_loop().create_task(_move())

    async def _move() -> None:
        while True:
            await asyncio.sleep(1)
            set_now(lambda n: n + 1)

    ft.use_effect(start, [since], kept.stop)
    running = (utc_now() - since).total_seconds() if since else 0.0
    text = reads(spent + max(0.0, running))
    return ft.Semantics(
        label=f"Time worked {text}",
        identifier="clock",
        exclude_semantics=True,
        content=ft.Text(
            text,
            size=size,
            weight=ft.FontWeight.BOLD,
            color=ft.Colors.PRIMARY if since else ft.Colors.ON_SURFACE_VARIANT,
            font_family=look.FAMILY,
        ),
    )
