"""Published figures for timing: growth, germination, recovery, evaporation. Rows of agronomy.csv by id."""

from __future__ import annotations

from typing import Any

import pytest

from logic.programme import evaporation, germination, growth, recovery
from logic.works.sun import extraterrestrial_radiation

#: The illustrative monthly means that rows A-P6 and A-P8 take July from [°C].
YEAR = (4.5, 4.8, 6.6, 8.9, 12.0, 14.8, 16.9, 16.6, 14.3, 11.0, 7.4, 5.0)
WEEK = ((14, 5), (16, 7), (18, 9), (20, 10), (19, 11), (15, 8), (13, 6))
#: FAO paper 56, example 18: Brussels, 6 July.
BRUSSELS = evaporation.Weather(
    latitude=50.80,
    day=187,
    height=100,
    warmest=21.5,
    coldest=12.3,
    vapour=(evaporation.vapour(12.3) * 0.84 + evaporation.vapour(21.5) * 0.63) / 2,
    sun=9.25,
    wind=evaporation.wind_at_2m(10 / 3.6, 10),
)
#: FAO paper 56, example 20: Lyon, 15 July, temperatures and wind only.
LYON = evaporation.Weather(latitude=45.72, day=196, height=200, warmest=26.6, coldest=14.8)


@pytest.mark.parametrize(
    ("row", "temperature", "wanted"),
    [
        ("A-P1", "20", "1.0000"),
        ("A-P2", "10", "0.1915"),
        ("A-P2", "30", "0.1915"),
        ("A-P3", "15", "0.6615"),
        ("A-P3", "25", "0.6615"),
        ("A-P4", "5", "0.0243"),
    ],
)
def test_growth_potential(check: Any, row: str, temperature: str, wanted: str) -> None:
    check(row).given(f"{temperature} °C")
    check(row).holds(growth.potential(float(temperature)).nominal, wanted)


def test_nitrogen_of_a_month(check: Any) -> None:
    check("A-P6").given("16.9 °C", "3 g max")
    check("A-P6").holds(growth.nitrogen_by_month(YEAR)[6].nominal, "2.559")


def test_nitrogen_of_a_year_shared_by_growth(check: Any) -> None:
    check("A-P8").given("8 g/yr, July")
    shared = growth.nitrogen_by_month(YEAR, year=8)
    check("A-P8").holds(shared[6].nominal, "1.781")
    assert sum(one.nominal for one in shared) == pytest.approx(8)


def test_degree_days_never_below_nought(check: Any) -> None:
    check("A-D2").given("12/6, base 10")
    check("A-D2").holds(growth.degree_days([(12, 6)], 10).nominal, "0")


@pytest.mark.parametrize(("base", "wanted"), [(0, "85.5"), (10, "16.5")])
def test_degree_days_of_a_week(check: Any, base: float, wanted: str) -> None:
    check("A-D4").holds(growth.degree_days(WEEK, base).nominal, wanted)


@pytest.mark.parametrize(
    ("row", "said", "species", "wanted"),
    [("A-R1", "ryegrass 12 °C", "ryegrass", "7.61"), ("A-R2", "bluegrass 12 °C", "smooth_meadow", "12.30")],
)
def test_days_to_germinate(check: Any, row: str, said: str, species: str, wanted: str) -> None:
    check(row).given(said)
    found = germination.thermal_days(species, 12)
    assert found is not None
    check(row).holds(found.nominal, wanted)


def test_germination_by_daily_sum(check: Any) -> None:
    check("A-R3").given("ryegrass")
    day, total = germination.day_reached("ryegrass", [9, 10, 11, 12, 12, 13, 14, 14])
    assert day is not None
    check("A-R3").holds(day, "8")
    check("A-R3").holds(total, "66.2")


@pytest.mark.parametrize(("potential", "wanted"), [(1.0, "10.7"), (0.5, "21.4")])
def test_recovery_to_ninety_five_per_cent(check: Any, potential: float, wanted: str) -> None:
    check("A-A8").given(f"GP {potential:g}")
    # 38.3 % cover straight after coring: HortTechnology, 2022
    check("A-A8").holds(recovery.days_to_cover(38.3, potential).nominal, wanted)


def test_pressure_and_psychrometric_constant(check: Any) -> None:
    check("A-E1").given("z 1800 m")
    check("A-E1").holds(evaporation.pressure(1800), "81.8")
    assert "0.054" in check("A-E1").expected
    assert evaporation.psychrometric(1800) == pytest.approx(0.054, abs=0.0005)  # A-E1


def test_saturation_vapour_pressure(check: Any) -> None:
    check("A-E2").given("24.5/15")
    check("A-E2").holds(evaporation.mean_vapour(24.5, 15), "2.39")


def test_radiation_above_the_air_and_day_hours(check: Any) -> None:
    check("A-E3").given("20° S", "J 246")
    check("A-E3").holds(extraterrestrial_radiation(-20, 246), "32.2")
    check("A-E3").holds(evaporation.day_hours(-20, 246), "11.7")


def test_radiation_at_the_ground(check: Any) -> None:
    check("A-E4").given("n 7.1", "N 10.9", "Ra 25.1")
    check("A-E4").holds(evaporation.sun_radiation(7.1, 10.9, 25.1), "14.45")


def test_evaporation_of_example_17(check: Any) -> None:
    check("A-E6").given("Ex 17")
    # Bangkok in April, the 105th day taken for the month
    bangkok = evaporation.Weather(13.73, 105, 2, 34.8, 25.6, 2.85, 8.5, 2.0, 0.14)
    check("A-E6").holds(evaporation.reference_evaporation(bangkok).nominal, "5.72")


def test_net_radiation_of_example_18(check: Any) -> None:
    check("A-E8").given("Ex 18")
    check("A-E8").holds(BRUSSELS.net, "13.28")


def test_hargreaves_of_example_20(check: Any) -> None:
    check("A-E9").given("Ex 20")
    check("A-E9").holds(evaporation.by_temperature(LYON), "5.03")


def test_penman_with_missing_data(check: Any) -> None:
    check("A-E10").given("Ex 20")
    check("A-E10").holds(evaporation.reference_evaporation(LYON).nominal, "4.56")
