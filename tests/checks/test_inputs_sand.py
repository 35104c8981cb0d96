"""Published figures for topdressing, its loads, and sand grading. Rows of inputs.csv by id."""

from __future__ import annotations

from typing import Any

import pytest

from logic.units import quantity as q
from logic.units import read_written, unit_of
from logic.works import layers
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out

#: The sand of rows I-C053 to I-C056: sieve [mm] and percent passing.
SAND = (("2.0", "100"), ("1.0", "96"), ("0.5", "68"), ("0.25", "22"), ("0.15", "5"), ("0.05", "1"))


def dress(area: float = 100.0, earlier: tuple[Worked, ...] = (), **given: Any) -> Worked:
    return work_out({"operation": "topdressing", **given}, Ground(area=area, earlier=earlier))


def grade() -> Worked:
    return work_out({"operation": "sand_grading", "sieves": [list(row) for row in SAND]}, Ground(area=1.0))


def value(worked: Worked, key: str, unit: str = "") -> float:
    figure = worked.figure(key)
    return float(figure.value.to(unit_of(unit)).magnitude) if unit else figure.nominal


def litres_by_area(worked: Worked, area: float = 100.0) -> float:
    return value(worked, "sand_volume") / area


def test_a_cubic_foot_to_a_thousand_square_feet(check: Any) -> None:
    check("I-C042").given("1 ft3 per 1000 ft2")
    check("I-C042").holds(litres_by_area(dress(depth="1 ft^3/1000 ft^2")), "0.3048")


def test_a_light_dressing_by_weight(check: Any) -> None:
    check("I-C044").given("150 lb dry sand per 1000 ft2")
    worked = dress(rate="150 lb/1000 ft^2", bulk_density="100 lb/ft^3")
    check("I-C044").holds(value(worked, "sand_rate"), "0.732")
    check("I-C044").holds(litres_by_area(worked), "0.457")


def test_a_season_by_volume_and_weight(check: Any) -> None:
    check("I-C045").given("20.3 ft3/1000 ft2")
    worked = dress(depth="20.3 ft^3/1000 ft^2", bulk_density="1602 kg/m^3")
    check("I-C045").holds(litres_by_area(worked), "6.19")
    check("I-C045").holds(value(worked, "sand_rate"), "9.91")


@pytest.mark.parametrize(("feet", "wanted"), [("40", "12.19"), ("50", "15.24")])
def test_the_older_yearly_aim(check: Any, feet: str, wanted: str) -> None:
    check("I-C046").given(feet, "ft3/1000 ft2")
    check("I-C046").holds(litres_by_area(dress(depth=f"{feet} ft^3/1000 ft^2")), wanted)


def test_a_heavy_dressing_by_volume_or_by_weight(check: Any) -> None:
    check("I-C047").given("12 ft3 (1,200 lb) per 1000 ft2")
    by_volume = dress(depth="12 ft^3/1000 ft^2", bulk_density="100 lb/ft^3")
    by_weight = dress(rate="1200 lb/1000 ft^2", bulk_density="100 lb/ft^3")
    for worked in (by_volume, by_weight):
        check("I-C047").holds(litres_by_area(worked), "3.66")
        check("I-C047").holds(value(worked, "sand_rate"), "5.86")


def test_cubic_yards_of_a_quarter_inch(check: Any) -> None:
    check("I-C049").given("50,000 ft2 at 1/4 in")
    area = q(50_000, "ft^2").to("m^2").magnitude
    yards = value(dress(area=area, depth="0.25 in"), "sand_volume", "yd^3")
    check("I-C049").holds(yards, "38.58")
    assert round(yards) == 39  # as the source prints it


def test_a_dozen_thin_dressings(check: Any) -> None:
    check("I-C050").given("12 dressings of 1/32 in")
    done: tuple[Worked, ...] = ()
    for _ in range(12):
        done = (*done, dress(earlier=done, depth=f"{1 / 32!r} in", already_this_year="0 mm"))
    year = done[-1].figure("sand_this_year").value
    check("I-C050").holds(year.to("mm").magnitude, "9.53")
    check("I-C050").holds(year.to(unit_of("ft^3/1000 ft^2")).magnitude, "31.25")


def test_litres_kilograms_and_bags(check: Any) -> None:
    check("I-C051").given("120 m2, 2.0 mm, 1,600 kg/m3")
    worked = dress(area=120.0, depth="2.0 mm", bulk_density="1600 kg/m^3", bag_mass="25 kg")
    check("I-C051").holds(value(worked, "sand_volume"), "240")
    check("I-C051").holds(value(worked, "sand_mass"), "384")
    check("I-C051").holds(value(worked, "sand_order") / 25, "15.36")
    check("I-C051").holds(value(worked, "bags"), "16")


def test_bulk_density_in_pounds(check: Any) -> None:
    check("I-C052").given("100 lb/ft3")
    written = read_written("100 lb/ft^3", "kg/m^3")
    density = q(written.value, written.unit).to(unit_of("kg/m^3")).magnitude
    check("I-C052").holds(density, "1,602")
    # 1 mm on 1 m² is 1 L, so the mass of it in grams is the density in kg/m³
    check("I-C052").holds(
        value(dress(area=1.0, depth="1 mm", bulk_density="100 lb/ft^3"), "sand_mass") * 1000, "1,602"
    )


def test_barrow_loads(check: Any) -> None:
    check("I-C111").given("384 kg sand, 60 kg a barrow")
    worked = dress(area=120.0, depth="2 mm", barrow_load="60 kg")
    check("I-C111").holds(value(worked, "barrow_loads"), "7")
    assert "6.4, so 7 loads" in worked.figure("barrow_loads").working()[-1]


@pytest.mark.parametrize(
    ("key", "wanted"),
    [
        ("d10", "0.174"),
        ("d15", "0.203"),
        ("d50", "0.381"),
        ("d60", "0.443"),
        ("d85", "0.762"),
        ("d90", "0.862"),
    ],
)
def test_sizes_read_off_the_curve(check: Any, key: str, wanted: str) -> None:
    check("I-C053").given(*(f"{float(size):g}" for size, _ in SAND), *(f"/{percent}" for _, percent in SAND))
    check("I-C053").holds(value(grade(), key), wanted)


def test_uniformity(check: Any) -> None:
    check("I-C054").holds(value(grade(), "uniformity"), "2.54")


def test_the_coarsest_gravel_that_the_sand_bridges_over(check: Any) -> None:
    check("I-C056").given("D15 gravel at most 8 x D85")
    check("I-C056").holds(value(grade(), "gravel_d15_most"), "6.09")


def test_the_filter_rule(check: Any) -> None:
    check("I-C058").given("base D85 1.5 mm and D15 0.17 mm (limits 5, 5, 40)")
    window = {f.key: f.nominal for f in layers.gravel_window({15: 0.17, 85: 1.5})}
    check("I-C058").holds(window["filter_d15_most"], "7.5")
    check("I-C058").holds(window["gravel_d15_least"], "0.85")
    check("I-C058").holds(window["filter_d15_spread"], "6.8")
