"""Reference evaporation by the full equation of FAO paper 56, for those who have the readings.

Temperatures [°C], vapour pressures [kPa], radiation [MJ/m²/day], wind [m/s], height above the sea [m].
Source of every formula: Allen, Pereira, Raes and Smith, Crop evapotranspiration, FAO Irrigation and Drainage
Paper 56, 1998 (from memory, held against its published examples in the tests).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from logic.figure import Figure, Source, figure, step
from logic.units import quantity
from logic.works.sun import extraterrestrial_radiation
from logic.works.water_use import MM_PER_MJ, hargreaves

PENMAN = Source(
    "Allen, Pereira, Raes and Smith, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56, 1998, "
    "equation 6"
)
ALBEDO = 0.23  # of the reference grass
STEFAN = 4.903e-9  # MJ/(K⁴·m²·day)
COAST = 0.16  # Hargreaves' radiation factor inland; 0.19 by the sea


def pressure(height: float) -> float:
    """Air pressure [kPa] at a height above the sea [m] (equation 7)."""
    return float(101.3 * ((293 - 0.0065 * height) / 293) ** 5.26)


def psychrometric(height: float) -> float:
    """Psychrometric constant [kPa/°C] (equation 8)."""
    return 0.000665 * pressure(height)


def vapour(temperature: float) -> float:
    """Saturation vapour pressure [kPa] at a temperature (equation 11)."""
    return 0.6108 * math.exp(17.27 * temperature / (temperature + 237.3))


def mean_vapour(warmest: float, coldest: float) -> float:
    """Saturation vapour pressure of a day [kPa] (equation 12)."""
    return (vapour(warmest) + vapour(coldest)) / 2


def vapour_slope(temperature: float) -> float:
    """Slope of the vapour curve [kPa/°C] (equation 13)."""
    return 4098 * vapour(temperature) / (temperature + 237.3) ** 2


def wind_at_2m(wind: float, height: float) -> float:
    """Wind at 2 m [m/s] from wind at `height` [m] over grass (equation 47)."""
    return wind * 4.87 / math.log(67.8 * height - 5.42)


def day_hours(latitude: float, day: int) -> float:
    """Hours of possible sun on a day of the year, refraction left out (equation 34)."""
    tilt = 0.409 * math.sin(2 * math.pi * day / 365 - 1.39)
    reach = max(-1.0, min(1.0, -math.tan(math.radians(latitude)) * math.tan(tilt)))
    return 24 / math.pi * math.acos(reach)


def sun_radiation(sun: float, possible: float, above: float) -> float:
    """Radiation at the ground from hours of sun, possible hours, and radiation above the air (equation
    35)."""
    return (0.25 + 0.5 * sun / possible) * above


def sun_radiation_by_temperature(
    warmest: float, coldest: float, above: float, factor: float = COAST
) -> float:
    """Radiation at the ground where sun hours are missing: factor × √(max − min) × Ra (equation 50)."""
    return factor * math.sqrt(max(0.0, warmest - coldest)) * above


def net_radiation(
    ground: float, above: float, height: float, warmest: float, coldest: float, air_vapour: float
) -> float:
    """Net radiation at the grass (equations 37 to 40)."""
    clear = (0.75 + 2e-5 * height) * above
    kelvins = ((warmest + 273.16) ** 4 + (coldest + 273.16) ** 4) / 2
    share = min(1.0, ground / clear) if clear else 0.0
    lost = STEFAN * kelvins * (0.34 - 0.14 * math.sqrt(max(0.0, air_vapour))) * (1.35 * share - 0.35)
    return (1 - ALBEDO) * ground - lost


@dataclass(frozen=True)
class Weather:
    """A day's readings. vapour: of the air [kPa], None for that of the coldest hour (dew); sun: hours, None
    to go by temperature; wind: at 2 m [m/s]; soil_heat: into the ground [MJ/m²/day]."""

    latitude: float
    day: int
    height: float
    warmest: float
    coldest: float
    vapour: float | None = None
    sun: float | None = None
    wind: float = 2.0
    soil_heat: float = 0.0

    @property
    def above(self) -> float:
        """Radiation above the air."""
        return extraterrestrial_radiation(self.latitude, self.day)

    @property
    def ground(self) -> float:
        """Radiation at the ground."""
        if self.sun is None:
            return sun_radiation_by_temperature(self.warmest, self.coldest, self.above)
        return sun_radiation(self.sun, day_hours(self.latitude, self.day), self.above)

    @property
    def air_vapour(self) -> float:
        """Vapour pressure of the air; without a reading, the dew point is taken as the day's coldest."""
        return vapour(self.coldest) if self.vapour is None else self.vapour

    @property
    def net(self) -> float:
        """Net radiation."""
        return net_radiation(
            self.ground, self.above, self.height, self.warmest, self.coldest, self.air_vapour
        )


def reference_evaporation(weather: Weather) -> Figure:
    """Reference evaporation of a day [mm] by Penman and Monteith (equation 6), never below 0."""
    mean = (weather.warmest + weather.coldest) / 2
    slope, gamma = vapour_slope(mean), psychrometric(weather.height)
    dry = mean_vapour(weather.warmest, weather.coldest) - weather.air_vapour
    by_sun = MM_PER_MJ * slope * (weather.net - weather.soil_heat)
    by_wind = gamma * 900 / (mean + 273) * weather.wind * dry
    et0 = max(0.0, (by_sun + by_wind) / (slope + gamma * (1 + 0.34 * weather.wind)))
    net = step(
        "net radiation {n} MJ/m² a day, wind {w} m/s, air short of {d} kPa",
        n=weather.net,
        w=weather.wind,
        d=dry,
    )
    line = step(
        "({s} + {w}) ÷ ({g} + {y} × (1 + 0.34 × {u})) = {e} a day",
        s=by_sun,
        w=by_wind,
        g=slope,
        y=gamma,
        u=weather.wind,
        e=quantity(et0, "mm"),
    )
    return figure("et0", "Reference evaporation, a day", et0, "mm", net, line, source=PENMAN)


def by_temperature(weather: Weather) -> float:
    """Reference evaporation [mm] from temperatures alone (Hargreaves, equation 52), to hold the other
    against."""
    return max(0.0, float(hargreaves(weather.warmest, weather.coldest, weather.above)))
