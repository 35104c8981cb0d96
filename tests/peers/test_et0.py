"""Reference evaporation against pyet, an independent implementation of FAO paper 56 on NumPy and pandas."""

from __future__ import annotations

import math

import pandas as pd
import pyet
import pytest

from logic.programme import evaporation

DAYS = (
    # latitude, day of 2025, height, warmest, coldest, vapour, sun, wind
    (50.8, 187, 100.0, 21.5, 12.3, 1.409, 9.25, 2.078),
    (53.35, 105, 20.0, 12.5, 4.5, 0.80, 5.0, 3.5),
    (44.98, 227, 250.0, 27.0, 16.0, 1.70, 10.0, 1.5),
    (-37.8, 15, 30.0, 31.0, 15.0, 1.20, 11.0, 2.5),
)


@pytest.mark.parametrize("given", DAYS)
def test_penman_monteith(given: tuple[float, ...]) -> None:
    latitude, day, height, warmest, coldest, vapour, sun, wind = given
    weather = evaporation.Weather(latitude, int(day), height, warmest, coldest, vapour, sun, wind)
    index = pd.DatetimeIndex([pd.Timestamp("2025-01-01") + pd.Timedelta(days=int(day) - 1)])
    theirs = pyet.pm_fao56(
        tmean=pd.Series([(warmest + coldest) / 2], index),
        wind=pd.Series([wind], index),
        rs=pd.Series([weather.ground], index),
        elevation=height,
        lat=math.radians(latitude),
        tmax=pd.Series([warmest], index),
        tmin=pd.Series([coldest], index),
        ea=pd.Series([vapour], index),
    )
    assert evaporation.reference_evaporation(weather).nominal == pytest.approx(
        float(theirs.iloc[0]), rel=0.01
    )


@pytest.mark.parametrize("given", DAYS)
def test_hargreaves(given: tuple[float, ...]) -> None:
    latitude, day, height, warmest, coldest = given[:5]
    weather = evaporation.Weather(latitude, int(day), height, warmest, coldest)
    index = pd.DatetimeIndex([pd.Timestamp("2025-01-01") + pd.Timedelta(days=int(day) - 1)])
    theirs = pyet.hargreaves(
        tmean=pd.Series([(warmest + coldest) / 2], index),
        tmax=pd.Series([warmest], index),
        tmin=pd.Series([coldest], index),
        lat=math.radians(latitude),
    )
    # the constants are rounded differently (0.408 against the latent heat at the day's temperature)
    assert evaporation.by_temperature(weather) == pytest.approx(float(theirs.iloc[0]), rel=0.02)
