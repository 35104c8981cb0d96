"""Organic matter: passes to a target, and dilution by sand."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out
from logic.works.organic_matter import passes_to


def dilute(earlier: tuple[Worked, ...] = (), **given_: Any) -> Worked:
    given_ = {"start": "5 %", "target": "3.25 %", **given_}
    return work_out({"operation": "organic_matter", **given_}, Ground(area=100.0, earlier=earlier))


def cored(**given_: Any) -> Worked:
    usual = {"tine_diameter": "12 mm", "spacing_across": "50 mm", "spacing_along": "50 mm", "depth": "20 mm"}
    return work_out({"operation": "coring", **usual, **given_}, Ground(area=100.0))


def test_four_passes_of_a_tenth_bring_five_to_three_and_a_quarter() -> None:
    # Organic matter management, golf trade press (starting figures); published arithmetic: 4.09
    worked = dilute(share="10 %")
    assert worked.figure("passes_to_target").nominal == pytest.approx(4.09, abs=0.005)
    assert "so 5 passes" in worked.figure("passes_to_target").working()[0]


def test_two_kilograms_of_sand_in_the_top_two_centimetres() -> None:
    # A-O5 of the agronomy checks: 7.3 %, 2 kg/m² into a slice of 26 kg/m² gives 6.738 %
    worked = dilute(start="7.3 %", target="6 %", sand_rate="2 kg/m^2", slice_density="1300 kg/m^3")
    assert worked.figure("om_after_sand").nominal == pytest.approx(6.738, abs=0.001)


def test_sand_from_eight_to_seven() -> None:
    # published arithmetic: 26 x (1 − 7 ÷ 8) = 3.25 kg/m²
    assert dilute(start="8 %", target="7 %").figure("sand_to_target").nominal == pytest.approx(3.25)


@given(start=st.floats(2, 20), part=st.floats(0.2, 0.95), share=st.floats(1, 40))
@settings(max_examples=80, deadline=None)
def test_that_many_passes_do_reach_the_target(start: float, part: float, share: float) -> None:
    passes = passes_to(start, start * part, share)
    assert start * (1 - share / 100) ** passes == pytest.approx(start * part)


@given(start=st.floats(3, 20), part=st.floats(0.5, 0.95))
@settings(max_examples=60, deadline=None)
def test_that_much_sand_does_reach_the_target(start: float, part: float) -> None:
    wanted = {"start": f"{start!r} %", "target": f"{start * part!r} %"}
    sand = dilute(**wanted).figure("sand_to_target").nominal
    after = dilute(**wanted, sand_rate=f"{sand!r} kg/m^2").figure("om_after_sand").nominal
    assert after == pytest.approx(start * part)


def test_the_programme_before_it_is_taken_when_nothing_is_given() -> None:
    coring = cored(passes=2)
    dressing = work_out({"operation": "topdressing", "depth": "2 mm"}, Ground(area=100.0))
    worked = dilute((coring, dressing))
    share = coring.figure("surface_removed_overlap").nominal
    assert worked.figure("om_after_one_pass").nominal == pytest.approx(5 * (1 - share / 100))
    assert worked.figure("om_after_sand").nominal == pytest.approx(5 * (1 - 3.2 / 26))


def test_what_the_sums_leave_out_is_said() -> None:
    worked = dilute(share="10 %")
    assert ["goes on making organic matter" in w for w in worked.warnings] == [True]
    assert any("4 % or less" in w for w in dilute(share="10 %", start="8 %", target="5 %").warnings)
    assert any("Give the surface removed" in w for w in dilute().warnings)


@pytest.mark.parametrize(
    ("field", "given_"),
    [
        ("target", {"target": "5 %"}),
        ("target", {"target": "0 %"}),
        ("share", {"share": "100 %"}),
        ("sand_rate", {"sand_rate": "26 kg/m^2"}),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(field: str, given_: dict[str, str]) -> None:
    with pytest.raises(BadValue) as refused:
        dilute(**given_)
    assert refused.value.field_key == field


def test_the_formula_alone_refuses_what_it_cannot_solve() -> None:
    with pytest.raises(ValueError, match="target"):
        passes_to(4, 5, 10)
