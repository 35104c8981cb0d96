"""Watering, the seedbed, the catch cans and what the turf uses: laws, refusals, warnings, cautions."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.units import plus_minus
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out
from logic.works.sun import extraterrestrial_radiation


def worked(operation: str, area: Any = 100.0, **given: Any) -> Worked:
    return work_out({"operation": operation, **given}, Ground(area=area))


@given(area=st.floats(1, 5000), depth=st.floats(0.5, 30))
def test_depth_and_volume_turn_back_into_each_other(area: float, depth: float) -> None:
    litres = worked("watering", area, depth=f"{depth} mm").figure("water_volume").nominal
    assert litres == pytest.approx(area * depth)
    assert worked("watering", area, volume=f"{litres!r} L").figure("depth").nominal == pytest.approx(depth)


@given(depth=st.floats(1, 20))
def test_the_same_watering_in_inches_and_gallons(depth: float) -> None:
    metric = worked("watering", depth=f"{depth} mm", flow="18.18436 L/min")
    # exact by definition: inch 25.4 mm, imperial gallon 4.54609 L
    imperial = worked("watering", depth=f"{depth / 25.4!r} in", flow="4 imp gal/min")
    for key in ("water_volume", "run_time"):
        assert imperial.figure(key).nominal == pytest.approx(metric.figure(key).nominal)


def test_an_uneven_pattern_runs_longer_by_hose_and_by_sprinkler() -> None:
    even = worked("watering", depth="6 mm", application_rate="12 mm/h")
    uneven = worked("watering", depth="6 mm", application_rate="12 mm/h", uniformity="50 %")
    assert even.figure("run_time").nominal == pytest.approx(30)
    # 1 / (0.4 + 0.6 × 0.5) = 1.4286 (formula from memory, unverified)
    assert uneven.figure("run_time").nominal == pytest.approx(30 * 1.4286, rel=1e-4)


def test_cans_for_an_uncertain_area_are_enough() -> None:
    # 5 mm on 100 ± 5 m² is 500 ± 25 L; 0.9 of a normal error lies below 1.2816: 532 L, so 54 cans of 10 L
    assert worked("watering", plus_minus(100.0, 5.0), depth="5 mm", can="10 L").figure("cans").nominal == 54
    assert worked("watering", 100.0, depth="5 mm", can="10 L").figure("cans").nominal == 50


def test_a_seedbed_by_the_day() -> None:
    bed = worked(
        "seedbed_watering", 80.0, depth_each="3 mm", times_a_day=2, days=10, flow="12 L/min", can="10 L"
    )
    value = {f.key: f.nominal for f in bed.figures}
    assert value["water_each"] == pytest.approx(240)
    assert value["water_a_day"] == pytest.approx(480)
    assert value["water_volume"] == pytest.approx(4800)
    assert value["depth_a_day"] == pytest.approx(6)
    assert value["run_time"] == pytest.approx(20)
    assert value["cans"] == 24


def test_unusual_seedbeds_warn() -> None:
    # 2 to 4 light waterings of 1 to 3 mm: common practice, no source
    bed = worked("seedbed_watering", depth_each="5 mm", times_a_day=6)
    assert set(bed.field_warnings) == {"depth_each", "times_a_day"}


def test_cautions_of_hosepipe_rules_and_drying_out() -> None:
    assert {c.key for c in worked("watering", depth="5 mm").cautions} == {"water_rules"}
    assert {c.key for c in worked("seedbed_watering").cautions} == {"seedbed_dry", "water_rules"}


# --- catch cans -----------------------------------------------------------------------------------


def cans(catches: list[float], **given: Any) -> Worked:
    return worked("catch_cans", catches=catches, opening="100 mm", **given)


@given(st.lists(st.floats(1, 100), min_size=4, max_size=40), st.floats(0.1, 10))
def test_uniformity_does_not_depend_on_how_long_it_ran(catches: list[float], factor: float) -> None:
    once, longer = cans(catches), cans([c * factor for c in catches])
    for key in ("uniformity", "christiansen", "scheduling_coefficient", "run_time_multiplier"):
        assert longer.figure(key).nominal == pytest.approx(once.figure(key).nominal)
    assert 0 < once.figure("uniformity").nominal <= 100 + 1e-9
    assert once.figure("scheduling_coefficient").nominal >= 1 - 1e-9


def test_depth_in_a_can_is_volume_over_opening() -> None:
    # 100 mL in a can of 78.54 cm²: 100 × 10 / 78.54 = 12.73 mm
    assert cans([100] * 4).figure("mean_depth").nominal == pytest.approx(12.73, abs=0.005)


def test_lowest_quarter_of_eight_cans_is_two() -> None:
    # the lowest two of eight, 10 and 20, against a mean of 40: 15 / 40
    assert cans([10, 20, 40, 40, 50, 50, 50, 60]).figure("uniformity").nominal == pytest.approx(37.5)


def test_rate_and_time_to_run() -> None:
    # 12 mm in 20 min is 36 mm/h; even cans need no more, so 6 mm take 10 min
    catch = 12 * math.pi * 25 / 10
    run = cans([catch] * 24, minutes=20, wanted_depth="6 mm")
    assert run.figure("application_rate").nominal == pytest.approx(36)
    assert run.figure("run_time").nominal == pytest.approx(10)
    assert not run.warnings


def test_scheduling_coefficient_lengthens_the_published_run() -> None:
    # CSU Fresno: a coefficient of 1.8 turns 30 minutes into 54
    coefficient = cans([10, 18, 22, 22]).figure("scheduling_coefficient").nominal
    assert coefficient * 30 == pytest.approx(54)


@pytest.mark.parametrize(
    ("catches", "words"),
    [
        ([20.0] * 12, "12 cans give a rough answer"),
        ([20.0] * 26, "Cans in fours"),
        ([0.0, *[20.0] * 23], "A can stayed dry"),
        ([*[2.0] * 6, *[20.0] * 18], "Uneven: below 55 %"),
    ],
)
def test_each_warning_of_the_cans(catches: list[float], words: str) -> None:
    assert any(words in sentence for sentence in cans(catches).warnings)


def test_a_dry_can_gives_no_coefficient() -> None:
    assert "scheduling_coefficient" not in {f.key for f in cans([0, 20, 20, 20]).figures}


@pytest.mark.parametrize(
    ("catches", "words"),
    [([1, 2, 3], "at least 4"), ([0] * 4, "cans are empty"), ([-1, 2, 3, 4], "negative")],
)
def test_cans_that_cannot_be_are_refused(catches: list[float], words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        cans(catches)
    assert caught.value.field_key == "catches"


# --- what the turf uses ---------------------------------------------------------------------------


@given(latitude=st.floats(-90, 90), day=st.integers(1, 366))
def test_the_sun_is_never_negative_and_never_beyond_its_constant(latitude: float, day: int) -> None:
    # 24 h of 0.0820 MJ/m² a minute, 3.3 % nearer: the most that can arrive
    assert -1e-9 <= extraterrestrial_radiation(latitude, day) <= 24 * 60 * 0.0820 * 1.034


def test_the_seasons_are_the_other_way_round_in_the_south() -> None:
    assert extraterrestrial_radiation(52, 172) > 3 * extraterrestrial_radiation(52, 355)
    assert extraterrestrial_radiation(-52, 355) > 3 * extraterrestrial_radiation(-52, 172)
    assert extraterrestrial_radiation(80, 355) == 0


def test_fahrenheit_gives_the_same_use() -> None:
    place = {"latitude": 52.5, "day": 196}
    celsius = worked("water_use", t_max=25, t_min=12, **place).figure("turf_use").nominal
    fahrenheit = worked("water_use", t_max="77 degF", t_min="53.6 degF", **place)
    assert fahrenheit.figure("turf_use").nominal == pytest.approx(celsius)


def test_days_and_area_multiply_the_use() -> None:
    used = worked("water_use", 200.0, et0="3 mm", crop_factor="0.8", days=4)
    assert used.figure("water_volume").nominal == pytest.approx(3 * 0.8 * 4 * 200)


def test_a_hard_frost_uses_nothing() -> None:
    used = worked("water_use", t_max=-18, t_min=-22, latitude=60, day=20)
    assert used.figure("turf_use").nominal == 0


def test_a_warmest_below_the_coldest_is_refused() -> None:
    with pytest.raises(BadValue, match="can't be below the coldest"):
        worked("water_use", t_max=5, t_min=9, latitude=52, day=100)
