"""A page of a document on screen, drawn from what stands in its file; two fingers make it larger."""

from __future__ import annotations

import flet as ft
import flet.canvas as cv

from logic.report.preview import Lettering, Picture, Shape, Sheet
from mobile_app.parts import look

_ASCENT = 1984 / 2048  # of the font: how far its base line lies below the top of a line, in parts of the size
_PAPER = "#FFFFFF"


@ft.component
def SheetView(sheet: Sheet, zoom: float) -> ft.Control:
    """The page as wide as there is room, times `zoom`."""
    width, set_width = ft.use_state(288.0)
    scale = width * zoom / sheet.width
    high, wide = sheet.height * scale, sheet.width * scale
    shapes: list[cv.Shape] = [
        cv.Rect(0, 0, wide, high, paint=ft.Paint(color=_PAPER, style=ft.PaintingStyle.FILL))
    ]
    for mark in sheet.marks:
        if isinstance(mark, Lettering):
            shapes.append(_letters(mark, scale))
        elif isinstance(mark, Shape):
            shapes += _lines(mark, scale)
        else:
            shapes.append(_photo(mark, scale))
    page = cv.Canvas(shapes, width=wide, height=high)
    spoken = " ".join(mark.text for mark in sheet.marks if isinstance(mark, Lettering))
    return ft.Semantics(
        image=True,
        label=spoken,
        identifier="sheet",
        content=ft.Container(
            ft.Row([page], scroll=ft.ScrollMode.AUTO),
            border=ft.Border.all(1, ft.Colors.OUTLINE),
            on_size_change=lambda e: set_width(max(200.0, round(e.width - 2))),
        ),
    )


def _hex(colour: tuple[float, float, float]) -> str:
    return "#" + "".join(f"{round(255 * part):02X}" for part in colour)


def _letters(mark: Lettering, scale: float) -> cv.Shape:
    style = ft.TextStyle(
        size=mark.size * scale,
        color=_hex(mark.colour),
        font_family=look.FAMILY,
        weight=ft.FontWeight.BOLD if mark.bold else ft.FontWeight.NORMAL,
    )
    return cv.Text(mark.x * scale, (mark.y - _ASCENT * mark.size) * scale, mark.text, style=style)


def _lines(mark: Shape, scale: float) -> list[cv.Shape]:
    (x, y), *rest = [(x * scale, y * scale) for x, y in mark.points]
    path: list[cv.Path.PathElement] = [cv.Path.MoveTo(x, y), *(cv.Path.LineTo(*point) for point in rest)]
    if mark.closed:
        path.append(cv.Path.Close())
    found: list[cv.Shape] = []
    if mark.fill is not None:
        found.append(cv.Path(path, paint=ft.Paint(style=ft.PaintingStyle.FILL, color=_hex(mark.fill))))
    if mark.line is not None:
        pen = ft.Paint(
            style=ft.PaintingStyle.STROKE,
            color=_hex(mark.line),
            stroke_width=max(mark.width * scale, 0.5),
            stroke_dash_pattern=[length * scale for length in mark.dash] or None,
        )
        found.append(cv.Path(list(path), paint=pen))
    return found


def _photo(mark: Picture, scale: float) -> cv.Shape:
    """The photo in its frame; the screen turns it the right way up by itself."""
    (x1, y1), (x2, y2), (x3, y3) = mark.corners
    xs, ys = (x1, x2, x3, x2 + x3 - x1), (y1, y2, y3, y2 + y3 - y1)
    return cv.Image(
        src=mark.data,
        x=min(xs) * scale,
        y=min(ys) * scale,
        width=(max(xs) - min(xs)) * scale,
        height=(max(ys) - min(ys)) * scale,
    )
