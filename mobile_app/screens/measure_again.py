"""Measuring the same ground a second time: the surest check there is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import flet as ft

from logic.field import Reading
from logic.records.drafts import has_values, with_method
from logic.records.second import Twice
from logic.records.visits import second_of, with_second
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.hands import Hands
from mobile_app.parts.kept import Do, kept
from mobile_app.parts.parts_editor import OutlineView

_OFFER = (
    "Measure the same green in another way, or the same way again from the start. If the two agree, they are "
    "better together than either; if not, you know before the seed is bought."
)


@ft.component
def Again(
    app: App, second: Mapping[str, Any] | None, method: str, twice: Twice | None, hands: Hands
) -> ft.Control:
    """The second measurement, folded away until someone wants it. method: of the first."""
    is_open, set_open = ft.use_state(second is not None)

    def begin(_: object) -> None:
        set_open(True)
        if second_of(app.visit_in_hand()) is None:
            app.edit(with_second(app.visit_in_hand(), with_method({}, method)))

    def drop(_: object) -> None:
        set_open(False)
        if second is not None and has_values(second):
            app.edit_undoable(with_second(app.visit_in_hand(), None), "take out the second measurement")
        else:
            app.edit(with_second(app.visit_in_hand(), None))

    if second is None or not is_open:
        return look.card(
            look.title("Measure it twice", look.BODY),
            look.quiet(_OFFER),
            ft.Row([look.secondary("Measure again", begin)]),
        )
    reading = twice.reading if twice else Reading(None)
    lines: list[ft.Control] = [
        look.title("The second measurement", look.BODY),
        kept("second", OutlineView, second, reading, hands, Do(_put_method, app), ()),
        *_verdict(twice, hands.system),
        ft.Row([look.plain("Take it out", drop, ft.Icons.DELETE_OUTLINE)]),
    ]
    return look.card(*lines, padding=ft.Padding.all(12), spacing=14)


def _put_method(app: App, key: str) -> None:
    held = second_of(app.visit_in_hand()) or {}
    app.edit(with_second(app.visit_in_hand(), with_method(held, key)))


def _verdict(twice: Twice | None, system: str) -> list[ft.Control]:
    """What the comparison says: a tick or a mark, and one sentence."""
    if twice is None or twice.second is None or twice.agree is None:
        return []
    colour = ft.Colors.PRIMARY if twice.agree else ft.Colors.TERTIARY
    sentence = twice.sentence(system)
    return [
        ft.Semantics(
            live_region=True,
            identifier="twice",
            label=sentence,
            exclude_semantics=True,
            content=ft.Container(
                ft.Row(
                    [
                        ft.Icon(
                            ft.Icons.CHECK_CIRCLE if twice.agree else ft.Icons.ERROR_OUTLINE,
                            color=colour,
                            size=28,
                        ),
                        ft.Column(
                            [
                                look.words(
                                    f"Second: {twice.second.area.text_with_margin(system)}",
                                    weight=ft.FontWeight.BOLD,
                                ),
                                ft.Text(sentence, size=look.LABEL),
                            ],
                            spacing=4,
                            tight=True,
                            expand=True,
                        ),
                    ],
                    spacing=10,
                    vertical_alignment=ft.CrossAxisAlignment.START,
                ),
                border=ft.Border.all(2, colour),
                border_radius=8,
                padding=ft.Padding.all(12),
            ),
        )
    ]
