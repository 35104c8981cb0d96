"""How a sward went over its visits: each figure against its own history; a class word never comes first."""

from __future__ import annotations

from collections.abc import Sequence

import flet as ft

from logic.records.types import Sward
from logic.survey.history import Trend
from mobile_app import survey
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.chart import TrendChart
from mobile_app.parts.folded import folded

_OPEN = 3  # charts that are not folded away


def section(app: App, sward: Sward) -> list[ft.Control]:
    """The trends of a sward; what is missing for them while there are fewer than two days of readings."""
    found = survey.history(app, sward)
    drawn = [trend for trend in found if len(trend.points) > 1]
    rows: list[ft.Control] = [look.title("How it went")]
    if not drawn:
        said = (
            "One visit has readings. After the next one, taken the same way, the change shows here."
            if found
            else "Take the same readings at two visits, and what changed shows here: thatch, cover, height "
            "of cut. This green's own history says more than any table."
        )
        return [*rows, look.quiet(said)]
    rows += [_trend(app, trend) for trend in drawn[:_OPEN]]
    if drawn[_OPEN:]:
        rest: Sequence[Trend] = drawn[_OPEN:]
        rows.append(
            folded(
                f"trends-{sward.id}",
                f"{len(rest)} more",
                lambda: look.stack(*(_trend(app, trend) for trend in rest), spacing=14),
            )
        )
    return rows


def _trend(app: App, trend: Trend) -> ft.Control:
    sentence = trend.sentence.removeprefix(f"{trend.name}: ")
    return look.card(
        look.words(trend.name, weight=ft.FontWeight.BOLD),
        look.quiet(f"{sentence[:1].upper()}{sentence[1:]}"),
        look.keyed(f"chart-{trend.key}", TrendChart, trend, app.system),
        spacing=6,
        key=f"trend-{trend.key}",
    )
