"""Laws that readings keep to, whatever the numbers."""

from __future__ import annotations

import colorsys
from datetime import UTC, date, datetime
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.survey import ball_roll, cover_photo, infiltration, proportion, sunpath
from logic.survey.bare_edges import along
from logic.survey.several import several

few = settings(max_examples=100, deadline=None)
channel = st.integers(0, 255)


@few
@given(st.integers(1, 2000), st.data())
def test_wilson_holds_what_was_counted_and_stays_within_none_and_all(
    points: int, data: st.DataObject
) -> None:
    hits = data.draw(st.integers(0, points))
    low, high = proportion.wilson(hits, points)
    assert 0 <= low <= hits / points <= high <= 1
    mirrored = proportion.wilson(points - hits, points)
    assert mirrored[0] == pytest.approx(1 - high, abs=1e-12)


@few
@given(st.integers(1, 300), st.integers(2, 9), st.data())
def test_wilson_shrinks_with_more_points_of_the_same_share(
    points: int, times: int, data: st.DataObject
) -> None:
    hits = data.draw(st.integers(0, points))
    one = proportion.wilson(hits, points)
    more = proportion.wilson(hits * times, points * times)
    assert more[1] - more[0] < one[1] - one[0]


@few
@given(st.floats(0.01, 0.99), st.floats(0.01, 0.3))
def test_points_needed_are_enough_and_no_more(share: float, within: float) -> None:
    count = proportion.points_needed(share, within)
    z = 1.9599639845400545
    half, one_less = (z * (share * (1 - share) / n) ** 0.5 for n in (count, max(1, count - 1)))
    assert half <= within * (1 + 1e-9)
    assert count == 1 or one_less > within * (1 - 1e-6)


@few
@given(channel, channel, channel)
def test_colours_survive_the_way_there_and_back(red: int, green: int, blue: int) -> None:
    hue, saturation, brightness = cover_photo.hsb((red, green, blue))
    back = colorsys.hsv_to_rgb(hue / 360, saturation, brightness)
    assert [round(255 * part) for part in back] == [red, green, blue]
    if 60 <= hue <= 120:
        assert 0 <= cover_photo.dgci(hue, saturation, brightness) <= 1


@few
@given(st.lists(st.tuples(channel, channel, channel), min_size=1, max_size=60))
def test_a_wider_window_never_counts_less(pixels: list[tuple[int, int, int]]) -> None:
    narrow = cover_photo.Window(57, 107, 0.1)
    wide = cover_photo.Window(45, 140, 0.1)
    some, more = (int(cover_photo.counted(pixels, window)["green"]) for window in (narrow, wide))
    assert 0 <= some <= more <= len(pixels)
    twice = int(cover_photo.counted(pixels * 2, narrow)["green"])
    assert twice == 2 * some


def test_calibration_keeps_grass_and_shuts_out_soil() -> None:
    grass = [(40 + n, 90 + n, 30) for n in range(40)]  # dark bent: hue 100 to 112
    soil = [(110 + n, 85 + n, 60) for n in range(20)]
    window = cover_photo.calibrated(grass, soil)
    inside = int(cover_photo.counted(grass, window)["green"])
    assert inside >= 0.9 * len(grass)
    assert cover_photo.counted(soil, window)["green"] == "0"
    with pytest.raises(BadValue):
        cover_photo.calibrated(grass, grass)


@few
@given(st.floats(0.3, 4), st.floats(0.3, 9))
def test_the_corrected_roll_lies_between_and_below_the_mean(up: float, down: float) -> None:
    speed = ball_roll.corrected(up, down)
    assert min(up, down) * (1 - 1e-9) <= speed <= max(up, down) * (1 + 1e-9)
    assert (up + down) / 2 - speed == pytest.approx(ball_roll.overstatement(up, down), abs=1e-9)
    assert speed == ball_roll.corrected(down, up)


@few
@given(st.floats(50, 300), st.floats(20, 400), st.floats(0.1, 0.9), st.floats(1, 5000))
def test_a_head_falls_twice_as_fast_in_half_the_time(
    length: float, start: float, share: float, seconds: float
) -> None:
    slow = infiltration.falling_head(length, start, start * share, seconds)
    assert infiltration.falling_head(length, start, start * share, seconds / 2) == pytest.approx(2 * slow)


@few
@given(st.lists(st.floats(1, 60), min_size=2, max_size=30))
def test_the_mean_lies_between_the_ends(readings: list[float]) -> None:
    mean, low, high, deviation = several("x", "X", readings, "mm")
    assert low.nominal <= mean.nominal * (1 + 1e-12)
    assert mean.nominal <= high.nominal * (1 + 1e-12)
    assert mean.plus_minus == pytest.approx(deviation.nominal / len(readings) ** 0.5)


@few
@given(
    st.floats(-60, 60),
    st.floats(-179, 179),
    st.dates(date(2000, 1, 1), date(2060, 12, 31)),
)
def test_the_sun_is_on_the_horizon_when_it_rises_and_sets(
    latitude: float, longitude: float, day: date
) -> None:
    light = sunpath.daylight(latitude, longitude, day)
    assert light.rise is not None
    assert light.set is not None
    for moment in (light.rise, light.set):
        height, _ = sunpath.position(latitude, longitude, moment)
        assert height == pytest.approx(90 - sunpath.HORIZON, abs=0.02)
    assert light.rise < light.noon < light.set
    for minutes in (-30, 30):
        off = datetime.fromtimestamp(light.noon.timestamp() + 60 * minutes, UTC)
        assert (
            sunpath.position(latitude, longitude, off)[0]
            < sunpath.position(latitude, longitude, light.noon)[0]
        )


@few
@given(st.floats(0, 100), st.floats(0.1, 19.9))
def test_a_stretch_of_edge_is_as_long_as_it_says(start: float, length: float) -> None:
    square = ((0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0))
    points = along(square, start, length)
    walked = sum(
        abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairwise(points)
    )  # the sides run along the axes
    assert walked == pytest.approx(length, abs=1e-6)
    assume(length > 1)
    assert all(-1e-9 <= x <= 5 + 1e-9 and -1e-9 <= y <= 5 + 1e-9 for x, y in points)
