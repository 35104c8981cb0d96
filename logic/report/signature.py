"""A signature drawn on the screen, on paper: the strokes as they were, over a line with name and day."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus import Flowable, Spacer

from logic.report import style
from logic.report.content import Signature
from logic.report.writer import Writer

_WIDE, _HIGH = 200.0, 64.0


class SignatureFlowable(Flowable):  # type: ignore[misc]
    """Strokes fitted into a box, never made larger than they were drawn."""

    def __init__(self, signature: Signature) -> None:
        super().__init__()
        self.strokes = [stroke for stroke in signature.strokes if stroke]
        xs = [x for stroke in self.strokes for x, _ in stroke] or [0.0]
        ys = [y for stroke in self.strokes for _, y in stroke] or [0.0]
        self._left, self._bottom = min(xs), max(ys)
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        self.scale = min(_WIDE, _WIDE / max(wide, 1e-6), _HIGH / max(high, 1e-6))
        self.width, self.height = _WIDE, high * self.scale + 6

    def draw(self) -> None:
        """Called by reportlab with the canvas at the lower left corner."""
        canvas = self.canv
        canvas.setStrokeColor(style.INK)
        canvas.setFillColor(style.INK)
        canvas.setLineWidth(1.3)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for stroke in self.strokes:
            (x, y), *rest = [self._at(point) for point in stroke]
            if not rest:
                canvas.circle(x, y, 0.7, stroke=0, fill=1)
                continue
            path = canvas.beginPath()
            path.moveTo(x, y)
            for point in rest:
                path.lineTo(*point)
            canvas.drawPath(path, stroke=1, fill=0)

    def _at(self, point: tuple[float, float]) -> tuple[float, float]:
        return (point[0] - self._left) * self.scale + 4, (self._bottom - point[1]) * self.scale + 3


def signed(writer: Writer, signature: Signature) -> Iterator[Flowable]:
    """The signature over its line, and who signed when."""
    words = writer.words
    if signature.day:
        said = words.signed_on.format(name=signature.name, day=words.day(signature.day))
    else:
        said = words.signed.format(name=signature.name)
    line = writer.rows(
        [[writer.p(said, style.LABEL)]],
        [_WIDE + 20],
        [("LEFTPADDING", (0, 0), (-1, -1), 0), ("LINEABOVE", (0, 0), (-1, 0), 0.6, style.INK)],
    )
    yield from (Spacer(0, 8), SignatureFlowable(signature), line)
