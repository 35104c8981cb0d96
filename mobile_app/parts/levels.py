"""The map of high and low spots on screen: each reading a disc, larger the further from the wanted level."""

from __future__ import annotations

import flet as ft
import flet.canvas as cv

from logic.measure.levels import HighLow, Spot
from logic.units import nominal
from mobile_app.parts import look

_HIGHEST = 320.0
_LEAST_TEXT = 40.0  # a disc's room [px] below which its number is left out
_WIDTH = 260.0


@ft.component
def LevelMap(found: HighLow) -> ft.Control:
    """Hollows in clay with −, high spots in green with +, in millimetres."""
    width, set_width = ft.use_state(_WIDTH)
    columns, rows = len(found.rows[0]), len(found.rows)
    room = min(width / columns, _HIGHEST / rows)
    most = max((abs(nominal(s.above)) for s in found.spots), default=0) or 1.0
    shapes: list[cv.Shape] = []
    for row, spots in enumerate(found.rows):
        for column, spot in enumerate(spots):
            x = (column + 0.5) * room + (width - room * columns) / 2
            y = (rows - row - 0.5) * room
            shapes += _spot(spot, x, y, room, most)
    high, low = found.highest, found.lowest
    said = f"Highest {_mm(high)} mm, lowest {_mm(low)} mm against the wanted level"
    canvas = cv.Canvas(
        shapes, height=room * rows, expand=True, on_resize=lambda e: set_width(max(_WIDTH, round(e.width)))
    )
    return look.stack(
        ft.Semantics(
            image=True, label=f"Map of levels. {said}", content=ft.Row([canvas], height=room * rows)
        ),
        look.quiet(f"{said}. The first row is at the foot; + is high, − is a hollow."),
        spacing=6,
    )


def _mm(spot: Spot) -> str:
    whole = round(nominal(spot.above))
    return f"{whole:+d}".replace("-", "−") if whole else "0"


def _spot(spot: Spot, x: float, y: float, room: float, most: float) -> list[cv.Shape]:
    above = nominal(spot.above)
    share = abs(above) / most
    filling = ft.Colors.PRIMARY_CONTAINER if above >= 0 else ft.Colors.TERTIARY_CONTAINER
    edge = ft.Colors.PRIMARY if above >= 0 else ft.Colors.TERTIARY
    radius = room * (0.16 + 0.32 * share**0.5)
    shapes: list[cv.Shape] = [
        cv.Circle(x, y, radius, paint=ft.Paint(style=ft.PaintingStyle.FILL, color=filling)),
        cv.Circle(x, y, radius, paint=ft.Paint(style=ft.PaintingStyle.STROKE, color=edge, stroke_width=2)),
    ]
    if room >= _LEAST_TEXT:
        style = ft.TextStyle(size=look.LABEL, color=ft.Colors.ON_SURFACE, font_family=look.FAMILY)
        shapes.append(cv.Text(x, y, _mm(spot), style=style, alignment=ft.Alignment.CENTER))
    return shapes
