"""Shade: how much sun reaches a spot past fences, walls and trees, by the sun's path."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.survey import sunpath
from logic.survey.classes import limit, limit_source, limit_text
from logic.survey.kind import Finding, Kind, Line, Spot
from logic.units import nominal, quantity

SUN = Source(
    "Sun's path by the U.S. Naval Observatory's approximate coordinates, held against each obstacle's height "
    "and width"
)
EVERY = 5  # minutes between the places of the sun


@dataclass(frozen=True)
class Obstacle:
    """Something that hides the sky from bearing `left` clockwise to `right`, up to `height` [degrees]."""

    left: float
    right: float
    height: float

    def hides(self, height: float, bearing: float) -> bool:
        """True when the sun at that height and bearing is behind it."""
        return height < self.height and (bearing - self.left) % 360 <= (self.right - self.left) % 360


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("readings", "shade", key, label, **more)


FORM = Form(
    (
        _field(
            "latitude", "Latitude", required=False, help="Left empty, the sward's own. South is negative."
        ),
        _field("longitude", "Longitude", required=False, help="East is positive."),
        Field(
            "day",
            "Day",
            kind="text",
            required=False,
            help="As 2026-06-21. Left empty, the day of the reading.",
        ),
        Field(
            "obstacles",
            "What stands in the way",
            kind="rows",
            entry="Obstacle",
            row=(
                Field("what", "What", kind="text", required=False),
                _field("height", "Height above the turf", measured=True),
                _field("distance", "Distance from the spot", measured=True, paces=True),
                Field("left", "Left end", kind="bearing", help="Bearing from the spot."),
                Field("right", "Right end", kind="bearing", help="Clockwise of the left end."),
            ),
            fewest=0,
            required=False,
        ),
    )
)


def sun_hours(
    latitude: float, longitude: float, day: date, obstacles: Sequence[Obstacle], every: int = EVERY
) -> tuple[float, float]:
    """(hours that the sun is up, hours of it that reach the spot) on a day, in steps of `every` minutes."""
    path = sunpath.path(latitude, longitude, day, every)
    seen = sum(not any(o.hides(height, bearing) for o in obstacles) for _, height, bearing in path)
    return len(path) * every / 60, seen * every / 60


def obstacles_of(v: Values) -> tuple[Obstacle, ...]:
    """The obstacles as the spot sees them. A height above it is atan(height ÷ distance); one width for all of
    it, so a long fence is best given in pieces."""
    return tuple(
        Obstacle(row.left, row.right, math.degrees(math.atan2(nominal(row.height), nominal(row.distance))))
        for row in v.obstacles or ()
    )


def read(v: Values, spot: Spot) -> Finding:
    """Hours of sun on the day [h], the day's length, noon's height of the sun, and what shade a fence throws
    then.

    Raises BadValue when the place or the day isn't known.
    """
    latitude, longitude, day = _place(v, spot)
    obstacles = obstacles_of(v)
    light = sunpath.daylight(latitude, longitude, day)
    up, seen = sun_hours(latitude, longitude, day, obstacles)
    share = 100 * seen / up if up else 0.0
    noon = sunpath.noon_height(latitude, day)
    at = step("latitude {l}, {d}", l=quantity(latitude, ""), d=day.isoformat())
    counted = step(
        "the sun's place every {e}: up {u}, past what stands in the way {s} = {p}",
        e=quantity(EVERY, "minute"),
        u=quantity(up, "hour"),
        s=quantity(seen, "hour"),
        p=quantity(share, "%"),
    )
    figures = [
        figure("sun_hours", "Sun on the spot that day", seen, "hour", at, counted, source=SUN, headline=True),
        figure("sun_share", "Share of the day's sun", share, "%", at, counted, source=SUN),
        figure("day_length", "Length of the day", light.length, "hour", at, source=sunpath.SOURCE),
        figure("noon_height", "Height of the sun at noon", noon, "degree", at, source=sunpath.SOURCE),
        *_shadow(v, noon),
    ]
    return Finding(
        tuple(figures),
        warnings=tuple(_warnings(seen)),
        drawing=_drawing(sunpath.path(latitude, longitude, day, 15), obstacles),
    )


def _place(v: Values, spot: Spot) -> tuple[float, float, date]:
    """(latitude, longitude, day) as given, else those of the spot. Raises BadValue."""
    latitude = nominal(v.latitude) if v.has("latitude") else spot.latitude
    longitude = nominal(v.longitude) if v.has("longitude") else spot.longitude
    if latitude is None:
        raise BadValue("latitude", "Give the latitude: from the phone's position, or a map.")
    day = spot.day
    if v.has("day"):
        try:
            day = date.fromisoformat(v.day.strip())
        except ValueError:
            raise BadValue("day", "Write the day as 2026-06-21.") from None
    if day is None:
        raise BadValue("day", "Give the day: as 2026-06-21.")
    # how long the sun is up doesn't depend on longitude, so 0 does where it isn't known
    return latitude, longitude or 0.0, day


def _shadow(v: Values, noon: float) -> Iterator[Figure]:
    heights = [nominal(row.height) for row in v.obstacles or ()]
    if not heights or noon <= 0:
        return
    tallest = max(heights)
    length = sunpath.shadow(tallest, noon)
    line = step(
        "{h} ÷ tan {n} = {s}",
        h=quantity(tallest, "m"),
        n=quantity(noon, "degree"),
        s=quantity(length, "m"),
    )
    yield figure("noon_shadow", "Shade of the tallest at noon", length, "m", line, source=sunpath.SOURCE)


def _drawing(path: Sequence[tuple[float, float, float]], obstacles: Sequence[Obstacle]) -> tuple[Line, ...]:
    lines = [Line("sun", "sky", tuple((bearing, height) for _, height, bearing in path))]
    for one in obstacles:
        right = one.left + (one.right - one.left) % 360
        lines.append(
            Line(
                "obstacle",
                "sky",
                ((one.left, 0.0), (one.left, one.height), (right, one.height), (right, 0.0)),
            )
        )
    return tuple(lines)


def _warnings(seen: float) -> Iterator[str]:
    if seen < limit("sun_few"):
        yield (
            f"Less than {limit_text('sun_few')} of direct sun that day: expect thin, mossy turf unless "
            f"light is let in or the height of cut is raised. Source: {limit_source('sun_few')}."
        )
    yield "Leaf and cloud are not in it: a bare tree in winter hides less than its height says."


KIND = Kind(
    key="shade",
    name="Shade",
    form=FORM,
    read=read,
    help="Stand on the spot with a compass. For each fence, wall or tree: height above the turf, distance, "
    "bearing of its left and right end.",
    how_many="At the worst spot and the best; reckon for midsummer and for the month you sow.",
    tells_not="Cloud, thin crowns, or light thrown back from walls.",
    group="place",
    order=70,
)
