"""Works that go up and down with a machine: levelling, brushing, matting, rolling, and the time they take."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out

OBLONG = ((0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0))
PLAIN = ["levelling", "brushing", "matting", "rolling"]
MACHINE = {"working_width": "1 m", "overlap": "0 mm", "speed": "3 km/h", "turn_time": "15 s"}


def go(operation: str, ground: Ground | None = None, **given_: Any) -> Worked:
    return work_out(
        {"operation": operation, **MACHINE, **given_}, ground or Ground(area=120.0, polygon=OBLONG)
    )


@pytest.mark.parametrize("operation", PLAIN)
def test_ten_strips_of_twelve_metres(operation: str) -> None:
    worked = go(operation, passes=1)
    assert worked.figure("strips").nominal == 10
    assert worked.figure("longest_strip").nominal == pytest.approx(12)
    assert worked.figure("distance").nominal == pytest.approx(120)
    # 120 m at 50 m a minute, and nine turns of a quarter of a minute
    assert worked.figure("time").nominal == pytest.approx(120 / 50 + 9 * 0.25)


@pytest.mark.parametrize("operation", PLAIN)
def test_crossing_passes_are_counted_each_its_own_way(operation: str) -> None:
    worked = go(operation, passes=2)
    assert worked.figure("strips").nominal == 10 + 12
    assert worked.figure("distance").nominal == pytest.approx(240)
    assert worked.figure("time").nominal == pytest.approx(240 / 50 + (9 + 11) * 0.25)


def test_overlap_means_more_strips() -> None:
    worked = go("matting", passes=1, overlap="200 mm")
    assert worked.figure("strips").nominal == 13  # 10 m ÷ 0.8 m
    assert worked.figure("distance").nominal == pytest.approx(150)


def test_a_bed_in_the_middle_adds_turns() -> None:
    bed = ((5.0, 4.0), (7.0, 4.0), (7.0, 6.0), (5.0, 6.0))
    worked = go("rolling", Ground(area=116.0, polygon=OBLONG, holes=(bed,)), passes=1)
    # two of the ten strips are cut in two, so the roller is turned or lifted over 11 times
    assert worked.figure("time").nominal == pytest.approx(116 / 50 + 11 * 0.25)


def test_a_piece_of_ground_that_lies_apart_has_strips_of_its_own() -> None:
    apart = tuple((x + 20, y) for x, y in OBLONG)
    bed = ((25.0, 4.0), (27.0, 4.0), (27.0, 6.0), (25.0, 6.0))
    ground = Ground(area=236.0, polygon=OBLONG, pieces=(apart,), holes=(bed,))
    worked = go("rolling", ground, passes=1)
    assert worked.figure("strips").nominal == 20
    assert worked.figure("longest_strip").nominal == pytest.approx(12)
    # nine turns on the one, and eleven on the other, where the bed cuts two strips in two
    assert worked.figure("time").nominal == pytest.approx(236 / 50 + (9 + 11) * 0.25)


def test_an_area_without_an_outline_is_taken_as_a_square() -> None:
    worked = go("rolling", Ground(area=100.0), passes=1)
    assert worked.figure("strips").nominal == 10
    assert any("for a square" in line for line in worked.figure("strips").working())


@given(area=st.floats(20, 2000), times=st.floats(0.1, 10), speed=st.floats(0.5, 6))
@settings(max_examples=40, deadline=None)
def test_walking_is_linear_in_area_and_against_speed(area: float, times: float, speed: float) -> None:
    kmh, mph = (
        {"turn_time": "0 s", "speed": f"{speed!r} km/h"},
        {"turn_time": "0 s", "speed": f"{speed / 1.609344!r} mph"},
    )
    one, more = go("levelling", Ground(area=area), **kmh), go("levelling", Ground(area=area * times), **kmh)
    assert more.figure("time").nominal == pytest.approx(one.figure("time").nominal * times)
    assert go("levelling", Ground(area=area), **mph).figure("time").nominal == pytest.approx(
        one.figure("time").nominal
    )


def test_a_heavy_roller_is_warned_of() -> None:
    assert go("rolling", roller_mass="200 kg").figure("roller_load").nominal == pytest.approx(200)
    assert go("rolling", roller_mass="200 kg").warnings == ()
    (warning,) = go("rolling", roller_mass="300 kg").warnings
    assert "heavy roller" in warning
    assert "roller_load" not in {f.key for f in go("rolling").figures}


@pytest.mark.parametrize("operation", PLAIN)
@pytest.mark.parametrize(
    ("field", "given_"),
    [
        ("overlap", {"overlap": "1 m"}),
        ("speed", {"speed": "0 km/h"}),
        ("angles", {"passes": "2", "angles": ["0"]}),
        ("working_width", {"working_width": "1 mm"}),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(operation: str, field: str, given_: dict[str, Any]) -> None:
    with pytest.raises(BadValue) as refused:
        go(operation, **given_)
    assert refused.value.field_key == field


def test_cautions() -> None:
    for operation in ("levelling", "brushing", "matting"):
        assert [c.key for c in go(operation).cautions] == ["sand_dust", "dry_sand"]
    (caution,) = go("rolling").cautions
    assert "wet ground" in caution.sentence
