"""Sunshine above the air on a day of the year, for the water that turf uses."""

from __future__ import annotations

import math

#: Solar constant [MJ/(m²·min)]. Source: FAO Irrigation and Drainage Paper 56, equation 21.
SOLAR_CONSTANT = 0.0820


def extraterrestrial_radiation(latitude: float, day: int) -> float:
    """Radiation above the air [MJ/m²/day] at `latitude` [degrees, north positive] on `day` of the year.

    0 in the polar night. Source: Allen et al., FAO Irrigation and Drainage Paper 56, 1998, equations 21 to 25
    (from memory, reproduced by calculation).
    """
    phi = math.radians(latitude)
    turn = 2 * math.pi * day / 365
    nearness = 1 + 0.033 * math.cos(turn)
    declination = 0.409 * math.sin(turn - 1.39)
    sunset = math.acos(max(-1.0, min(1.0, -math.tan(phi) * math.tan(declination))))
    high = sunset * math.sin(phi) * math.sin(declination)
    low = math.cos(phi) * math.cos(declination) * math.sin(sunset)
    return 24 * 60 / math.pi * SOLAR_CONSTANT * nearness * (high + low)
