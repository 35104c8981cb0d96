"""Bearings as people write them: whole-circle ("26.17", "26.17 deg") or by quadrant ("N26 10E")."""

from __future__ import annotations

import re
from typing import Any

from logic.errors import BadValue
from logic.numbers import number
from logic.units import plus_minus

_POINTS = {"N": 0.0, "NE": 45.0, "E": 90.0, "SE": 135.0, "S": 180.0, "SW": 225.0, "W": 270.0, "NW": 315.0}
_ANGLE = r"(?P<deg>\d+(?:[.,]\d+)?)\s*(?:°|º|deg(?:rees?)?|d)?"
_SECONDS = r"(?:[\s:]*(?P<sec>\d+(?:[.,]\d+)?)\s*(?:\"|″|s(?:ec)?)?)?"
_ANGLE += rf"(?:[\s:-]*(?P<min>\d+(?:[.,]\d+)?)\s*(?:'|′|m(?:in)?)?{_SECONDS})?"
_WHOLE = re.compile(rf"^\s*{_ANGLE}\s*$", re.IGNORECASE)
_QUADRANT = re.compile(rf"^\s*(?P<from>[NS])\s*{_ANGLE}\s*(?P<to>[EW])\s*$", re.IGNORECASE)


def bearing_of(given: Any, field_key: str = "bearing") -> Any:
    """The direction `given` names, in degrees clockwise from north, 0 to 360; ± kept where it is written.

    given: a number of degrees, or text: "26.17", "26.17 deg", "26° 10'", "26 10 30", "N26 10E", "S W",
    "N", each with an optional "± 2". Raises BadValue with one sentence.
    """
    if isinstance(given, bool) or not isinstance(given, str | int | float):
        raise BadValue(field_key, "A bearing is written as degrees, like 26.2, or as N26 10E.")
    if not isinstance(given, str):
        return _in_circle(given, field_key)
    main, sign, rest = re.sub(r"\+/?-", "±", given).partition("±")
    value = _degrees(main, field_key)
    if not sign:
        return value
    spread = _WHOLE.match(rest)
    if not spread:
        raise BadValue(field_key, "Write the degrees after the ±.")
    return plus_minus(value, _sum(spread, field_key), "stated")


def _degrees(text: str, field_key: str) -> float:
    named = re.sub(r"[\s-]", "", text).upper()
    if named in _POINTS:
        return _POINTS[named]
    whole = _WHOLE.match(text)
    if whole:
        return _in_circle(_sum(whole, field_key), field_key)
    quadrant = _QUADRANT.match(text)
    if not quadrant:
        raise BadValue(field_key, f"“{text.strip()}” is not a bearing: write degrees, like 26.2, or N26 10E.")
    angle = _sum(quadrant, field_key)
    if angle > 90:
        raise BadValue(field_key, f"“{text.strip()}”: between two compass points there are at most 90°.")
    north, east = quadrant["from"].upper() == "N", quadrant["to"].upper() == "E"
    if north:
        return angle if east else (360 - angle) % 360
    return 180 - angle if east else 180 + angle


def _sum(match: re.Match[str], field_key: str) -> float:
    degrees, minutes, seconds = (number(match[part] or "0") for part in ("deg", "min", "sec"))
    if minutes >= 60 or seconds >= 60:
        raise BadValue(field_key, "Minutes and seconds of a bearing are less than 60.")
    return degrees + minutes / 60 + seconds / 3600


def _in_circle(degrees: float, field_key: str) -> float:
    if not 0 <= degrees <= 360:
        raise BadValue(field_key, "A bearing lies between 0° and 360°.")
    return float(degrees) % 360
