"""Published figures for coring and verticutting. Rows of inputs.csv by id."""

from __future__ import annotations

from typing import Any

import pytest

from logic.units import quantity as q
from logic.units import unit_of
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def core(area: float = 100.0, earlier: tuple[Worked, ...] = (), **given: Any) -> Worked:
    given = {"depth": "2 in", **given}
    return work_out({"operation": "coring", **given}, Ground(area=area, earlier=earlier))


def verticut(area: float = 100.0, earlier: tuple[Worked, ...] = (), **given: Any) -> Worked:
    given = {"blade_width": "3 mm", "blade_spacing": "25.4 mm", "depth": "0.75 in", **given}
    return work_out({"operation": "verticutting", **given}, Ground(area=area, earlier=earlier))


def value(worked: Worked, key: str, unit: str = "") -> float:
    figure = worked.figure(key)
    return float(figure.value.to(unit_of(unit)).magnitude) if unit else figure.nominal


@pytest.mark.parametrize(
    ("row", "tine", "across", "along", "says", "wanted"),
    [
        ("I-C024", "18 mm", "50 mm", "50 mm", "18 mm tine, 50 x 50 mm", "10.18"),
        ("I-C025", "12.5 mm", "50 mm", "50 mm", "12.5 mm tine, 50 x 50 mm", "4.91"),
        ("I-C026", "0.5 in", "1.33 in", "1.5 in", "0.50 in inside diameter, 1.33 x 1.5 in", "9.84"),
        ("I-C027", "0.25 in", "1.33 in", "1.5 in", "0.25 in inside diameter, 1.33 x 1.5 in", "2.46"),
    ],
)
def test_surface_removed_by_tines(
    check: Any, row: str, tine: str, across: str, along: str, says: str, wanted: str
) -> None:
    check(row).given(says)
    worked = core(tine_diameter=tine, spacing_across=across, spacing_along=along)
    check(row).holds(value(worked, "surface_removed"), wanted)


def test_a_season_is_added_up_work_by_work(check: Any) -> None:
    check("I-C028").given("one 0.50 in pass", "two 0.25 in passes", "one 3 mm @ 1 in verticut", "added")
    first = core(tine_diameter="0.5 in", spacing_across="1.33 in", spacing_along="1.5 in")
    second = core(
        earlier=(first,), tine_diameter="0.25 in", spacing_across="1.33 in", spacing_along="1.5 in", passes=2
    )
    last = verticut(earlier=(first, second), blade_spacing="1 in")
    check("I-C028").holds(value(last, "surface_this_visit"), "26.57")


def test_holes_to_the_square_metre(check: Any) -> None:
    check("I-C031").given("50 x 50 mm")
    worked = core(tine_diameter="12 mm", spacing_across="50 mm", spacing_along="50 mm")
    check("I-C031").holds(value(worked, "holes_per_area"), "400")


@pytest.mark.parametrize(("across", "along", "wanted"), [("2", "2", "36.0"), ("1.33", "1.5", "72.2")])
def test_holes_to_the_square_foot(check: Any, across: str, along: str, wanted: str) -> None:
    check("I-C032").given(f"{across} x {along} in")
    worked = core(tine_diameter="0.5 in", spacing_across=f"{across} in", spacing_along=f"{along} in")
    check("I-C032").holds(value(worked, "holes_per_area", "1/ft^2"), wanted)


def test_core_volume_by_area(check: Any) -> None:
    check("I-C033").given("12 mm tine, 50 x 50 mm, 80 mm deep")
    worked = core(
        area=120.0, tine_diameter="12 mm", spacing_across="50 mm", spacing_along="50 mm", depth="80 mm"
    )
    check("I-C033").holds(value(worked, "core_volume_per_area"), "3.619")
    check("I-C033").holds(value(worked, "core_volume") / 120, "3.619")


def test_sand_to_fill_the_holes(check: Any) -> None:
    check("I-C035").given("0.5 in, 2 x 2 in, 3 in deep")
    worked = core(tine_diameter="0.5 in", spacing_across="2 in", spacing_along="2 in", depth="3 in")
    check("I-C035").holds(value(worked, "fill_rate", "ft^3/1000 ft^2"), "12.27")


@pytest.mark.parametrize(
    ("row", "width", "spacing", "wanted"),
    [("I-C037", "3 mm", "25.4 mm", "11.81"), ("I-C038", "2 mm", "25 mm", "8.00")],
)
@pytest.mark.parametrize("operation", ["verticutting", "scarifying"])
def test_surface_cut_by_blades(
    check: Any, operation: str, row: str, width: str, spacing: str, wanted: str
) -> None:
    check(row).given(f"{width} blade, {spacing} spacing")
    given = {"operation": operation, "blade_width": width, "blade_spacing": spacing, "depth": "5 mm"}
    check(row).holds(value(work_out(given, Ground(area=100.0)), "surface_affected"), wanted)


def test_two_directions_added_and_with_crossings_counted_once(check: Any) -> None:
    check("I-C039").given("11.81 % once each in two directions")
    worked = verticut(passes=2)
    check("I-C039").holds(value(worked, "surface_affected"), "23.62")
    check("I-C039").holds(value(worked, "surface_affected_overlap"), "22.23")


def test_groove_volume(check: Any) -> None:
    check("I-C040").given("3 mm @ 25.4 mm, 0.75 in (19.05 mm) deep")
    worked = verticut(area=120.0)
    check("I-C040").holds(value(worked, "groove_volume") / 120, "2.25")
    check("I-C040").holds(
        q(value(worked, "groove_volume_per_area"), "L/m^2").to("ft^3/ksqft").magnitude, "7.38"
    )
