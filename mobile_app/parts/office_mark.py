"""How this phone stands with the office, in words and as the small mark over the list of greens."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

import flet as ft

from mobile_app.parts import look
from mobile_app.sync_runner import Standing


def heading(standing: Standing) -> str:
    """The one thing to know, in a few words."""
    if not standing.paired:
        return "Saved on this phone"
    if standing.line.code == "revoked":
        return "This phone was taken off the office's list"
    if standing.conflicts:
        return f"{_count(standing.conflicts, 'thing')} to decide"
    if standing.refused:
        return f"The office refused {_count(standing.refused, 'change')}"
    if standing.line.busy:
        return "Talking to the office"
    if standing.unsent:
        return f"Saved on this phone, {_count(standing.unsent, 'change')} to send"
    if standing.line.met is None:
        return "Saved on this phone"
    return "Saved on this phone and with the office"


def lines(standing: Standing) -> list[str]:
    """What more there is to say: since when what waits, what went wrong, how far the clocks are apart."""
    line = standing.line
    said = []
    if standing.unsent and standing.since:
        said.append(f"{_count(standing.unsent, 'change')} waiting since {_moment(standing.since)}.")
    if standing.photos:
        said.append(f"{_count(standing.photos, 'photo or paper', 'photos and papers')} still to carry.")
    if line.met:
        said.append(f"Last in step with the office {_moment(line.met)}.")
    if line.trouble:
        said.append(line.trouble)
    if line.skew:
        minutes = round(abs(line.skew) / 60)
        way = "fast" if line.skew > 0 else "slow"
        said.append(f"This phone's clock is {_count(minutes, 'minute')} {way}. Nothing is decided by it.")
    if line.mended:
        said.append(f"{_count(line.mended, 'record')} differed from the office's and were put right.")
    return said


def mark(standing: Standing, on_tap: Callable[[], None]) -> list[ft.Control]:
    """The mark over the list of greens; nothing while the phone is on its own."""
    if not standing.paired:
        return []
    said = heading(standing)
    grave = bool(standing.conflicts or standing.refused or standing.line.code)

    def tapped(_: object) -> None:
        on_tap()

    icon = ft.Icons.PRIORITY_HIGH if grave else ft.Icons.DONE if not standing.unsent else ft.Icons.SYNC
    colour = ft.Colors.ERROR if grave else ft.Colors.PRIMARY
    return [
        ft.Semantics(
            button=True,
            label=f"Office: {said}",
            exclude_semantics=True,
            on_tap=tapped,
            content=ft.Container(
                ft.Row(
                    [ft.Icon(icon, size=22, color=colour), look.quiet(said, expand=True)],
                    spacing=8,
                ),
                on_click=tapped,
                height=look.TOUCH,
                padding=ft.Padding.symmetric(horizontal=4),
            ),
            key="office-mark",
        )
    ]


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one}" if number == 1 else f"{number} {many or one + 's'}"


def _moment(moment: datetime) -> str:
    local = moment.astimezone()
    return f"{local:%H:%M}" if local.date() == datetime.now().astimezone().date() else f"{local:%d %b, %H:%M}"
