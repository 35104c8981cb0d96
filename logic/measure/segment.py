"""A segment: ground between a straight edge (the chord) and a round one."""

from __future__ import annotations

import math

from uncertainties import umath

from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import length, m, m2
from logic.measure.curves import arc
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal

SOURCE = Source("Segment = sector − triangle; its rule in Joseph Bateman, 1852 (segment of a circle)")


def trace(v: Values, ctx: Context) -> Trace:
    """Area R² acos((R − h)/R) − (R − h) √(2 R h − h²) [m²], R = (c²/4 + h²)/(2h); chord c, rise h [m]."""
    chord, rise = v.chord, v.rise
    radius = (chord * chord / 4 + rise * rise) / (2 * rise)
    half_angle = 2 * umath.atan2(2 * rise, chord)
    sector = radius * radius * half_angle
    triangle = (radius - rise) * chord / 2
    area, bow = sector - triangle, 2 * radius * half_angle
    r, c, h, half = (nominal(x) for x in (radius, chord, rise, half_angle))
    polygon = arc((0.0, h - r), (r, r), math.pi / 2 - half, math.pi / 2 + half)
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=chord + bow,
        steps=(
            step(
                "radius = (chord {c} squared ÷ 4 + rise {h} squared) ÷ (2 × rise) = {r}",
                c=m(chord),
                h=m(rise),
                r=m(radius),
            ),
            step(
                "slice from the middle {s} − triangle under it {t} = {a}",
                s=m2(sector),
                t=m2(triangle),
                a=m2(area),
            ),
        ),
        source=SOURCE,
        dimensions=(
            Dimension((-c / 2, 0.0), (c / 2, 0.0), m(chord), "chord"),
            Dimension((0.0, 0.0), (0.0, h), m(rise), "rise"),
        ),
        perimeter_steps=(step("curved edge = {b}", b=m(bow)),),
    )


METHOD = Method(
    key="segment",
    name="Segment (round against a straight edge)",
    form=Form(
        (
            length("chord", "Straight edge", help="From one end of the curve to the other."),
            length(
                "rise", "Rise", "width", help="From the middle of the straight edge, square out to the curve."
            ),
        )
    ),
    trace=trace,
    help="Turf that bulges from a straight path or wall in one even curve.",
    order=75,
)
