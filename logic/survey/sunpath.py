"""Where the sun stands: day length, height and bearing, right to about a minute.

Longitude counts east as positive, time is UTC, angles are in degrees unless a name says otherwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from logic.figure import Source

SOURCE = Source("Computing approximate solar coordinates, U.S. Naval Observatory: right to about 1 arcminute")
#: Zenith of the sun's middle at sunrise: refraction and the sun's radius included.
#: Source: General solar position calculations, NOAA Global Monitoring Division.
HORIZON = 90.833
_EPOCH = datetime(2000, 1, 1, 12, tzinfo=UTC)


@dataclass(frozen=True)
class Daylight:
    """Sunrise, noon and sunset, UTC; rise and set are None in polar day or night. length: of the day [h]."""

    rise: datetime | None
    noon: datetime
    set: datetime | None
    length: float


def _sun(moment: datetime) -> tuple[float, float]:
    """(angle north of the equator [degrees], minutes that a sundial is ahead of the clock) at an aware time.

    Source: SOURCE.
    """
    days = (moment - _EPOCH).total_seconds() / 86400
    anomaly = math.radians(357.529 + 0.98560028 * days)
    mean = (280.459 + 0.98564736 * days) % 360
    along = math.radians(mean + 1.915 * math.sin(anomaly) + 0.020 * math.sin(2 * anomaly))
    tilt = math.radians(23.439 - 0.00000036 * days)
    north = math.degrees(math.asin(math.sin(tilt) * math.sin(along)))
    ascension = math.degrees(math.atan2(math.cos(tilt) * math.sin(along), math.cos(along)))
    return north, 4 * ((mean - ascension + 180) % 360 - 180)


def _noon(longitude: float, day: date) -> datetime:
    """When the sun stands highest on a day, UTC; the equation of time is that of the moment itself."""
    middle = datetime.combine(day, time(12), UTC) - timedelta(minutes=4 * longitude)
    return middle - timedelta(minutes=_sun(middle)[1])


def declination(day: date, longitude: float = 0.0) -> float:
    """The sun's angle north of the equator at noon of a day [degrees]. Source: SOURCE."""
    return _sun(_noon(longitude, day))[0]


def daylight(latitude: float, longitude: float, day: date, zenith: float = HORIZON) -> Daylight:
    """Sunrise and sunset on a day (zenith 96 for civil twilight), with the sun where it stands at each.

    Source: SOURCE; hour angle from cos h = (cos zenith − sin φ sin δ) ÷ (cos φ cos δ).
    """
    noon = _noon(longitude, day)
    ends = [_crossing(latitude, longitude, noon, zenith, way) for way in (-1, 1)]
    if ends[0] is None or ends[1] is None:
        up = noon_height(latitude, day) > 90 - zenith
        return Daylight(None, noon, None, 24.0 if up else 0.0)
    return Daylight(ends[0], noon, ends[1], (ends[1] - ends[0]).total_seconds() / 3600)


def _crossing(latitude: float, longitude: float, noon: datetime, zenith: float, way: int) -> datetime | None:
    """When the sun goes through `zenith` before (way −1) or after (+1) noon; None when it doesn't."""
    phi, moment = math.radians(latitude), noon
    for _ in range(4):  # each time with the sun's place at the moment found before; it settles within seconds
        north, ahead = _sun(moment)
        tilt = math.radians(north)
        reach = (math.cos(math.radians(zenith)) - math.sin(phi) * math.sin(tilt)) / (
            math.cos(phi) * math.cos(tilt)
        )
        if abs(reach) > 1:
            return None
        turned = way * 4 * math.degrees(math.acos(reach))
        middle = datetime.combine(noon.date(), time(12), UTC) - timedelta(minutes=4 * longitude + ahead)
        # a day's noon may fall on another UTC date far east or west
        middle += timedelta(days=round((noon - middle).total_seconds() / 86400))
        moment = middle + timedelta(minutes=turned)
    return moment


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
    north_of, ahead = _sun(utc)
    tilt, phi = math.radians(north_of), math.radians(latitude)
    solar = utc.hour * 60 + utc.minute + utc.second / 60 + ahead + 4 * longitude
    turn = math.radians(solar / 4 - 180)
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
