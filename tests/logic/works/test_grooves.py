"""Scarifying and verticutting: laws, directions, substitution, refusals, warnings and cautions."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic import tables
from logic.errors import BadValue
from logic.works import going_over
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out

BOTH = pytest.mark.parametrize("operation", ["scarifying", "verticutting"])
SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def cut(operation: str = "scarifying", area: float = 100.0, **given_: Any) -> Worked:
    usual = {"blade_width": "1.5 mm", "blade_spacing": "30 mm", "depth": "8 mm"}
    return work_out({"operation": operation, **usual, **given_}, Ground(area=area, polygon=SQUARE))


@BOTH
@given(area=st.floats(5, 2000), times=st.floats(0.1, 10), passes=st.integers(1, 4))
@settings(max_examples=40, deadline=None)
def test_amounts_are_linear_in_the_area(operation: str, area: float, times: float, passes: int) -> None:
    one, more = cut(operation, area, passes=passes), cut(operation, area * times, passes=passes)
    for key in ("groove_volume", "debris_volume", "fill_volume", "fill_mass", "distance"):
        assert more.figure(key).nominal == pytest.approx(one.figure(key).nominal * times)


@given(width=st.floats(0.8, 4), spacing=st.floats(8, 50), depth=st.floats(1, 25))
@settings(max_examples=60, deadline=None)
def test_inches_give_the_same_grooves(width: float, spacing: float, depth: float) -> None:
    sizes = {"blade_width": width, "blade_spacing": spacing, "depth": depth}
    metric = cut(**{k: f"{x!r} mm" for k, x in sizes.items()})
    inches = cut(**{k: f"{x / 25.4!r} in" for k, x in sizes.items()})
    for key in ("surface_affected", "groove_volume", "fill_mass"):
        assert inches.figure(key).nominal == pytest.approx(metric.figure(key).nominal)


def test_passes_share_the_half_circle_unless_told() -> None:
    spread_out = [going_over.directions(cut(passes=n).values, n) for n in (1, 2, 3)]
    assert spread_out == [(0.0,), (0.0, 90.0), (0.0, 60.0, 120.0)]
    told = cut(passes=2, angles=["0", "45°"])
    assert going_over.directions(told.values, 2) == pytest.approx((0.0, 45.0))


def test_the_pattern_for_the_sketch_has_one_set_of_strips_a_pass() -> None:
    worked = cut(passes=2, working_width="0.5 m", overlap="0 mm")
    along, across = going_over.patterns(worked.values, Ground(area=100.0, polygon=SQUARE), 2)
    assert (along.strips, across.strips) == (20, 20)
    assert abs(along.angle - across.angle) == pytest.approx(90)
    assert worked.figure("strips").nominal == 40


@pytest.mark.parametrize(
    ("angles", "apart"), [(["0", "29"], "29°"), (["170", "5"], "15°"), (["0", "180"], "0°")]
)
def test_passes_that_nearly_run_the_same_way(angles: list[str], apart: str) -> None:
    (warning,) = cut(passes=2, angles=angles).warnings
    assert f"only {apart} apart" in warning
    assert "under 30°" in warning


@pytest.mark.parametrize("angles", [["0", "30"], ["0", "45"], ["0", "90"], ["170", "20"]])
def test_passes_that_cross_well(angles: list[str]) -> None:
    assert cut(passes=2, angles=angles).warnings == ()


@BOTH
def test_too_much_of_the_surface_at_once(operation: str) -> None:
    assert any("arithmetic only" in w for w in cut(operation, passes=5).warnings)
    assert not any("arithmetic only" in w for w in cut(operation, passes=4).warnings)  # 20 % is the limit


@pytest.mark.parametrize(
    ("used", "wanted"),
    [(r["used"], r["wanted"]) for r in tables.rows("substitutes") if r["used"] != "solid_tining"],
)
def test_standing_in_for_another_says_what_that_costs(used: str, wanted: str) -> None:
    (warning,) = cut(used, stands_in_for=wanted).warnings
    assert warning == tables.row("substitutes", used=used, wanted=wanted)["cost"]
    assert " in place of " in warning


def test_debris_is_the_grooves_loosened_up() -> None:
    worked = cut(debris_bulk="4")
    assert worked.figure("debris_volume").nominal == pytest.approx(worked.figure("groove_volume").nominal * 4)
    assert worked.figure("debris_volume").source.trust == "practice"


@BOTH
@pytest.mark.parametrize(
    ("field", "given_"),
    [
        ("blade_spacing", {"blade_spacing": "1.5 mm"}),
        ("blade_width", {"blade_width": ""}),
        ("angles", {"passes": "2", "angles": ["0", "45", "90"]}),
        ("angles", {"angles": ["north"]}),
        ("overlap", {"overlap": "0.5 m"}),
        ("stands_in_for", {"stands_in_for": "rolling"}),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(operation: str, field: str, given_: dict[str, Any]) -> None:
    with pytest.raises(BadValue) as refused:
        cut(operation, **given_)
    assert refused.value.field_key == field
    assert refused.value.sentence.endswith(".")


@BOTH
def test_cautions(operation: str) -> None:
    assert [c.key for c in cut(operation).cautions] == ["garden_wires", "vibration"]
    wires = cut(operation).cautions[0].sentence
    assert "irrigation" in wires
    assert "robot-mower wire" in wires
    assert [c.key for c in cut(operation, depth="75 mm").cautions][-1] == "buried_services"
