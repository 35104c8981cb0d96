"""The core out of the ground, drawn to scale: layers told apart by hatching, their depths lettered beside
them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from logic.figure import Figure
from logic.report.style import BOLD, FONT, GREEN, INK, PAPER, QUIET, TINT, text_width
from logic.report.text import fitted
from logic.report.words import Words

_CORE = 54.0  # width of the drawn core
_ROOM = 23.0  # least height of a layer's lettering


@dataclass(frozen=True)
class CoreLayer:
    """A layer: what it is, and the depths of its top and bottom below the surface."""

    name: str
    top: Figure
    bottom: Figure


class ProfileFlowable(Flowable):  # type: ignore[misc]
    """Layers from the surface down, in width × height points. Higher when the lettering needs it."""

    def __init__(
        self, layers: Sequence[CoreLayer], width: float, height: float, system: str, words: Words
    ) -> None:
        super().__init__()
        self.layers = sorted(layers, key=lambda layer: layer.top.nominal)
        self.system, self.words = system, words
        self.width, self.height = width, max(height, 12 + _ROOM * len(self.layers))

    def draw(self) -> None:
        """Called by reportlab with the canvas at the lower left corner."""
        canvas, depth = self.canv, max(layer.bottom.nominal for layer in self.layers) or 1.0
        top = self.height - 8
        scale = (top - 2) / depth
        canvas.setStrokeColor(GREEN)
        canvas.setLineWidth(2)
        canvas.line(-2, top, _CORE + 2, top)
        lowest = top + _ROOM / 2
        for place, layer in enumerate(self.layers):
            upper, lower = top - layer.top.nominal * scale, top - layer.bottom.nominal * scale
            self._layer(place, upper, lower)
            left = len(self.layers) - place - 1
            y = max(min((upper + lower) / 2, lowest - _ROOM), 2 + _ROOM * (left + 0.5))
            lowest = y
            self._letter(layer, (upper + lower) / 2, y)

    def _layer(self, place: int, upper: float, lower: float) -> None:
        canvas = self.canv
        canvas.setStrokeColor(QUIET)
        canvas.setLineWidth(0.5)
        _HATCHES[place % len(_HATCHES)](canvas, upper, lower)
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.8)
        canvas.rect(0, lower, _CORE, upper - lower, stroke=1, fill=0)

    def _letter(self, layer: CoreLayer, middle: float, y: float) -> None:
        canvas, left = self.canv, _CORE + 22
        canvas.setStrokeColor(QUIET)
        canvas.setLineWidth(0.4)
        canvas.line(_CORE + 1, middle, left - 4, y)
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, 9)
        canvas.drawString(
            left, y + 1, fitted(layer.name, self.width - left, lambda t, s: text_width(t, s, BOLD), 9)
        )
        start = layer.top.text(self.system) if layer.top.nominal > 0 else self.words.surface
        depths = self.words.from_to.format(start=start, end=layer.bottom.text(self.system))
        canvas.setFillColor(QUIET)
        canvas.setFont(FONT, 8)
        canvas.drawString(left, y - 9, fitted(depths, self.width - left, text_width, 8))


def _slant(canvas: Canvas, upper: float, lower: float, lean: float, apart: float) -> None:
    """Lines at 45 degrees, to the right for lean 1 and to the left for -1, cut off at the sides."""
    high = upper - lower
    x = -high if lean > 0 else 0.0
    while x < _CORE + (high if lean < 0 else 0):
        edges = sorted((-x * lean, (_CORE - x) * lean))  # how far up it is at either side
        start, end = max(0.0, edges[0]), min(high, edges[1])
        if end > start:
            canvas.line(x + lean * start, lower + start, x + lean * end, lower + end)
        x += apart


def _dots(canvas: Canvas, upper: float, lower: float) -> None:
    canvas.setFillColor(QUIET)
    y, odd = lower + 3, False
    while y < upper:
        x = 3.0 + 3.5 * odd
        while x < _CORE:
            canvas.circle(x, y, 0.6, stroke=0, fill=1)
            x += 7
        y, odd = y + 5, not odd


def _plain(canvas: Canvas, upper: float, lower: float) -> None:
    canvas.setFillColor(TINT)
    canvas.rect(0, lower, _CORE, upper - lower, stroke=0, fill=1)


def _level(canvas: Canvas, upper: float, lower: float) -> None:
    y = lower + 3
    while y < upper:
        canvas.line(0, y, _CORE, y)
        y += 4


def _blank(canvas: Canvas, upper: float, lower: float) -> None:
    canvas.setFillColor(PAPER)
    canvas.rect(0, lower, _CORE, upper - lower, stroke=0, fill=1)


_HATCHES: tuple[Callable[[Canvas, float, float], None], ...] = (
    lambda c, u, low: _slant(c, u, low, 1, 4),
    _dots,
    _level,
    _plain,
    lambda c, u, low: _slant(c, u, low, -1, 6),
    _blank,
)
