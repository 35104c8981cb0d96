"""Spraying, its pace, and calibrating the sprayer: laws, refusals, warnings and cautions."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def worked(operation: str, area: float = 100.0, **given: Any) -> Worked:
    return work_out({"operation": operation, **given}, Ground(area=area))


@given(flow=st.floats(0.3, 2), swath=st.floats(0.3, 3), water=st.floats(0.02, 0.1))
def test_the_pace_to_hold_puts_the_rate_on(flow: float, swath: float, water: float) -> None:
    sprayed = worked(
        "spraying",
        product_rate="2 mL/m^2",
        water_rate=f"{water} L/m^2",
        flow=f"{flow} L/min",
        swath=f"{swath} m",
    )
    speed = sprayed.figure("walking_speed").nominal
    back = worked("sprayer_calibration", flow=f"{flow} L/min", speed=f"{speed!r} km/h", swath=f"{swath} m")
    assert back.figure("spray_rate").nominal == pytest.approx(water * 10_000)
    # walking speed km/h = 360 / seconds for 100 m
    assert 36 / sprayed.figure("seconds_per_10_m").nominal == pytest.approx(speed)


def test_without_flow_and_width_no_pace_is_given() -> None:
    assert "walking_speed" not in {f.key for f in worked("spraying", product_rate="2 mL/m^2").figures}


@given(catch=st.floats(100, 5000), course_time=st.floats(5, 100))
def test_all_four_ways_of_calibrating_agree(catch: float, course_time: float) -> None:
    # sprayed over 20 m by 1.5 m in the time, at the flow caught in a minute
    flow = catch / 1000
    timed = {"catch": f"{catch} mL", "course": "20 m", "course_time": f"{course_time} s", "swath": "1.5 m"}
    over = catch * course_time / 60
    acre = over * (43_560 / 128 * 0.3048**2) / 30
    ways = (
        timed,
        {"flow": f"{flow} L/min", "speed": f"{20 / course_time!r} m/s", "swath": "1.5 m"},
        {"plot_area": "30 m^2", "plot_catch": f"{over!r} mL"},
        {"acre_catch": f"{acre!r} mL", "swath": "1.5 m"},
    )
    rates = [worked("sprayer_calibration", **way).figure("spray_rate").nominal for way in ways]
    assert rates == pytest.approx([rates[0]] * 4)


def test_the_course_of_a_128th_of_an_acre() -> None:
    # NC State Extension worksheet: 340 ft² at 6 ft wide is 57 ft
    calibrated = worked("sprayer_calibration", acre_catch="200 mL", swath="6 ft")
    assert calibrated.figure("course_length").nominal / 0.3048 == pytest.approx(57, abs=0.5)


def test_a_tank_covers_what_its_product_is_for() -> None:
    calibrated = worked(
        "sprayer_calibration", plot_area="10 m^2", plot_catch="400 mL", product_rate="20 L/ha", tank="15 L"
    )
    covered = calibrated.figure("area_per_tank").nominal
    assert covered == pytest.approx(375)
    assert calibrated.figure("product_per_tank").nominal == pytest.approx(2 * covered)
    assert calibrated.figure("water_volume").nominal == pytest.approx(4)


@pytest.mark.parametrize(
    ("flow", "words"),
    [("0.4 L/min", "larger nozzle or less water"), ("4 L/min", "smaller nozzle or go over")],
)
def test_a_pace_nobody_walks_warns(flow: str, words: str) -> None:
    said = worked("spraying", product_rate="2 mL/m^2", flow=flow, swath="0.5 m").warnings
    assert any(words in sentence for sentence in said)


def test_a_usual_pace_does_not() -> None:
    assert not worked("spraying", product_rate="2 mL/m^2", flow="1 L/min", swath="0.5 m").warnings


@pytest.mark.parametrize(
    ("operation", "given", "field"),
    [
        ("spraying", {}, "product_rate"),
        ("spraying", {"product_rate": 2, "swath": 0}, "swath"),
        ("sprayer_calibration", {"flow": "1 L/min", "swath": "1 m"}, "speed"),
        ("sprayer_calibration", {"plot_catch": "1 L", "plot_area": 0}, "plot_area"),
        ("sprayer_calibration", {"flow": "1 kg/min", "speed": 3, "swath": 1}, "flow"),
    ],
)
def test_what_cannot_be_is_refused(operation: str, given: dict[str, Any], field: str) -> None:
    with pytest.raises(BadValue) as caught:
        worked(operation, **given)
    assert caught.value.field_key == field


def test_the_label_the_licence_and_the_wind_go_first() -> None:
    said = {c.key: c.sentence for c in worked("spraying", product_rate=2).cautions}
    assert set(said) == {"label_first", "spray_drift", "tank_filling", "carry_water"}
    assert "no rate of theirs is kept here" in said["label_first"]
    calibrated = worked("sprayer_calibration", flow="1 L/min", speed="3 km/h", swath="0.5 m")
    assert {c.key for c in calibrated.cautions} == {"label_first"}
