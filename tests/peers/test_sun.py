"""The sun's path against astral, an independent library of the sun's positions."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta

import pytest
from astral import Observer
from astral.sun import azimuth, elevation, sunrise, sunset

from logic.survey import sunpath

PLACES = ((51.48, 0.0), (53.35, -6.26), (55.95, -3.19), (44.98, -93.27), (-37.8, 145.0))
DAYS = (date(2025, 3, 20), date(2025, 6, 21), date(2025, 9, 15), date(2025, 12, 21), date(2024, 2, 29))


@pytest.mark.parametrize(("latitude", "longitude"), PLACES)
@pytest.mark.parametrize("day", DAYS)
def test_rise_and_set_within_a_minute(latitude: float, longitude: float, day: date) -> None:
    ours = sunpath.daylight(latitude, longitude, day)
    assert ours.rise is not None
    assert ours.set is not None
    assert _nearest(ours.rise, sunrise, Observer(latitude, longitude)) < 60
    assert _nearest(ours.set, sunset, Observer(latitude, longitude)) < 60


def _nearest(mine: datetime, event: Callable[..., datetime], observer: Observer) -> float:
    """Seconds to astral's nearest event: it files events by UTC date and raises when one has slipped to the
    next."""
    found = []
    for way in (-1, 0, 1):
        with suppress(ValueError):
            found.append(abs((event(observer, mine.date() + timedelta(days=way)) - mine).total_seconds()))
    return min(found)


@pytest.mark.parametrize(("latitude", "longitude"), PLACES)
@pytest.mark.parametrize("day", DAYS)
def test_height_and_bearing_within_a_twentieth_of_a_degree(
    latitude: float, longitude: float, day: date
) -> None:
    observer = Observer(latitude, longitude)
    for hour in range(0, 24, 3):
        moment = datetime(day.year, day.month, day.day, hour, 20, tzinfo=UTC)
        height, bearing = sunpath.position(latitude, longitude, moment)
        assert height == pytest.approx(elevation(observer, moment, with_refraction=False), abs=0.05)
        if 5 < height < 75:
            turn = (bearing - azimuth(observer, moment) + 180) % 360 - 180
            assert abs(turn) < 0.2
