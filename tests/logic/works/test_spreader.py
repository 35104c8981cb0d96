"""Calibrating a spreader, its width, and the running sheet: laws, refusals, warnings."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out
from logic.works.running_sheet import DONE, LASTING, OVER, SHORT, Run, lasting


def worked(operation: str, **given: Any) -> Worked:
    return work_out({"operation": operation, **given}, Ground(area=100.0))


@given(mass=st.floats(20, 2000), length=st.floats(5, 50), width=st.floats(0.5, 3))
def test_a_run_and_a_plot_of_its_size_give_the_same_rate(mass: float, length: float, width: float) -> None:
    run = worked("spreader_calibration", mass_used=f"{mass} g", distance=f"{length} m", swath=f"{width} m")
    plot = worked("spreader_calibration", mass_used=f"{mass} g", plot_area=f"{length * width!r} m^2")
    assert run.figure("measured_rate").nominal == pytest.approx(plot.figure("measured_rate").nominal)


@given(setting=st.floats(1, 20), wanted=st.floats(2, 50), measured=st.floats(2, 50))
def test_the_next_setting_is_in_proportion(setting: float, wanted: float, measured: float) -> None:
    run = worked(
        "spreader_calibration",
        mass_used=f"{measured * 10!r} g",
        plot_area="10 m^2",
        wanted_rate=wanted,
        setting=setting,
    )
    assert run.figure("next_setting").nominal / setting == pytest.approx(wanted / measured)


@pytest.mark.parametrize(
    ("pounds", "words"),
    # UMass Extension: for 5.00 lb, 4.75 to 5.25 will do
    [("4.70", "too little"), ("4.75", ""), ("5.00", ""), ("5.25", ""), ("5.30", "too much")],
)
def test_five_per_cent_either_way_will_do(pounds: str, words: str) -> None:
    said = worked(
        "spreader_calibration",
        mass_used=f"{pounds} lb",
        plot_area="1000 ft^2",
        wanted_rate="5.00 lb/1000 ft^2",
    ).warnings
    assert (words in said[0]) if words else not said


@given(factor=st.floats(0.1, 20))
def test_the_width_does_not_depend_on_how_much_was_caught(factor: float) -> None:
    masses = [4, 9, 15, 20, 16, 11, 3]
    once = worked("spreader_swath", tray_spacing="0.3 m", tray_masses=masses)
    more = worked("spreader_swath", tray_spacing="0.3 m", tray_masses=[m * factor for m in masses])
    turned = worked("spreader_swath", tray_spacing="0.3 m", tray_masses=masses[::-1])
    assert more.figure("swath").nominal == pytest.approx(once.figure("swath").nominal)
    assert turned.figure("swath").nominal == pytest.approx(once.figure("swath").nominal)


def test_half_of_the_centre_between_two_trays() -> None:
    # half of 20 is 10: midway between 15 and 5, so 1.5 trays out on either side
    swath = worked("spreader_swath", tray_spacing="0.4 m", tray_masses=[5, 15, 20, 15, 5]).figure("swath")
    assert swath.nominal == pytest.approx(1.2)


@pytest.mark.parametrize(
    ("masses", "words"),
    [
        ([4, 10, 20, 10], "at least 5 values"),
        ([4, 10, 20, 20, 10, 4], "odd number"),
        ([4, 10, 0, 10, 4], "middle tray is empty"),
        ([15, 18, 20, 18, 15], "set out more"),
        ([-1, 10, 20, 10, 1], "can't be negative"),
    ],
)
def test_trays_that_give_no_width_are_refused(masses: list[float], words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        worked("spreader_swath", tray_spacing="0.3 m", tray_masses=masses)
    assert caught.value.field_key == "tray_masses"


def test_a_lopsided_throw_warns() -> None:
    even = worked("spreader_swath", tray_spacing="0.3 m", tray_masses=[4, 10, 20, 10, 4])
    lopsided = worked("spreader_swath", tray_spacing="0.3 m", tray_masses=[8, 16, 20, 9, 2])
    assert not even.warnings
    assert "more to one side" in lopsided.warnings[0]


# --- the running sheet --------------------------------------------------------------------------


@given(loaded=st.floats(200, 5000), share=st.floats(0.05, 0.95), spare=st.floats(0, 0.2))
def test_a_run_on_its_plan_is_lasting(loaded: float, share: float, spare: float) -> None:
    run = Run(loaded, loaded * spare, loaded - loaded * (1 - spare) * share, share, 0.05)
    assert lasting(run).state == LASTING
    assert run.end_left == pytest.approx(run.spare, abs=loaded * 1e-9)
    assert run.change == pytest.approx(1)


@given(share=st.floats(0.05, 0.95), off=st.floats(1.06, 3))
def test_a_run_off_its_plan_says_which_way(share: float, off: float) -> None:
    fast = Run(4000, 0, 4000 - 4000 * share / 3 * off, share, 0.05)
    planned = Run(4000, 4000 * 2 / 3, fast.left, share, 0.05)
    slow = Run(4000, 0, 4000 - 4000 * share / off, share, 0.05)
    assert lasting(planned).state == SHORT
    assert lasting(slow).state == OVER


@given(share=st.floats(0.05, 0.9), used=st.floats(0.05, 0.9))
def test_changing_the_rate_as_said_brings_it_out_at_the_spare(share: float, used: float) -> None:
    run = Run(1000, 20, 1000 - 900 * used, share, 0.05)
    rate = 900 * used / share
    assert run.left - rate * run.change * (1 - share) == pytest.approx(20)


@pytest.mark.parametrize(
    ("left", "state", "words"),
    [
        ([810], LASTING, "It is lasting: 810 g left, 810 g planned. Carry on."),
        ([770], SHORT, "it will run out after 87 % of the run"),
        ([800.25], SHORT, "Going down too fast: 800 g left, 810 g planned; only 1.25 g will come back"),
        ([900], OVER, "Going down too slowly: 900 g left, 810 g planned; 500 g will be left."),
        ([810, 620, 430, 240, 60], DONE, "Done: 60 g left over, 50 g expected."),
    ],
)
def test_what_the_sheet_says(left: list[float], state: str, words: str) -> None:
    sheet = worked("running_sheet", loaded="1 kg", spare="50 g", strips=5, left=left)
    assert words in sheet.figure("ahead").working()[-1]
    assert bool(sheet.warnings) == (state in (SHORT, OVER))
    run = Run(1000, 50, left[-1], len(left) / 5, 0.05)
    assert lasting(run).state == state


def test_uneven_strips_count_by_their_length() -> None:
    sheet = worked(
        "running_sheet", loaded="1 kg", strips=3, strip_lengths=["10 m", "20 m", "20 m"], left=[800]
    )
    assert sheet.figure("share_done").nominal == pytest.approx(20)
    assert sheet.figure("ahead").nominal == pytest.approx(0)


def test_the_setting_to_go_on_with() -> None:
    # 300 g used on half; 700 g for the other half: open it to 7/3
    sheet = worked("running_sheet", loaded="1 kg", strips=2, left=[700], setting=6)
    assert sheet.figure("next_setting").nominal == pytest.approx(14)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"spare": "1 kg", "left": [900]}, "spare", "less than what is weighed out"),
        ({"left": [900, 950]}, "left", "more left than before"),
        ({"left": [1100]}, "left", "more left than before"),
        ({"left": [1000]}, "left", "Nothing has gone down"),
        ({"left": [900, 800, 700, 600]}, "left", "4 weighings, but only 3 strips"),
        ({"left": [900], "strip_lengths": [5, 5]}, "strip_lengths", "Give 3 lengths"),
    ],
)
def test_weighings_that_cannot_be_are_refused(given: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        worked("running_sheet", loaded="1 kg", strips=3, **given)
    assert caught.value.field_key == field
