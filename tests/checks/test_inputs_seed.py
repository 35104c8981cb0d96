"""Published seed figures: counts, pure live seed, rates, stands, carrier. Rows of inputs.csv by id."""

from __future__ import annotations

from typing import Any

import pytest

from logic import tables
from logic.units import quantity as q
from logic.units import read_written, unit_of
from logic.works import species
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def sow(area: float = 100.0, **given: Any) -> Worked:
    return work_out({"operation": "overseeding", **given}, Ground(area=area))


def value(worked: Worked, key: str) -> float:
    return worked.figure(key).nominal


def test_oz_per_1000_ft2(check: Any) -> None:
    check("I-C002").holds(value(sow(rate="1 oz/1000 ft^2"), "seed_rate"), "0.3052")


@pytest.mark.parametrize(
    ("row", "per_pound", "per_gram"), [("I-C004", "1,400,000", "3,086"), ("I-C005", "240,000", "529")]
)
def test_seeds_to_the_pound(check: Any, row: str, per_pound: str, per_gram: str) -> None:
    check(row).given(per_pound)
    written = read_written(per_pound.replace(",", "") + " /lb", "1/g")
    check(row).holds(q(written.value, written.unit).to(unit_of("1/g")).magnitude, per_gram)


@pytest.mark.parametrize(
    ("row", "grasses", "count", "low", "high"),
    [
        ("I-C006", ("chewings_fescue", "slender_fescue", "hard_fescue"), "1,020", "618", "1,272"),
        ("I-C007", ("smooth_meadow",), "2,744", "1,847", "4,413"),
    ],
)
def test_measured_counts_stand_in_the_table(
    check: Any, row: str, grasses: tuple[str, ...], count: str, low: str, high: str
) -> None:
    for grass in grasses:
        found = species.count_of(grass)
        for actual, wanted in ((found.value, count), (found.low, low), (found.high, high)):
            check(row).holds(actual, wanted)
        assert found.source.trust == "published"


def test_ryegrass_stands_in_the_table(check: Any) -> None:
    check("I-C005").holds(species.count_of("ryegrass").value, "529")


def test_live_seed_of_a_part(check: Any) -> None:
    check("I-C009").given("31 %", "80 %")
    part = sow(rate=20, purity="31 %", germination="80 %")
    check("I-C009").holds(value(part, "pure_live_seed"), "24.8")


def test_live_seed_of_a_mixture(check: Any) -> None:
    row = check("I-C010")
    shares = (("44 %", "@85"), ("31 %", "@80"), ("9 %", "@85"), ("12 %", "@90"))
    row.given(*(f"{share} {germination}" for share, germination in shares))
    mixture = [
        {"share": share, "germination": germination[1:], "seeds_per_gram": 1000}
        for share, germination in shares
    ]
    row.holds(value(sow(rate=20, mixture=mixture), "pure_live_seed"), "80.65")


def test_legal_floor_of_bent(check: Any) -> None:
    check("I-C011").given("90 %", "75 %")
    worked = sow(rate=6, species="creeping_bent", purity="90 %", germination="75 %")
    check("I-C011").holds(value(worked, "pure_live_seed"), "67.5")
    assert not [sentence for sentence in worked.warnings if "certified" in sentence]


def test_bag_rate_for_live_seed_wanted(check: Any) -> None:
    check("I-C012").given("2.0 g/m2", "80.75 %")
    worked = sow(live_rate="2.0 g/m^2", purity="95 %", germination="85 %")
    assert value(worked, "pure_live_seed") == pytest.approx(80.75)
    check("I-C012").holds(value(worked, "seed_rate"), "2.477")


@pytest.mark.parametrize(
    ("row", "rate", "metric"),
    [
        ("I-C013", "7.9 oz/1000 ft^2", "2.41"),
        ("I-C013", "16.0 oz/1000 ft^2", "4.88"),
        ("I-C014", "1 lb/1000 ft^2", "4.9"),
        ("I-C014", "2 lb/1000 ft^2", "9.8"),
    ],
)
def test_published_rates_in_both_systems(check: Any, row: str, rate: str, metric: str) -> None:
    check(row).given(rate.split()[0])
    check(row).holds(value(sow(rate=rate), "seed_rate"), metric)


@pytest.mark.parametrize(
    ("row", "grass", "trust", "low", "high"),
    [
        ("I-C013", "creeping_bent", "published", "2.41", "4.88"),
        ("I-C014", "creeping_bent", "second-hand", "4.9", "9.8"),
        ("I-C014", "browntop_bent", "second-hand", "4.9", "9.8"),
    ],
)
def test_published_rates_stand_in_the_table(
    check: Any, row: str, grass: str, trust: str, low: str, high: str
) -> None:
    rates = [r for r in tables.rows("species") if r["species"] == grass and r["field"] == "rate"]
    (found,) = [r for r in rates if r["trust"] == trust]
    check(row).holds(float(found["low"]), low)
    check(row).holds(float(found["high"]), high)


def test_live_seeds_on_a_square_centimetre(check: Any) -> None:
    # the row goes on from its neighbour's 5 g/m² of a 13,228 seeds/g bent
    check("I-C016").given("90 %", "85 %")
    worked = sow(rate="5 g/m^2", seeds_per_gram=13228, purity="90 %", germination="85 %")
    check("I-C016").holds(value(worked, "live_seeds_per_area"), "5.06")


def test_rate_for_a_target(check: Any) -> None:
    check("I-C018").given("2.0 plants/cm2", "13,228", "76.5 %", "50 %")
    worked = sow(
        target_density="2.0 /cm^2", seeds_per_gram=13228, purity=90, germination=85, establishment="50 %"
    )
    assert value(worked, "pure_live_seed") == pytest.approx(76.5)
    check("I-C018").holds(value(worked, "seed_rate"), "3.95")


@pytest.mark.parametrize(
    ("row", "target", "per_cm2"),
    [
        ("I-C019", "7 /inch^2", "1.09"),
        ("I-C019", "14 /inch^2", "2.17"),
        ("I-C021", "308 /dm^2", "3.08"),
    ],
)
def test_stand_in_other_units(check: Any, row: str, target: str, per_cm2: str) -> None:
    check(row).given(target.split()[0])
    worked = sow(target_density=target, seeds_per_gram=1000)
    check(row).holds(value(worked, "plants_per_area"), per_cm2)


def test_carrier(check: Any) -> None:
    row = check("I-C023")
    row.given("300 g", "1 : 10")
    worked = sow(100.0, rate="3 g/m^2", directions=1, hopper_allowance=0, carrier_ratio=10)
    assert value(worked, "seed_mass") == pytest.approx(300)
    row.holds(value(worked, "carrier_mass") / 1000, "3.0")
    row.holds(value(worked, "hopper_mass") / 1000, "3.3")
    row.holds(value(worked, "spreader_rate"), "33")
