"""Published water figures: depth and litres, uniformity, run time, evaporation. Rows of inputs.csv by id."""

from __future__ import annotations

from typing import Any

import pytest

from logic.works.operation import Ground, Worked
from logic.works.operations import work_out
from logic.works.sun import extraterrestrial_radiation


def worked(operation: str, area: float = 120.0, **given: Any) -> Worked:
    return work_out({"operation": operation, **given}, Ground(area=area))


def test_litres_to_depth(check: Any) -> None:
    check("I-C093").given("45,000 L", "14,000 m2")
    check("I-C093").holds(worked("watering", 14_000.0, volume="45000 L").figure("depth").nominal, "3.21")


def test_depth_to_litres_minutes_and_cans(check: Any) -> None:
    row = check("I-C094")
    row.given("5 mm", "120 m2")
    watered = worked("watering", 120.0, depth="5 mm", flow="15 L/min", can="10 L")
    row.holds(watered.figure("water_volume").nominal, "600")
    row.holds(watered.figure("run_time").nominal, "40")
    row.holds(watered.figure("cans").nominal, "60")


def test_low_quarter(check: Any) -> None:
    check("I-C096").given("7.8", "0.772")
    known = worked("catch_cans", mean_depth="7.8 mm", uniformity="77.2 %")
    check("I-C096").holds(known.figure("low_quarter_depth").nominal, "6.02")


def test_run_time_multiplier(check: Any) -> None:
    check("I-C098").given("0.70")
    watered = worked("watering", depth="5 mm", uniformity="70 %")
    check("I-C098").holds(watered.figure("run_time_multiplier").nominal, "1.22")


@pytest.mark.parametrize(("said", "wanted"), [("1.7 in/h", "43.2"), ("0.5 in/h", "12.7")])
def test_rate_of_sprinklers(check: Any, said: str, wanted: str) -> None:
    check("I-C099").given(said.split()[0])
    # an hour at the rate puts the rate's own depth on: 60 min for `wanted` mm
    watered = worked("watering", depth=f"{wanted} mm", application_rate=said)
    rate = watered.figure("depth").nominal / watered.figure("run_time").nominal * 60
    check("I-C099").holds(rate, wanted)


@pytest.mark.parametrize(("season", "wanted"), [("jul", "3.76"), ("year", "3.20")])
def test_crop_factor(check: Any, season: str, wanted: str) -> None:
    check("I-C100").given("4.0 mm/day", "0.94")
    used = worked("water_use", et0="4.0 mm", season=season)
    check("I-C100").holds(used.figure("turf_use").nominal, wanted)


@pytest.mark.parametrize(
    ("row", "latitude", "day", "wanted"),
    [("I-C101", "-20", 246, "32.2"), ("I-C102", "52.5", 196, "39.97")],
)
def test_sun_above_the_air(check: Any, row: str, latitude: str, day: int, wanted: str) -> None:
    check(row).given(f"latitude {latitude}", f"day {day}")
    check(row).holds(extraterrestrial_radiation(float(latitude), day), wanted)


@pytest.mark.parametrize(
    ("row", "warm", "cold", "latitude", "day", "wanted"),
    [("I-C103", 25, 12, "52.5", 196, "4.91"), ("I-C105", 17, 9, "54", 258, "1.93")],
)
def test_hargreaves(check: Any, row: str, warm: int, cold: int, latitude: str, day: int, wanted: str) -> None:
    check(row).given(f"{warm}/{cold} C", f"latitude {latitude}", f"day {day}")
    used = worked("water_use", t_max=warm, t_min=cold, latitude=latitude, day=day)
    check(row).holds(used.figure("et0").nominal, wanted)
