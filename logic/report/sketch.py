"""Draws a Sketch on paper."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from logic.measure.outline import Outline
from logic.report.drawing import Label, Sketch, Stroke, draw_sketch
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

    def __init__(self, outline: Outline, width: float, height: float, system: str) -> None:
        super().__init__()
        self.width, self.height = width, height
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
