"""Published figures of the agronomy that works reckon: cutting, coring, sand, seed, water. Rows of
agronomy.csv by id."""

from __future__ import annotations

from typing import Any

import pytest

from logic.units import unit_of
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def worked(operation: str, area: float = 100.0, **given: Any) -> Worked:
    return work_out({"operation": operation, **given}, Ground(area=area))


def test_fraction_removed(check: Any) -> None:
    check("A-H2").given("30 → 20 mm")
    cut = worked("mowing", height_of_cut="20 mm", height_now="30 mm")
    check("A-H2").holds(cut.figure("height_removed").nominal / 100, "0.3333")


def test_days_between_cuts(check: Any) -> None:
    check("A-H4").given("15 mm", "1.97 mm/d")
    cut = worked("mowing", height_of_cut="15 mm", growth="1.97 mm/day")
    check("A-H4").holds(cut.figure("interval").nominal, "3.81")


def test_dilution_by_sand(check: Any) -> None:
    check("A-O5").given("7.3 %", "2 kg/m²", "M 26")
    # 20 mm at 1300 kg/m³ is the row's M of 26 kg/m²
    found = worked(
        "organic_matter",
        start="7.3 %",
        target="5 %",
        sand_rate="2 kg/m^2",
        slice_depth="20 mm",
        slice_density="1300 kg/m^3",
    )
    check("A-O5").holds(found.figure("om_after_sand").nominal, "6.738")


def test_litres_for_a_depth(check: Any) -> None:
    check("A-W7").given("3 mm", "80 m²")
    check("A-W7").holds(worked("watering", 80.0, depth="3 mm").figure("water_volume").nominal, "240")


def test_live_seed(check: Any) -> None:
    check("A-R5").given("3 g", "95 %", "85 %")
    sown = worked("overseeding", live_rate="3 g/m^2", purity="95 %", germination="85 %")
    check("A-R5").holds(sown.figure("seed_rate").nominal, "3.715")


def core(across: str, along: str, tine: str, **more: Any) -> Worked:
    return worked(
        "coring", 1.0, tine_diameter=tine, spacing_across=across, spacing_along=along, depth="75 mm", **more
    )


def test_surface_cored(check: Any) -> None:
    check("A-A1").given("0.5 in", "1.5 × 1.33 in")
    check("A-A1").holds(core("1.33 in", "1.5 in", "0.5 in").figure("surface_removed").nominal, "9.84")


def test_surface_cored_from_a_count_of_holes(check: Any) -> None:
    check("A-A2").given("0.25 in", "81/ft²")
    spacing = f"{(1 / 81) ** 0.5} ft"  # a square grid of 81 holes to the square foot
    cored = core(spacing, spacing, "0.25 in")
    check("A-A2").holds(cored.figure("surface_removed").nominal, "2.76")
    holes = cored.figure("holes_per_area").value.to(unit_of("1/ft^2")).magnitude
    assert holes == pytest.approx(81)


def test_surface_and_holes_in_metric(check: Any) -> None:
    check("A-A3").given("12 mm", "50 × 50")
    cored = core("50 mm", "50 mm", "12 mm")
    check("A-A3").holds(cored.figure("surface_removed").nominal, "4.524")
    check("A-A3").holds(cored.figure("holes_per_area").nominal, "400")


def test_two_passes_that_cross(check: Any) -> None:
    check("A-A4").given("4.524 %")
    cored = core("50 mm", "50 mm", "12 mm", passes=2)
    check("A-A4").holds(cored.figure("surface_removed_overlap").nominal, "8.843")


def test_sand_for_the_holes(check: Any) -> None:
    check("A-A6").given("12 mm", "50 × 50", "75 mm")
    check("A-A6").holds(core("50 mm", "50 mm", "12 mm").figure("fill_rate").nominal, "3.393")
