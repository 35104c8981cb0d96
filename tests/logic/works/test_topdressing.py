"""Topdressing: what earlier works left open, laws, warnings and cautions. Published sums: tests/checks."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.units import plus_minus
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out

TOTALS = ("sand_volume", "sand_mass", "sand_order", "layer_volume")


def dress(area: Any = 120.0, earlier: tuple[Worked, ...] = (), **given_: Any) -> Worked:
    if "rate" not in given_:
        given_ = {"depth": "2 mm", **given_}
    return work_out({"operation": "topdressing", **given_}, Ground(area=area, earlier=earlier))


def cored(area: Any = 120.0, **given_: Any) -> Worked:
    usual = {"tine_diameter": "12 mm", "spacing_across": "50 mm", "spacing_along": "50 mm", "depth": "80 mm"}
    return work_out({"operation": "coring", **usual, **given_}, Ground(area=area))


def cut(area: Any = 120.0) -> Worked:
    given_ = {"blade_width": "3 mm", "blade_spacing": "25.4 mm", "depth": "0.75 in"}
    return work_out({"operation": "verticutting", **given_}, Ground(area=area))


def value(worked: Worked, key: str) -> float:
    return worked.figure(key).nominal


@given(area=st.floats(5, 2000), part=st.floats(0.05, 0.95), depth=st.floats(0.1, 6))
@settings(max_examples=60, deadline=None)
def test_two_parts_of_a_green_need_what_the_whole_needs(area: float, part: float, depth: float) -> None:
    parts = [dress(a, (cored(a),), depth=f"{depth!r} mm") for a in (area, area * part, area * (1 - part))]
    for key in (*TOTALS, "hole_fill"):
        whole, one, other = (value(w, key) for w in parts)
        assert one + other == pytest.approx(whole)


@given(depth=st.floats(0.1, 10), density=st.floats(1300, 2000))
@settings(max_examples=60, deadline=None)
def test_depth_and_weight_are_two_ways_of_saying_one_thing(depth: float, density: float) -> None:
    by_depth = dress(depth=f"{depth!r} mm", bulk_density=f"{density!r}")
    by_rate = dress(rate=f"{depth * density / 1000!r} kg/m^2", bulk_density=f"{density!r}")
    for key in (*TOTALS, "sand_rate"):
        assert value(by_rate, key) == pytest.approx(value(by_depth, key))


@given(rate=st.floats(0.2, 6))
@settings(max_examples=60, deadline=None)
def test_the_same_dressing_in_other_units_weighs_the_same(rate: float) -> None:
    pound, yard, foot = 0.45359237, 0.9144, 0.3048  # kg, m, m: exact by definition
    metric = value(dress(rate=f"{rate!r} kg/m^2"), "sand_mass")
    for text in (
        f"{rate / pound * yard**2!r} lb/yd^2",
        f"{rate / pound * foot**2 * 1000!r} lb/1000 ft^2",
        f"{rate * 10!r} t/ha",
    ):
        assert value(dress(rate=text), "sand_mass") == pytest.approx(metric)


def test_holes_and_grooves_are_filled_before_the_layer() -> None:
    holes, grooves = cored(), cut()
    worked = dress(earlier=(holes, grooves))
    opened = value(holes, "fill_volume") + value(grooves, "fill_volume")
    assert value(worked, "hole_fill") == pytest.approx(opened)
    assert value(worked, "layer_volume") == pytest.approx(240)
    assert value(worked, "sand_volume") == pytest.approx(opened + 240)
    # published arithmetic: 12 mm at 50 x 50 mm, 80 mm deep, on 120 m² takes 434 L
    assert value(holes, "fill_volume") == pytest.approx(434, abs=0.5)


def test_a_second_dressing_does_not_fill_the_same_holes_again() -> None:
    holes = cored()
    first = dress(earlier=(holes,))
    second = dress(earlier=(holes, first))
    assert value(second, "hole_fill") == 0
    assert value(second, "sand_volume") == pytest.approx(240)


def test_holes_filled_out_of_the_dressing_itself() -> None:
    worked = dress(earlier=(cored(),), depth="5 mm", openings="within")
    assert value(worked, "sand_volume") == pytest.approx(600)
    assert value(worked, "layer_volume") == pytest.approx(600 - value(worked, "hole_fill"))
    assert worked.warnings == ()


def test_a_dressing_too_small_for_the_holes_says_what_stays_open() -> None:
    # the case of a published trial: 12 ft³ per 1000 ft² put on, where the holes alone take 16.4
    holes = cored(tine_diameter="0.5 in", spacing_across="1.33 in", spacing_along="1.5 in", depth="2 in")
    assert holes.figure("fill_rate").value.to("ft^3/ksqft").magnitude == pytest.approx(16.4, abs=0.05)
    worked = dress(earlier=(holes,), depth="12 ft^3/1000 ft^2", openings="within")
    left = value(holes, "fill_volume") - value(worked, "hole_fill")
    assert value(worked, "layer_volume") == pytest.approx(0)
    (warning,) = worked.warnings
    assert warning.startswith(f"{left:.0f} L of holes and grooves")
    rest = dress(earlier=(holes, worked))
    assert value(rest, "hole_fill") == pytest.approx(left)


def test_holes_left_open_on_purpose_are_still_named() -> None:
    worked = dress(earlier=(cored(),), openings="leave")
    assert value(worked, "sand_volume") == pytest.approx(240)
    assert "stay open" in worked.warnings[0]


def test_hollows_come_on_top() -> None:
    worked = dress(hollows="75 L")
    assert value(worked, "sand_volume") == pytest.approx(315)
    assert "hollows 75 L" in worked.figure("sand_volume").working()[-1]


def test_passes_share_the_sand_equally() -> None:
    worked = dress(passes="3")
    assert value(worked, "sand_mass_per_pass") * 3 == pytest.approx(384)
    assert value(worked, "sand_rate_per_pass") * 3 == pytest.approx(3.2)
    assert "sand_mass_per_pass" not in {f.key for f in dress().figures}


def test_damp_sand_is_ordered_by_its_damp_weight() -> None:
    dry, damp = dress(), dress(moisture="5 %", spare="10 %")
    assert value(damp, "sand_volume") == value(dry, "sand_volume")
    assert value(damp, "sand_order") == pytest.approx(384 * 1.05 * 1.10)
    assert value(damp, "sand_loose") == pytest.approx(0.240 * 1.10)
    assert "0.264 m³" in damp.figure("sand_loose").working()[0]
    assert "order_by_mass" in [c.key for c in damp.cautions]
    assert "order_by_mass" not in [c.key for c in dry.cautions]


def test_an_uncertain_area_asks_for_bags_enough() -> None:
    assert value(dress(120.0), "bags") == 16
    assert value(dress(plus_minus(120, 6)), "bags") == 17  # 384 + 1.28 x 19.2 = 408.6 kg
    assert value(dress(plus_minus(120, 6)), "barrow_loads") == 7


def test_too_thick_a_layer_is_warned_of() -> None:
    (warning,) = dress(depth="3.1 mm").warnings
    assert "3.1 mm over standing turf" in warning
    assert "Leaf must still show" in warning
    assert dress(depth="3 mm").warnings == ()
    # what goes into holes is not over the turf
    assert dress(earlier=(cored(),), depth="3 mm").warnings == ()


def test_the_year_is_set_beside_published_aims() -> None:
    # O'Brien and Hartwiger, 2003, as restated in 2010: 40 to 50 ft³ per 1000 ft², at most 15.2 mm
    assert any("more than any published aim" in w for w in dress(already_this_year="14 mm").warnings)
    # Niewola, 2025: 20.3 ft³ per 1000 ft², 6.2 mm, is the least of them
    assert any("less than the published aims" in w for w in dress(already_this_year="1 mm").warnings)
    assert dress(already_this_year="6 mm").warnings == ()
    assert value(dress(already_this_year="6 mm"), "sand_this_year") == pytest.approx(8)
    assert "sand_this_year" not in {f.key for f in dress().figures}


@pytest.mark.parametrize(
    ("field", "given_"),
    [
        ("depth", {"depth": "0 mm"}),
        ("depth", {"depth": "2 kg"}),
        ("bulk_density", {"bulk_density": "0"}),
        ("passes", {"passes": "0"}),
        ("openings", {"openings": "maybe"}),
        ("bag_mass", {"bag_mass": "-25 kg"}),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(field: str, given_: dict[str, str]) -> None:
    with pytest.raises(BadValue) as refused:
        dress(**given_)
    assert refused.value.field_key == field


def test_cautions() -> None:
    worked = dress()
    assert [c.key for c in worked.cautions] == ["leaf_must_show", "sand_dust", "sand_lifting"]
    said = " ".join(c.sentence for c in worked.cautions)
    assert all(word in said for word in ("silica", "damp", "FFP3", "25 kg"))


def test_sand_wanted_large() -> None:
    assert [f.key for f in dress().figures if f.headline] == [
        "sand_volume",
        "sand_mass",
        "bags",
        "barrow_loads",
    ]
    assert [f.key for f in dress().figures if f.order] == ["sand_order", "bags"]


def test_sand_is_shown_in_litres_or_cubic_feet_but_never_in_gallons() -> None:
    worked = dress(earlier=(cored(),), hollows="10 L")
    assert worked.figure("sand_volume").unit == "L"
    assert worked.figure("sand_volume").text() == "684 L"
    for one in worked.figures:
        assert "gal" not in " ".join((*one.working("us"), *one.working("imperial"), one.text("us")))
    assert worked.figure("layer_volume").text("us") == "8.48 ft³"
