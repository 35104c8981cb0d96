"""Where the sun stands: day length, height and bearing, from the short formulas; right to a few minutes.

Longitude counts east as positive, time is UTC, angles are in degrees unless a name says otherwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from logic.figure import Source

SOURCE = Source(
    "General solar position calculations, NOAA Global Monitoring Division: within about 3 minutes"
)
#: Zenith of the sun's middle at sunrise: refraction and the sun's radius included. Source: as SOURCE.
HORIZON = 90.833


@dataclass(frozen=True)
class Daylight:
    """Sunrise, noon and sunset, UTC; rise and set are None in polar day or night. length: of the day [h]."""

    rise: datetime | None
    noon: datetime
    set: datetime | None
    length: float


def _year_angle(day: date, hour: float) -> float:
    number = day.timetuple().tm_yday
    days = 366 if _leap(day.year) else 365
    return 2 * math.pi / days * (number - 1 + (hour - 12) / 24)


def _leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def equation_of_time(day: date, hour: float = 12.0) -> float:
    """Minutes that a sundial is ahead of the clock. Source: SOURCE."""
    g = _year_angle(day, hour)
    return 229.18 * (
        0.000075
        + 0.001868 * math.cos(g)
        - 0.032077 * math.sin(g)
        - 0.014615 * math.cos(2 * g)
        - 0.040849 * math.sin(2 * g)
    )


def declination(day: date, hour: float = 12.0) -> float:
    """The sun's angle north of the equator [degrees]. Source: SOURCE."""
    g = _year_angle(day, hour)
    return math.degrees(
        0.006918
        - 0.399912 * math.cos(g)
        + 0.070257 * math.sin(g)
        - 0.006758 * math.cos(2 * g)
        + 0.000907 * math.sin(2 * g)
        - 0.002697 * math.cos(3 * g)
        + 0.00148 * math.sin(3 * g)
    )


def daylight(latitude: float, longitude: float, day: date, zenith: float = HORIZON) -> Daylight:
    """Sunrise and sunset on a day (zenith 96 for civil twilight). Source: SOURCE, with the day's noon."""
    tilt, phi = math.radians(declination(day)), math.radians(latitude)
    start = datetime.combine(day, time(), UTC)
    noon = 720 - 4 * longitude - equation_of_time(day)
    reach = math.cos(math.radians(zenith)) / (math.cos(phi) * math.cos(tilt)) - math.tan(phi) * math.tan(tilt)
    middle = start + timedelta(minutes=noon)
    if abs(reach) > 1:
        return Daylight(None, middle, None, 0.0 if reach > 1 else 24.0)
    half = math.degrees(math.acos(reach))
    ends = [start + timedelta(minutes=noon + way * 4 * half) for way in (-1, 1)]
    return Daylight(ends[0], middle, ends[1], 8 * half / 60)


def noon_height(latitude: float, day: date) -> float:
    """Height of the sun above the horizon at noon [degrees]: 90 − |latitude − declination|."""
    return 90 - abs(latitude - declination(day))


def shadow(height: float, sun: float) -> float:
    """Length of the shadow [m] of a fence of that height [m] when the sun stands `sun` degrees high.

    Endless (inf) while the sun is down. Source: height ÷ tan.
    """
    return height / math.tan(math.radians(sun)) if sun > 0 else math.inf


def position(latitude: float, longitude: float, moment: datetime) -> tuple[float, float]:
    """(height above the horizon, bearing from north clockwise) of the sun [degrees] at an aware time.

    No refraction: near the horizon it really stands about half a degree higher. Source: SOURCE.
    """
    utc = moment.astimezone(UTC)
    hour = utc.hour + utc.minute / 60 + utc.second / 3600
    tilt = math.radians(declination(utc.date(), hour))
    solar = hour * 60 + equation_of_time(utc.date(), hour) + 4 * longitude
    turn, phi = math.radians(solar / 4 - 180), math.radians(latitude)
    up = math.sin(phi) * math.sin(tilt) + math.cos(phi) * math.cos(tilt) * math.cos(turn)
    east = -math.cos(tilt) * math.sin(turn)
    north = math.cos(phi) * math.sin(tilt) - math.sin(phi) * math.cos(tilt) * math.cos(turn)
    height = math.degrees(math.asin(max(-1.0, min(1.0, up))))
    return height, math.degrees(math.atan2(east, north)) % 360


def path(
    latitude: float, longitude: float, day: date, every: int = 5
) -> tuple[tuple[float, float, float], ...]:
    """The sun's way over a day about its noon, in steps of `every` minutes: (hours from noon, height,
    bearing), only while it is up."""
    noon = daylight(latitude, longitude, day).noon
    found = []
    for minutes in range(-720 + every // 2, 720, every):
        height, bearing = position(latitude, longitude, noon + timedelta(minutes=minutes))
        if height > 0:
            found.append((minutes / 60, height, bearing))
    return tuple(found)
