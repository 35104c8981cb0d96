"""Radii: distances from a point near the middle to the edge, at equal angles all the way round."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from logic.field import Form, Values
from logic.figure import Source, step
from logic.measure.asking import deg, lengths, m, m2, percent, setting
from logic.measure.geometry import nominal_polygon, perimeter, shoelace
from logic.measure.outline import Context, Dimension, Method, Trace
from logic.units import nominal, plus_minus, quantity

SOURCE = Source(
    "Area seen from a point = ½ ∫ r² dθ, so π × mean of r² at equal angles (worked out here). The published "
    "rule, π × (mean r)², is that of City of Santa Ana, Exhibit A, and Western Australia TAFE, note fn27",
    "derived",
)


def trace(v: Values, ctx: Context) -> Trace:
    """Area π × mean(r²) [m²] of radii [m] at equal angles.

    The published rule π × (mean r)² is low by the square of the radii's variation; the polygon of the ends
    is low by what bulges beyond its sides. Both are shown. ± from the radii, from angles judged by eye,
    and from the edge between the radii (`between_margin`).
    """
    count = len(v.radii)
    squares = [r * r for r in v.radii]
    mean_square, mean = sum(squares) / count, sum(v.radii) / count
    plain = math.pi * mean_square
    r = [nominal(x) for x in v.radii]
    between, turned = between_margin(r), turning_margin(r, math.radians(setting("ray_margin")))
    area = plain + plus_minus(0.0, between, "shape") + plus_minus(0.0, turned, "angle")
    published = math.pi * mean * mean
    ends = [_polar(x, 2 * math.pi * i / count) for i, x in enumerate(v.radii)]
    of_ends = shoelace([(nominal(x), nominal(y)) for x, y in ends])
    polygon = nominal_polygon(_round_edge(r))
    straight, curved = perimeter(ends), perimeter(polygon)
    low = 1 - nominal(published) / nominal(plain)
    return Trace(
        polygon=polygon,
        area=area,
        perimeter=straight * (curved / nominal(straight))
        + plus_minus(0.0, abs(curved - nominal(straight)), "shape"),
        steps=(
            step("{n} radii, one every {d}", n=quantity(count, ""), d=deg(360 / count)),
            step("area = π × mean of the squared radii {q} = {a}", q=m2(mean_square), a=m2(plain)),
            step(
                "the published rule, π × (mean radius {r}) squared = {p}, reads {low:2} low here: averaging "
                "before squaring loses what the long radii add",
                r=m(mean),
                p=m2(published),
                low=percent(low),
            ),
            step(
                "straight lines from end to end enclose {p}: they cut off what bulges between", p=m2(of_ends)
            ),
            step(
                "added to the ±: {b:2} for the edge between radii, {t:2} for angles judged to {s}",
                b=m2(between),
                t=m2(turned),
                s=deg(setting("ray_margin")),
            ),
        ),
        source=SOURCE,
        dimensions=tuple(
            Dimension((0.0, 0.0), (nominal(x), nominal(y)), m(radius), f"radii.{i}")
            for i, ((x, y), radius) in enumerate(zip(ends, v.radii, strict=True))
        ),
        warnings=_warnings(r),
    )


def between_margin(r: Sequence[float]) -> float:
    """Standard uncertainty [m²] from the edge between the radii.

    What a radius has that its four neighbours do not foretell (fourth differences of r², whose mean square
    is 70 times that of a random error) is taken as random, going down with √n in the mean. Half of that:
    mown edges are smoother than chance (on drawn greens of many kinds the true error was a quarter).
    """
    n, s = len(r), [x * x for x in r]
    fourth = [s[i - 2] - 4 * s[i - 1] + 6 * s[i] - 4 * s[(i + 1) % n] + s[(i + 2) % n] for i in range(n)]
    random = math.sqrt(sum(d * d for d in fourth) / n / 70)
    return math.pi * random / math.sqrt(n) / 2


def turning_margin(r: Sequence[float], by_eye: float) -> float:
    """Standard uncertainty [m²] from directions that are off by `by_eye` [radians], each by itself.

    A radius taken too far round is that of its neighbourhood: r² is off by its slope there (from the four
    radii around) times the angle.
    """
    n, s = len(r), [x * x for x in r]
    slopes = [
        (8 * (s[(i + 1) % n] - s[i - 1]) - (s[(i + 2) % n] - s[i - 2])) * n / (24 * math.pi) for i in range(n)
    ]
    return math.pi / n * by_eye * math.sqrt(sum(s * s for s in slopes))


def _polar(radius: Any, angle: float) -> tuple[Any, Any]:
    return radius * math.cos(angle), radius * math.sin(angle)


def _round_edge(r: Sequence[float], least: int = 180) -> list[tuple[float, float]]:
    """Corners of a smooth edge through the ends: cubic in r² (Catmull-Rom), which keeps the mean of r²."""
    n = len(r)
    s = [x * x for x in r]
    fine = math.ceil(least / n)
    points = []
    for i in range(n):
        p, a, b, q = s[i - 1], s[i], s[(i + 1) % n], s[(i + 2) % n]
        curve = [_cubic(p, a, b, q, k / fine) for k in range(fine)]
        if min(curve) < min(a, b) / 4:
            curve = [a + (b - a) * k / fine for k in range(fine)]
        points += [_polar(math.sqrt(c), 2 * math.pi * (i + k / fine) / n) for k, c in enumerate(curve)]
    return points


def _cubic(p: float, a: float, b: float, q: float, t: float) -> float:
    return a + t / 2 * (b - p + t * (2 * p - 5 * a + 4 * b - q + t * (3 * (a - b) + q - p)))


def _warnings(r: Sequence[float]) -> tuple[str, ...]:
    said = []
    if len(r) < 12:
        said.append("Fewer than 12 radii: take 16 for anything that is not round.")
    if max(r) > 2.5 * min(r):
        said.append(
            "The longest radius is more than two and a half times the shortest. Begin nearer the middle, or "
            "use offsets for a long green."
        )
    return tuple(said)


METHOD = Method(
    key="radii",
    name="Radii from the middle",
    form=Form(
        (
            lengths(
                "radii",
                "Radii",
                "radius",
                entry="Radius",
                fewest=6,
                most_entries=72,
                above=0,
                least=None,
                help="From one point to the edge, all at equal angles, one after the other round the green.",
            ),
        )
    ),
    trace=trace,
    help="Stick a pin near the middle, from where all of the edge can be seen. Measure to the edge in 8, 12, "
    "16 or 36 directions at equal angles. 16 is right for most greens.",
    group="irregular",
    order=110,
)
