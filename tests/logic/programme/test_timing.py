"""Growth, germination, recovery and the strip of the year."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.programme.germination import day_reached, sowing, thermal_days
from logic.programme.growth import degree_days, growth_potential, nitrogen_by_month
from logic.programme.recovery import cover_after, days_to_cover, own_rate
from logic.programme.season import FORM, Climate, climate_of, monthly_means, strip, strips, with_log

YEAR = (4.5, 4.8, 6.6, 8.9, 12.0, 14.8, 16.9, 16.6, 14.3, 11.0, 7.4, 5.0)
few = settings(max_examples=100, deadline=None)


@few
@given(st.floats(-30, 50), st.sampled_from(["cool", "cool_low", "warm"]))
def test_growth_lies_between_none_and_full(temperature: float, grass: str) -> None:
    assert 0 <= growth_potential(temperature, grass) <= 1


def test_warm_grass_is_held_at_full_growth_and_cool_grass_falls_off() -> None:
    # Modified warm season growth potential model, PACE Turf
    assert growth_potential(38, "warm") == 1
    assert growth_potential(30, "cool") < growth_potential(25, "cool")


@pytest.mark.parametrize(("temperature", "wanted"), [(10, 0.3472), (15, 0.8618), (20, 0.9360)])
def test_growth_with_the_lower_optimum(temperature: float, wanted: float) -> None:
    # the curve with its optimum at 18 °C, as suggested by Woods, 2014; worked by hand
    assert growth_potential(temperature, "cool_low") == pytest.approx(wanted, abs=0.0001)


@few
@given(st.lists(st.tuples(st.floats(0, 40), st.floats(0, 15)), max_size=20), st.floats(0, 15))
def test_degree_days_add_up_day_by_day(days: list[tuple[float, float]], base: float) -> None:
    given_ = [(low + swing, low) for low, swing in days]
    whole = degree_days(given_, base).nominal
    assert whole == pytest.approx(sum(degree_days([day], base).nominal for day in given_))
    assert whole >= 0


def test_twelve_months_or_none() -> None:
    with pytest.raises(BadValue):
        nitrogen_by_month(YEAR[:11])


@few
@given(st.floats(4, 24), st.floats(0.1, 10))
def test_warmer_soil_brings_seed_up_sooner(soil: float, more: float) -> None:
    cold, warm = thermal_days("ryegrass", soil), thermal_days("ryegrass", soil + more)
    assert cold is not None
    assert warm is not None
    assert warm.nominal < cold.nominal


@few
@given(st.floats(5, 24))
def test_steady_soil_and_daily_sum_agree(soil: float) -> None:
    steady = thermal_days("smooth_meadow", soil)
    assert steady is not None
    day, _ = day_reached("smooth_meadow", [soil] * 200)
    assert day is not None
    assert day - 1 <= steady.nominal * (1 + 1e-9)
    assert steady.nominal <= day * (1 + 1e-9)


def test_no_thermal_time_is_made_up_for_bent() -> None:
    assert thermal_days("browntop_bent", 12) is None
    with pytest.raises(BadValue):
        day_reached("browntop_bent", [12] * 9)
    with pytest.raises(BadValue, match="does not germinate"):
        thermal_days("ryegrass", 3)


@pytest.mark.parametrize(("soil", "state"), [(7.9, "no"), (8, "wait"), (9.9, "wait"), (10, "go"), (18, "go")])
def test_sowing_by_soil(soil: float, state: str) -> None:
    # 10 °C: HortTechnology 31(1):42, 2021; 8 °C: common practice, no source
    assert sowing(soil).state == state


@few
@given(st.floats(5, 90), st.floats(0.1, 1), st.floats(0.05, 0.5))
def test_recovery_and_its_inverse_agree(cover: float, potential: float, rate: float) -> None:
    days = days_to_cover(cover, potential, 95, rate).nominal
    assert cover_after(cover, days, potential, rate) == pytest.approx(95)
    assert own_rate(cover, 95, days * potential).nominal == pytest.approx(rate)


def test_a_sward_that_stands_still_does_not_close() -> None:
    with pytest.raises(BadValue, match="stands still"):
        days_to_cover(50, 0.0)
    with pytest.raises(BadValue):
        own_rate(60, 50, 10)


def test_the_year_for_seed() -> None:
    year = strip("overseeding", Climate(YEAR, YEAR))
    assert year is not None
    assert year.good() == (8, 9)
    assert year.months[0].state == "poor"
    assert [m.number for m in year.months] == list(range(1, 13))


def test_below_the_equator_the_windows_lie_half_a_year_off() -> None:
    turned = YEAR[6:] + YEAR[:6]
    north, south = Climate(YEAR, YEAR), Climate(turned, turned, south=True)
    for one, other in zip(strips(north), strips(south), strict=True):
        assert [m.state for m in one.months] == [m.state for m in other.months[6:] + other.months[:6]]


def test_heat_closes_the_window_for_coring() -> None:
    hot = tuple(28.0 for _ in YEAR)
    year = strip("coring", Climate(hot, hot))
    assert year is not None
    assert {m.state for m in year.months} == {"poor"}
    assert "too hot" in year.months[0].sentence


def test_an_operation_without_a_window_has_no_strip() -> None:
    assert strip("brushing", Climate(YEAR, YEAR)) is None


def test_temperatures_as_typed_and_from_the_log() -> None:
    reading = FORM.read({"air": [str(t) for t in YEAR]})
    assert reading.values is not None
    climate = climate_of(reading.values, latitude=-37.0)
    assert climate.soil == climate.air == YEAR
    assert climate.south
    log = [(date(2026, 4, 3), 9.0), (date(2026, 4, 20), 12.0), (date(2026, 5, 1), 14.0)]
    means = monthly_means(log)
    assert means == {4: 10.5, 5: 14.0}
    logged = with_log(climate, means)
    assert logged.air[3:5] == logged.soil[3:5] == (10.5, 14.0)
    assert logged.air[5:] == YEAR[5:]
    assert FORM.read({"air": ["1", "2"]}).values is None
