"""Published figures for readings: height, organic matter, soil, water, ball roll, cover. Rows of agronomy.csv
by id."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from logic.measure.sampling import needed_known
from logic.survey import cover_photo, infiltration, moisture, organic_matter, proportion, soil_test, sunpath
from logic.survey.kind import Spot, Taken
from logic.survey.kinds import take
from logic.units import quantity, read_written, unit_of


def value(taken: Taken, key: str, unit: str = "") -> float:
    found = taken.figure(key)
    return float(found.value.to(unit_of(unit)).magnitude) if unit else found.nominal


@pytest.mark.parametrize(("inch", "mm"), [("0.125", "3.175"), ("0.120", "3.048")])
def test_inches_of_a_gauge(check: Any, inch: str, mm: str) -> None:
    check("A-H5").given(inch)
    taken = take({"kind": "height_of_cut", "readings": [f"{inch} in"]})
    check("A-H5").holds(value(taken, "height_of_cut"), mm)


def test_gauge_readings_wanted(check: Any) -> None:
    check("A-H6").given("s 0.4", "E 0.2", "z 1.96")
    taken = take({"kind": "height_of_cut", "readings": [4, 4.5], "spread": "0.4 mm", "within": "0.2 mm"})
    check("A-H6").holds(value(taken, "readings_needed"), "16")
    assert needed_known(0.4, 0.2, 1.96) == pytest.approx(
        15.37, abs=0.005
    )  # the row's 15.37, before rounding up


def test_loss_on_ignition(check: Any) -> None:
    check("A-O1").given("52.0", "48.2 g")
    taken = take({"kind": "organic_matter", "dry": "52.0 g", "burned": "48.2 g"})
    check("A-O1").holds(value(taken, "organic_matter"), "7.308")


@pytest.mark.parametrize(("corer", "area"), [("2 cm", "15.7"), ("3 cm", "35.3"), ("4 cm", "62.8")])
def test_area_of_five_cores(check: Any, corer: str, area: str) -> None:
    check("A-O2").given("5 cores", corer[0])
    taken = take({"kind": "organic_matter", "percent": 7, "corer": corer, "cores": 5})
    check("A-O2").holds(value(taken, "core_area"), area)


def test_cores_that_are_enough(check: Any) -> None:
    check("A-O3").given("2 cm corer")
    check("A-O3").holds(organic_matter.cores_for(20.0), "8")


@pytest.mark.parametrize(("psi", "kpa"), [("200", "1378.95"), ("300", "2068.43")])
def test_pounds_a_square_inch(check: Any, psi: str, kpa: str) -> None:
    check("A-C1").given(psi)
    taken = take({"kind": "compaction", "profile": [["100 mm", f"{psi} psi"]]})
    check("A-C1").holds(value(taken, "compaction"), kpa)


def test_compaction_class(check: Any) -> None:
    check("A-C2").given("1.8 MPa")
    taken = take({"kind": "compaction", "profile": [["100 mm", "1.8 MPa"]]})
    assert taken.word("compaction") in check("A-C2").expected


def test_infiltration_by_ring(check: Any) -> None:
    check("A-W1").given("25 mm", "6 min")
    taken = take({"kind": "infiltration", "fall": "25 mm", "minutes": 6})
    check("A-W1").holds(value(taken, "infiltration"), "250")
    assert f"({taken.word('infiltration')})" in check("A-W1").expected


@pytest.mark.parametrize(
    ("row", "ring", "depth", "litres"),
    [("A-W3", "150 mm", "25 mm", "441.8"), ("A-W4", "152.4 mm", "25.4 mm", "463.3")],
)
def test_water_for_a_ring(check: Any, row: str, ring: str, depth: str, litres: str) -> None:
    check(row).given(f"{ring} ring", depth)
    taken = take({"kind": "infiltration", "ring": ring, "fall": depth, "minutes": 1})
    check(row).holds(value(taken, "ring_volume"), litres)


def test_falling_head(check: Any) -> None:
    check("A-W5").given("L 100", "600 s", "200→150 mm")
    check("A-W5").holds(float(infiltration.falling_head(100, 200, 150, 600)), "172.6")
    taken = take(
        {"kind": "infiltration", "core_length": 100, "head_start": 200, "head_end": 150, "seconds": 600}
    )
    check("A-W5").holds(value(taken, "infiltration"), "172.6")


def test_refill(check: Any) -> None:
    check("A-W6").given("18→11 %", "100 mm")
    check("A-W6").holds(moisture.refill(11, 18, 100), "7.0")
    taken = take({"kind": "moisture", "readings": [11, 11, 11, 11], "target": "18 %", "depth": "100 mm"})
    check("A-W6").holds(value(taken, "refill"), "7.0")


def test_refill_of_a_sward_in_litres(check: Any) -> None:
    check("A-W7").given("3 mm", "80 m²")
    given = {"kind": "moisture", "readings": [15, 15], "target": "18 %", "depth": "100 mm"}
    check("A-W7").holds(value(take(given, Spot(area=80.0)), "refill_volume"), "240")


@pytest.mark.parametrize(
    ("row", "up", "down", "says", "wanted", "unit"),
    [
        ("A-S1", "185 cm", "981 cm", ("up 185", "down 981 cm"), "311.3", "cm"),
        ("A-S1", "185 cm", "981 cm", ("up 185", "down 981 cm"), "10.21", "ft"),
        ("A-S3", "2.10 m", "2.85 m", ("2.10, 2.85 m",), "2.418", "m"),
        ("A-S4", "2.4 m", "3.0 m", ("2.4, 3.0 m",), "2.667", "m"),
        ("A-S5", "2.5 m", "2.5 m", ("2.5, 2.5",), "2.500", "m"),
    ],
)
def test_ball_roll_on_a_slope(
    check: Any, row: str, up: str, down: str, says: tuple[str, ...], wanted: str, unit: str
) -> None:
    check(row).given(*says)
    for one, other in ((up, down), (down, up)):  # whichever way was rolled first
        taken = take({"kind": "ball_roll", "up": [one] * 3, "down": [other] * 3})
        check(row).holds(value(taken, "ball_roll", unit), wanted)


def test_what_the_plain_mean_overstates(check: Any) -> None:
    check("A-S6").given("mean 9 ft", "diff 18 in")
    taken = take({"kind": "ball_roll", "up": ["8.25 ft"] * 3, "down": ["9.75 ft"] * 3})
    check("A-S6").holds(value(taken, "ball_roll_overstated", "inch"), "0.75")


@pytest.mark.parametrize(("difference", "out"), [(46.0, True), (45.7, False)])
def test_two_ways_that_differ_too_much(check: Any, difference: float, out: bool) -> None:
    check("A-S7").given("diff 46 cm")
    assert "> 45.72" in check("A-S7").expected
    taken = take({"kind": "ball_roll", "up": ["2.00 m"] * 3, "down": [f"{200 + difference} cm"] * 3})
    assert any("The two ways differ" in said for said in taken.finding.warnings) is out


@pytest.mark.parametrize(
    ("row", "hits", "points", "low", "high"),
    [
        ("A-V1", 10, 100, "0.05523", "0.17437"),
        ("A-V2", 0, 100, "0", "0.03699"),
        ("A-V3", 25, 100, "0.17545", "0.34304"),
        ("A-V5", 90, 100, "0.82563", "0.94477"),
        ("A-V7", 360, 400, "0.86669", "0.92570"),
    ],
)
def test_wilson(check: Any, row: str, hits: int, points: int, low: str, high: str) -> None:
    check(row).given(f"{hits}/{points}")
    found = proportion.wilson(hits, points)
    check(row).holds(found[0], low)
    check(row).holds(found[1], high)
    taken = take({"kind": "cover", "grass": hits, "bare": points - hits})
    check(row).holds(value(taken, "grass_cover_low") / 100, low)
    check(row).holds(value(taken, "grass_cover_high") / 100, high)


@pytest.mark.parametrize(("within", "points"), [(0.05, "385"), (0.10, "97")])
def test_points_needed(check: Any, within: float, points: str) -> None:
    check("A-V8").given("p 0.5", f"{within:.2f}")
    check("A-V8").holds(proportion.points_needed(0.5, within), points)


def test_hue_saturation_brightness(check: Any) -> None:
    check("A-G1").given("60,110,40")
    hue, saturation, brightness = cover_photo.hsb((60, 110, 40))
    check("A-G1").holds(hue, "102.86")
    assert saturation == pytest.approx(0.6364, abs=0.0001)  # A-G1, its tighter tolerance
    assert brightness == pytest.approx(0.4314, abs=0.0001)


@pytest.mark.parametrize(
    ("row", "pixel", "wanted"), [("A-G2", (60, 110, 40), "0.5488"), ("A-G3", (120, 150, 60), "0.3817")]
)
def test_dark_green_colour_index(check: Any, row: str, pixel: tuple[int, int, int], wanted: str) -> None:
    check(row).given(",".join(map(str, pixel)))
    check(row).holds(cover_photo.dgci(*cover_photo.hsb(pixel)), wanted)


def test_photo_cover(check: Any) -> None:
    check("A-G5").given("1,000 px")
    # the sample of the row: turf, paler turf, straw, soil
    pixels = [(70, 120, 50)] * 620 + [(120, 150, 60)] * 180 + [(150, 130, 80)] * 120 + [(110, 85, 60)] * 80
    given = cover_photo.counted(pixels, cover_photo.window_named("narrow"))
    taken = take({"kind": "cover_photo", **given})
    check("A-G5").holds(value(taken, "green_cover"), "80.0")
    assert value(taken, "dgci") == pytest.approx(0.5148, abs=0.0001)  # A-G5


def test_dark_bent_is_outside_the_narrow_window(check: Any) -> None:
    check("A-G7").given("40,90,30 narrow window")
    hue, saturation, _ = cover_photo.hsb((40, 90, 30))
    check("A-G7").holds(hue, "110.00")
    assert not cover_photo.window_named("narrow").holds(hue, saturation)
    assert cover_photo.counted([(40, 90, 30)], cover_photo.window_named("narrow"))["green"] == "0"


def test_potassium_need_as_published(check: Any) -> None:
    check("A-N1").given("25 g N", "b 5.2", "c 11")
    use = soil_test.use_by_nitrogen("k", 25)
    check("A-N1").holds(soil_test.annual_need(use, 5.2, 11), "6.7")


def test_phosphorus_need(check: Any) -> None:
    check("A-N3").given("15 g N", "30 ppm")
    taken = take({"kind": "soil_test", "p": "30 ppm", "n_year": "15 g/m^2"})
    check("A-N3").holds(value(taken, "p_need"), "0.525")
    check("A-N3").holds(value(taken, "p2o5_need"), "1.20")


def test_phosphorus_surplus(check: Any) -> None:
    check("A-N4").given("15 g N", "60 ppm")
    taken = take({"kind": "soil_test", "p": "60 ppm", "n_year": "15 g/m^2"})
    assert value(taken, "p_need") == 0
    raw = soil_test.annual_need(soil_test.use_by_nitrogen("p", 15), 21 * 0.15, 60 * 0.15)
    check("A-N4").holds(-raw, "3.975")


def test_parts_per_million_in_grams(check: Any) -> None:
    check("A-N5").given("37 ppm")
    taken = take({"kind": "soil_test", "k": "37 ppm"})
    check("A-N5").holds(value(taken, "k_present"), "5.55")


def test_potassium_in_clippings(check: Any) -> None:
    check("A-N6").given("2.2 L/m²")
    grams = soil_test.use_by_clippings(2.2)
    check("A-N6").holds(grams, "2.772")
    assert grams / soil_test.soil_mass(100, 1500) * 1000 == pytest.approx(18.5, abs=0.1)  # A-N6


def test_potassium_use_in_parts_per_million(check: Any) -> None:
    check("A-N7").given("10 g N")
    ppm = soil_test.use_by_nitrogen("k", 10) / soil_test.soil_mass(100, 1500) * 1000
    check("A-N7").holds(ppm, "33.3")


@pytest.mark.parametrize(
    ("row", "given", "said", "unit", "wanted"),
    [
        ("A-N8", "50 lb", "50 lb/1000 ft^2", "g/m^2", "244.1"),
        ("A-N10", "97.65 kg/ha", "97.65 kg/ha", "lb/1000 ft^2", "2.000"),
    ],
)
def test_rates_between_systems(check: Any, row: str, given: str, said: str, unit: str, wanted: str) -> None:
    check(row).given(given)
    written = read_written(said, "")
    check(row).holds(quantity(written.value, written.unit).to(unit_of(unit)).magnitude, wanted)


def test_shortest_day(check: Any) -> None:
    row = check("A-L2")
    row.given("51.48 N 0 E", "21 Dec")
    light = sunpath.daylight(51.48, 0.0, date(2025, 12, 21))
    for moment, wanted in ((light.rise, "08:03"), (light.set, "15:53")):
        assert wanted in row.expected
        hours, minutes = wanted.split(":")
        assert moment is not None
        clock = moment.hour * 60 + moment.minute + moment.second / 60
        assert clock == pytest.approx(int(hours) * 60 + int(minutes), abs=1)  # A-L2
    assert light.length == pytest.approx(7.83, abs=0.02)  # A-L2


def test_polar_day(check: Any) -> None:
    check("A-L4").given("70 N 20 E", "J 172")
    light = sunpath.daylight(70.0, 20.0, date(2025, 6, 21))
    assert light.rise is None
    assert light.set is None
    assert light.length == 24


def test_shade_of_a_fence_at_noon(check: Any) -> None:
    check("A-L5").given("51.48 N", "J 172", "2 m")
    fence = {"height": "2 m", "distance": "3 m", "left": 90, "right": 270}
    taken = take({"kind": "shade", "latitude": 51.48, "day": "2025-06-21", "obstacles": [fence]})
    check("A-L5").holds(value(taken, "noon_shadow"), "1.06")
