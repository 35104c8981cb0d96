"""Coring: laws, refusals, warnings and cautions. The published sums stand in tests/checks."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out

TOTALS = ("holes", "core_volume", "core_mass", "fill_volume", "fill_mass", "distance")


def core(area: Any = 120.0, earlier: tuple[Worked, ...] = (), **given_: Any) -> Worked:
    usual = {"tine_diameter": "12 mm", "spacing_across": "50 mm", "spacing_along": "50 mm", "depth": "60 mm"}
    return work_out({"operation": "coring", **usual, **given_}, Ground(area=area, earlier=earlier))


def keys(worked: Worked) -> list[str]:
    return [c.key for c in worked.cautions]


@given(area=st.floats(5, 2000), part=st.floats(0.05, 0.95), passes=st.integers(1, 3))
@settings(max_examples=60, deadline=None)
def test_two_parts_of_a_green_need_what_the_whole_needs(area: float, part: float, passes: int) -> None:
    whole, one, other = (core(a, passes=passes) for a in (area, area * part, area * (1 - part)))
    for key in TOTALS:
        both = one.figure(key).nominal + other.figure(key).nominal
        assert both == pytest.approx(whole.figure(key).nominal)


@given(tine=st.floats(5, 20), across=st.floats(25, 100), along=st.floats(25, 100), depth=st.floats(20, 150))
@settings(max_examples=60, deadline=None)
def test_inches_give_the_same_cores_as_millimetres(
    tine: float, across: float, along: float, depth: float
) -> None:
    sizes = {"tine_diameter": tine, "spacing_across": across, "spacing_along": along, "depth": depth}
    metric = core(**{k: f"{x!r} mm" for k, x in sizes.items()})
    inches = core(**{k: f"{x / 25.4!r} in" for k, x in sizes.items()})  # 25.4 mm exactly, by definition
    for key in (*TOTALS, "surface_removed"):
        assert inches.figure(key).nominal == pytest.approx(metric.figure(key).nominal)


@given(passes=st.integers(2, 6))
@settings(max_examples=10, deadline=None)
def test_crossings_counted_once_never_come_to_more_than_added(passes: int) -> None:
    worked = core(passes=passes)
    added, once = (worked.figure(k).nominal for k in ("surface_removed", "surface_removed_overlap"))
    one = core().figure("surface_removed").nominal
    assert one < once < added == pytest.approx(one * passes)
    assert worked.figure("core_volume").nominal == pytest.approx(once / 100 * 60 * 120)


def test_two_passes_at_random() -> None:
    # arithmetic, A-A4 of the agronomy checks: 4.524 % twice, crossings counted once, is 8.843 %
    assert core(passes=2).figure("surface_removed_overlap").nominal == pytest.approx(8.843, abs=0.001)


def test_sand_for_holes_75_mm_deep() -> None:
    # arithmetic, A-A6 of the agronomy checks: 12 mm at 50 x 50 mm, 75 mm deep takes 3.393 L/m²
    assert core(depth="75 mm").figure("fill_rate").nominal == pytest.approx(3.393, abs=0.001)


def test_a_club_that_counted_its_holes() -> None:
    # Spring greens aerification, course notes, 2012: 0.5 in at 1.60 x 1.87 in, published as 6.59 %
    worked = core(tine_diameter="0.5 in", spacing_across="1.60 in", spacing_along="1.87 in")
    assert worked.figure("surface_removed").nominal == pytest.approx(6.59, abs=0.04)


@given(share=st.floats(0, 100))
@settings(max_examples=30, deadline=None)
def test_cores_worked_back_in_leave_thatch_and_less_to_fill(share: float) -> None:
    cleared, back = core(), core(cores="return", sand_share=f"{share!r} %")
    pulled = cleared.figure("core_volume").nominal
    assert back.figure("sand_returned").nominal + back.figure("thatch_volume").nominal == pytest.approx(
        pulled
    )
    assert back.figure("fill_volume").nominal == pytest.approx(pulled * (1 - share / 100), abs=1e-9)
    assert cleared.figure("fill_volume").nominal == pytest.approx(pulled)
    assert any("organic matter" in w for w in back.warnings)


def test_the_outside_diameter_is_asked_after() -> None:
    (warning,) = core(tine_diameter="18 mm").warnings
    assert "often the outside" in warning
    assert "14 mm" in warning  # less two walls of 2 mm
    assert "40 % less" in warning  # 1 − (14 ÷ 18)²
    assert core(tine_diameter="18 mm", outside_diameter="22 mm").warnings == ()
    assert core(tine_diameter="12.5 mm").warnings == ()


def test_the_tube_cuts_more_than_it_takes_out() -> None:
    worked = core(outside_diameter="16 mm")
    assert worked.figure("surface_cut").nominal == pytest.approx(8.04, abs=0.005)  # 16 mm at 50 x 50 mm


def test_more_than_a_fifth_in_one_visit_is_arithmetic_only() -> None:
    tight = core(spacing_across="25 mm", spacing_along="20 mm")
    assert any("arithmetic only" in w for w in tight.warnings)
    half = core(spacing_across="33 mm", spacing_along="33 mm")  # 10.4 %
    assert not half.warnings
    assert any(
        "20.8 % of the surface" in w
        for w in core(earlier=(half,), spacing_across="33 mm", spacing_along="33 mm").warnings
    )


def test_double_passes_that_are_too_close() -> None:
    assert any("tore the turf" in w for w in core(passes=2, spacing_along="30 mm").warnings)
    assert not any("tore the turf" in w for w in core(passes=1, spacing_along="30 mm").warnings)


def test_unusual_sizes_are_warned_of_but_worked_out() -> None:
    worked = core(tine_diameter="30 mm", outside_diameter="34 mm", depth="200 mm")
    assert set(worked.field_warnings) == {"tine_diameter", "outside_diameter", "depth"}


@pytest.mark.parametrize(
    ("field", "given_"),
    [
        ("spacing_across", {"spacing_across": "12 mm"}),
        ("spacing_along", {"spacing_along": "10 mm"}),
        ("outside_diameter", {"outside_diameter": "12 mm"}),
        ("tine_diameter", {"tine_diameter": "0 mm"}),
        ("depth", {"depth": "3 L"}),
        ("passes", {"passes": "1.5"}),
        ("overlap", {"overlap": "600 mm"}),
        ("cores", {"cores": "burn"}),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(field: str, given_: dict[str, str]) -> None:
    with pytest.raises(BadValue) as refused:
        core(**given_)
    assert refused.value.field_key == field
    assert refused.value.sentence.endswith(".")


def test_cautions() -> None:
    assert keys(core(depth="74 mm")) == ["garden_wires", "vibration"]
    deep = core(depth="75 mm")
    assert keys(deep) == ["garden_wires", "vibration", "buried_services"]
    services = next(c for c in deep.cautions if c.key == "buried_services")
    assert "local rules" in services.sentence
    assert "HSG47" in str(services.source)
