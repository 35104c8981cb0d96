"""Phone position fixes: good for finding the site again, too rough for quantities, and the reason why."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.measure.asking import m, setting
from logic.measure.curves import without_repeats
from logic.measure.geometry import Polygon, crosses_itself, shoelace
from logic.units import nominal, plus_minus, quantity

SOURCE = Source(
    "US Government, GPS accuracy page: phones are typically within 4.9 m under open sky", "second-hand"
)
REASON = (
    "A phone is typically 5 m off under open sky and more beside buildings and trees; a green of 60 m² has a "
    "radius of 4.4 m. So a position files the job on the map; quantities come from tape or paces."
)
_SEMI_MAJOR = 6378137.0  # WGS 84 [m]
_FLATTENING = 1 / 298.257223563


@dataclass(frozen=True)
class Fix:
    """A position: degrees north and east, and how far off the phone says it may be [m]."""

    latitude: float
    longitude: float
    accuracy: float = 0.0

    def __post_init__(self) -> None:
        good = math.isfinite(self.latitude) and math.isfinite(self.longitude) and math.isfinite(self.accuracy)
        if not good or abs(self.latitude) > 90 or abs(self.longitude) > 180 or self.accuracy < 0:
            raise BadValue("position", "That is not a position on the earth.")


def locate(fixes: Sequence[Fix]) -> Fix:
    """The place that several fixes of one spot say, each weighted by 1 ÷ its accuracy squared.

    Its accuracy is that of the best fix, not better: most of the error is common to all of them.
    Raises BadValue when there is none.
    """
    if not fixes:
        raise BadValue("position", "The phone has given no position yet.")
    usual = setting("phone_fix")
    weights = [1 / (f.accuracy or usual) ** 2 for f in fixes]
    first = fixes[0]
    east = [(f.longitude - first.longitude + 180) % 360 - 180 for f in fixes]
    longitude = first.longitude + _mean(east, weights)
    return Fix(
        _mean([f.latitude for f in fixes], weights),
        (longitude + 180) % 360 - 180,
        min(f.accuracy or usual for f in fixes),
    )


def local_polygon(fixes: Sequence[Fix]) -> Polygon:
    """Fixes as metres east and north of the first, on a plane that touches the ellipsoid at their middle.

    Right to a millionth over a garden; not for anything larger than a few kilometres.
    Source: the ellipsoid's radii of curvature (WGS 84; from memory, held against geodesics in the tests).
    """
    middle = math.radians(sum(f.latitude for f in fixes) / len(fixes))
    e2 = _FLATTENING * (2 - _FLATTENING)
    w = math.sqrt(1 - e2 * math.sin(middle) ** 2)
    east_radius, north_radius = _SEMI_MAJOR / w * math.cos(middle), _SEMI_MAJOR * (1 - e2) / w**3
    first = fixes[0]
    return tuple(
        (
            math.radians((f.longitude - first.longitude + 180) % 360 - 180) * east_radius,
            math.radians(f.latitude - first.latitude) * north_radius,
        )
        for f in fixes
    )


def rough_area(fixes: Sequence[Fix]) -> Figure:
    """Area [m²] that corners by phone enclose: a check of the order of magnitude and nothing more.

    ± from each corner's accuracy, read as a 95 % radius (2.45 standard deviations on each axis).
    Raises BadValue when the fixes enclose nothing.
    """
    spots = local_polygon(fixes) if fixes else ()
    if len(without_repeats(spots)) < 3 or crosses_itself(spots):
        raise BadValue("position", "These positions go round no ground.")
    usual = setting("phone_fix")
    corners = []
    for (x, y), fix in zip(spots, fixes, strict=True):
        margin = (fix.accuracy or usual) / 2.45
        corners.append((plus_minus(x, margin, "phone"), plus_minus(y, margin, "phone")))
    area = shoelace(corners)
    return figure(
        "rough_area",
        "Rough area by phone, not for quantities",
        area if nominal(area) > 0 else -area,
        "m^2",
        step(
            "{n} positions, each good to about {u}",
            n=quantity(len(fixes), ""),
            u=m(fixes[0].accuracy or usual),
        ),
        step(REASON),
        source=SOURCE,
    )


def _mean(values: Sequence[float], weights: Sequence[float]) -> float:
    return sum(v * w for v, w in zip(values, weights, strict=True)) / sum(weights)
