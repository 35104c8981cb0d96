"""An ellipse (a true oval): from its two full axes."""

from __future__ import annotations

import math
from typing import Any

from uncertainties import umath

from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.curves import arc
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Ellipse: A = π a b (half axes). OpenStax, Algebra and Trigonometry, The Ellipse")


def trace(v: Values, ctx: Context) -> Trace:
    """Area π L W / 4 [m²] of an ellipse with full axes L and W [m]."""
    area = math.pi * v.length * v.width / 4
    girth = ellipse_girth(v.length / 2, v.width / 2)
    a, b = nominal(v.length) / 2, nominal(v.width) / 2
    return Trace(
        polygon=arc((0.0, 0.0), (a, b)),
        area=area,
        perimeter=girth,
        steps=(
            step(
                "area = π ÷ 4 × length {l} × width {w} = {a}",
                l=m(v.length),
                w=m(v.width),
                a=m2(area),
            ),
        ),
        source=SOURCE,
        dimensions=(
            Dimension((-a, 0.0), (a, 0.0), m(v.length), "length"),
            Dimension((0.0, -b), (0.0, b), m(v.width), "width"),
        ),
        perimeter_steps=(
            step("distance round an ellipse of half axes {a} and {b}", a=m(v.length / 2), b=m(v.width / 2)),
        ),
    )


def ellipse_girth(a: Any, b: Any) -> Any:
    """Distance round an ellipse with half axes a, b [m], ± allowed.

    Within 0.05 % up to a needle, within a millionth for ovals up to 2 : 1.
    Source: Ramanujan's second approximation (from memory; held against elliptic integrals in the tests).
    """
    h = ((a - b) / (a + b)) ** 2
    return math.pi * (a + b) * (1 + 3 * h / (10 + umath.sqrt(4 - 3 * h)))


METHOD = Method(
    key="ellipse",
    name="Oval (ellipse)",
    form=Form(
        (
            length("length", "Length", help="The longest line across the oval, edge to edge."),
            length("width", "Width", help="Square to the length, across its middle."),
        )
    ),
    trace=trace,
    help="Tape or pace the longest line across, then square to it across the middle. "
    "For an egg the same two measures do. For anything that bends in, use Offsets or Radii.",
    order=30,
)
