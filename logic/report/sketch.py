"""Draws a Sketch on paper."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from logic.measure.geometry import Point
from logic.measure.outline import Outline
from logic.report.content import Spot
from logic.report.drawing import Label, Sketch, Stroke, draw_sketch
from logic.report.places import Placer, box_at
from logic.report.style import BOLD, FONT, GREEN, INK, PAPER, QUIET, TINT, text_width

#: The real length of a point on paper [m].
POINT = 0.0254 / 72
#: Line width, colour, dash by role: told apart by weight and dash, not by colour alone.
_LINES = {
    "edge": (1.6, GREEN, ()),
    "hole": (1.0, GREEN, (4, 2)),
    "dimension": (0.6, INK, ()),
    "leader": (0.4, QUIET, ()),
    "scale": (0.9, INK, ()),
    "north": (0.9, INK, ()),
}


class SketchFlowable(Flowable):  # type: ignore[misc]
    """An outline drawn to a round scale inside width × height points."""

    def __init__(
        self,
        outline: Outline,
        width: float,
        height: float,
        system: str,
        spots: Sequence[Spot] = (),
    ) -> None:
        super().__init__()
        self.outline, self.width, self.height, self.spots = outline, width, height, spots
        self.sketch: Sketch = draw_sketch(
            outline, width, height, system=system, text_size=8, measure=text_width, unit_length=POINT
        )

    def draw(self) -> None:
        """Called by reportlab with the canvas at the lower left corner."""
        for mark in self.sketch.marks:
            if isinstance(mark, Stroke):
                _stroke(self.canv, mark, self.height)
        for mark in self.sketch.marks:
            if isinstance(mark, Label):
                _letter(self.canv, mark, self.height)
        taken = Placer((0.0, 0.0, self.width, self.height))
        for mark in self.sketch.marks:
            if isinstance(mark, Label):
                taken.take(mark.box)
        for spot in self.spots:
            self._spot(spot, taken)

    def _spot(self, spot: Spot, taken: Placer) -> None:
        """A cross where the reading was taken, its value in the first free place beside it."""
        x, y = self._at((spot.x, spot.y))
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(1.1)
        for lean in (-1, 1):
            self.canv.line(x - 2.5, self.height - y - 2.5 * lean, x + 2.5, self.height - y + 2.5 * lean)
        wide = text_width(spot.text, 8) + 4
        for right, down in ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1)):
            middle = (x + right * (wide / 2 + 4), y + down * 9.5)
            box = box_at(middle, wide, 10.0)
            if taken.take(box):
                self.canv.setFillColor(INK)
                self.canv.setFont(FONT, 8)
                self.canv.drawCentredString(middle[0], self.height - middle[1] - 2.9, spot.text)
                return

    def _at(self, point: Point) -> Point:
        """Where a point of the ground comes to lie, from where the outline's first corner does."""
        edge = next(m for m in self.sketch.marks if isinstance(m, Stroke) and m.role == "edge")
        (x, y), (east, north) = edge.points[0], self.outline.polygon[0]
        return x + (point[0] - east) * self.sketch.metre, y - (point[1] - north) * self.sketch.metre


def _stroke(canvas: Canvas, mark: Stroke, height: float) -> None:
    width, colour, dash = _LINES[mark.role]
    canvas.setLineWidth(width)
    canvas.setStrokeColor(colour)
    canvas.setDash(*dash) if dash else canvas.setDash()
    path = canvas.beginPath()
    (x, y), *rest = mark.points
    path.moveTo(x, height - y)
    for x, y in rest:
        path.lineTo(x, height - y)
    if mark.closed:
        path.close()
        canvas.setFillColor(TINT if mark.role == "edge" else PAPER)
    canvas.drawPath(path, stroke=1, fill=int(mark.closed))


def _letter(canvas: Canvas, mark: Label, height: float) -> None:
    left, top, right, bottom = mark.box
    if mark.role == "dimension":
        canvas.setFillColor(TINT if mark.inside else PAPER)
        canvas.rect(left, height - bottom, right - left, bottom - top, stroke=0, fill=1)
    canvas.setFillColor(INK)
    canvas.setFont(BOLD if mark.role == "north" else FONT, mark.size)
    canvas.drawCentredString((left + right) / 2, height - (top + bottom) / 2 - 0.36 * mark.size, mark.text)
