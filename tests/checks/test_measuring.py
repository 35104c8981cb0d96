"""Published and worked values for measuring. Rows of measuring.csv by id; its source column names the source.

Readings that a row only hints at ("13 offsets") stand here in full, from the source it names. Rows in feet,
yards or links are given in that unit, or in metres where only the numbers matter.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from logic.measure.geometry import shoelace
from logic.measure.levels import grid_levels, layer_volume
from logic.measure.methods import method_named, outline_of
from logic.measure.outline import Context, Trace
from logic.measure.pacing import calibrate, pace_of
from logic.measure.position import Fix, local_polygon
from logic.measure.sampling import (
    low_quarter,
    needed_known,
    sample,
    t_quantile,
    trimmed_mean,
    uniformity_coefficient,
    whole,
)
from logic.units import nominal, quantity, unit_of

Number = Callable[[], float]


def area(method: str, unit: str = "m", pace: Any = None, **given: Any) -> float:
    """Area of an outline whose bare numbers are in `unit`, in that unit squared."""
    outline = outline_of({"method": method, **_in(unit, given)}, pace)
    return float(outline.area.value.to(unit_of(unit) ** 2).magnitude.nominal_value)


def _in(unit: str, given: Any) -> Any:
    if isinstance(given, dict):
        plain = ("angle", "bearing", "count")
        return {k: v if k in plain else _in(unit, v) for k, v in given.items()}
    if isinstance(given, list | tuple):
        return [_in(unit, v) for v in given]
    return f"{given!r} {unit}" if isinstance(given, int | float) else given


def trace(method: str, **given: Any) -> Trace:
    chosen = method_named(method)
    reading = chosen.form.read(given)
    assert reading.values is not None, reading.problems
    return chosen.trace(reading.values, Context(None, outline_of))


def part(sign: str, method: str, **given: Any) -> dict[str, Any]:
    return {"sign": sign, "outline": {"method": method, **given}}


# --- readings ------------------------------------------------------------------------------------

FW = [38, 40, 37, 37, 37]  # paces over 25 m (row M-P4)
MG = [30.5, 30, 31, 30, 29, 30, 30, 30.5, 30, 31, 32, 30]  # paces over 100 ft (row M-P3)
LP = [0.8, 3.6, 4.7, 5.3, 3.9, 2.7, 4.6, 5.5, 4.9, 7.6, 8.8, 5.4, 6.0]  # every 3.5 m (M-O1, M-O2)
LP_10 = [0, 2.6, 4.2, 4.4, 3.8, 2.5, 4.5, 5.2, 1.6, 5.0]  # every 2.5 m (M-O3)
EX_7 = [0, 2.50, 3.50, 5.00, 4.60, 3.20, 0]  # every 10 m (M-O5)
EX_RUNS = ([0, 5, 10, 15, 20, 30, 40, 60, 80], [2.50, 3.80, 4.60, 5.20, 6.10, 4.70, 5.80, 3.90, 2.20])
EX_9 = [3.25, 5.60, 4.20, 6.65, 8.75, 6.20, 3.25, 4.20, 5.65]  # every 10 m (M-O7)
EX_8 = [0, 2.65, 3.80, 3.75, 4.65, 3.60, 5.00, 5.80]  # every 30 m (M-O8)
EX_15 = [3.9, 4.5, 5.1, 6.5, 6.3, 5.1, 4.1]  # every 15 m (M-O9)
SA_WIDTHS = [20, 10, 15, 20, 25, 20]  # every 13 ft over 65 ft (M-T2)
SA_RADII = [10, 15, 10, 12, 15, 13, 10, 15, 17, 9, 8, 15, 16, 10, 12, 9]  # ft (M-T4)
N7 = [8.6, 9.4, 7.9, 6.8, 8.3, 7.3, 9.2, 9.6, 8.7, 11.4, 10.3, 5.4, 8.1, 5.5, 6.9]
N8 = [79, 145, 147, 160, 116, 100, 159, 151, 156, 126, 137, 83, 156, 94, 121, 144, 123, 114, 139, 99]
N9 = [47, 42, 45, 24, 13, 26, 33, 34, 27, 30, 40, 44, 32, 12, 12]
MS_J = [72.2, 80.0, 22.0, 96.5, 100.2, 25.0, 81.0, 96.0, 100.9, 51.0]
MS_I = [86, 90, 76, 82, 40, 76, 40, 82, 86, 90]
L4 = [[12, 5, -3, 0], [8, -10, -18, -4], [3, -14, -22, -6], [0, -2, -5, 1]]  # mm against the target
PURDUE = [
    ("N26 10E", 285.10),
    ("S75 25E", 610.45),
    ("S15 30W", 720.48),
    ("N1 42W", 203.00),
    ("N53 06W", 647.02),
]
SHEET = [
    ("N5 30E", 495.85),
    ("N46 02E", 850.62),
    ("S67 38E", 855.45),
    ("S12 25E", 1020.87),
    ("S83 44W", 1117.26),
    ("N55 09W", 660.08),
]
PU_PARTS = [
    part("+", "trapezium", a=90, b=60, height=80),
    *(part("-", "rectangle", length=x, width=y) for x, y in ((50, 25), (60, 10), (12, 8), (10, 5), (25, 5))),
    *(part("-", "sector", radius=8, angle=90) for _ in range(2)),
]
S31 = ((0, 0), (10, 0), (9, 6), (1, 7))


def legs(walk: list[tuple[str, float]]) -> list[dict[str, Any]]:
    return [{"bearing": bearing, "distance": distance} for bearing, distance in walk]


def s31(places: int) -> float:
    def side(i: int, j: int) -> float:
        return round(math.dist(S31[i], S31[j]), places)

    return area("quadrilateral", ab=side(0, 1), bc=side(1, 2), cd=side(2, 3), da=side(3, 0), ac=side(0, 2))


def offsets(rule: str, given: list[float], unit: str = "m", **along: Any) -> float:
    return area("offsets", unit, rule=rule, offsets=given, **along)


def pace(course: float, counts: list[float]) -> float:
    return nominal(calibrate(course, counts).metres)


def paced_rectangle() -> Any:
    walker = pace_of({"course": "25 m", "counts": FW})
    return outline_of({"method": "rectangle", "length": "16 paces", "width": "9.5 paces"}, walker).area


def ellipse_radii(a: float, b: float, x: float, y: float, count: int) -> list[float]:
    """Distances from (x, y) to the ellipse with half axes a, b, at equal angles (roots of a quadratic)."""
    found = []
    for i in range(count):
        c, s = math.cos(2 * math.pi * i / count), math.sin(2 * math.pi * i / count)
        p, q = (c / a) ** 2 + (s / b) ** 2, x * c / a**2 + y * s / b**2
        r = (x / a) ** 2 + (y / b) ** 2 - 1
        found.append((-q + math.sqrt(q * q - p * r)) / p)
    return found


def published_rule(radii: list[float]) -> float:
    """π × (mean radius)² as the working of the method says it."""
    line = next(s for s in trace("radii", radii=radii).steps if "published rule" in s.template)
    return float(nominal(line.values["p"].magnitude))


def misclosure(walk: list[tuple[str, float]]) -> float:
    """As the working says it, for distances given as metres."""
    line = trace("traverse", legs=legs(walk)).steps[0]
    return float(nominal(line.values["e"].magnitude))


def level(name: str, split: str) -> float:
    return float(getattr(grid_levels(L4, 2.0, 2.0, 0.0, split), name).nominal)


def one_sided_90(mean: float, variance: float, count: int) -> float:
    return needed_known(math.sqrt(variance), mean / 10, t_quantile(0.90, count - 1))


def adequacy(values: list[float]) -> float:
    found = sample(values)
    return needed_known(found.deviation, found.mean / 10, 1.383)


# --- rows ----------------------------------------------------------------------------------------

ROWS: list[tuple[str, str, Number]] = [
    ("M-P1", "3.2258", lambda: pace(200, [62, 60, 64])),
    ("M-P2", "5.5", lambda: pace(198, [36])),
    ("M-P3", "30.3", lambda: trimmed_mean(MG)),
    ("M-P4a", "0.66138", lambda: pace(25, FW)),
    ("M-P4b", "25.529", lambda: nominal(calibrate(25, FW).length(38.6))),
    ("M-P4c", "0.0105", lambda: 1 - nominal(calibrate(25, FW).length(38.6)) / 25.80),
    ("M-P6", "0.79118", lambda: pace(61, [78, 76.5, 77, 78, 76])),
    ("M-P6", "118.68", lambda: nominal(calibrate(61, [78, 76.5, 77, 78, 76]).length(150))),
    ("M-P8", "120", lambda: 100 / pace(100, [121, 119])),
    ("M-P8", "300", lambda: 250 / pace(100, [121, 119])),
    ("M-P9", "66.488", lambda: paced_rectangle().nominal),
    ("M-P9", "2.889", lambda: paced_rectangle().plus_minus),
    (
        "M-P11",
        "0.6325",
        lambda: (
            outline_of({"method": "rectangle", "length": "60 ± 0.01", "width": "20 ± 0.01"}).area.plus_minus
        ),
    ),
    ("M-S1", "1250", lambda: area("rectangle", "ft", length=50, width=25)),
    ("M-S3", "3778.47", lambda: area("compound", "ft", parts=PU_PARTS)),
    (
        "M-S4",
        "1215.75",
        lambda: area(
            "compound",
            "ft",
            parts=[
                part("+", "rectangle", length=30, width=15),
                part("+", "rectangle", length=15, width=10),
                part("+", "circle", diameter=28),
            ],
        ),
    ),
    (
        "M-S5",
        "9400",
        lambda: area(
            "compound",
            "ft",
            parts=[
                part("+", "rectangle", length=120, width=100),
                part("-", "rectangle", length=50, width=40),
                part("-", "rectangle", length=20, width=30),
            ],
        ),
    ),
    ("M-S6", "60", lambda: area("l_shape", arm_length=12, arm_width=4, leg_length=6, leg_width=2)),
    ("M-S7", "23.46", lambda: area("trapezium", "yd", a=8.2, b=5.6, height=3.4)),
    ("M-S8", "40.25", lambda: area("trapezium", "yd", a=10.8, b=6.7, height=4.6)),
    ("M-S10", "19305", lambda: area("parallelogram", "ft", base=165, height=117)),
    ("M-S11", "684", lambda: area("kite", "inch", long=38, cross=36)),
    ("M-S12", "201.062", lambda: area("circle", "cm", diameter=16)),
    ("M-S13", "176.54", lambda: area("circle", "cm", circumference=47.1)),
    ("M-S15", "711.420", lambda: area("triangle", a=62.4, b=43.5, c=34.1)),
    ("M-S17", "552.318", lambda: area("triangle", "ft", a=29.7, b=42.3, c=38.4)),
    ("M-S18", "2288.865", lambda: area("triangle", a=90, b=52, angle=102)),
    ("M-S19", "104.720", lambda: area("sector", "ft", radius=20, angle=30)),
    ("M-S20", "10771.681", lambda: area("stadium", straight=105, width=68)),
    (
        "M-S25",
        "3500",
        lambda: area("quadrilateral", "ft", diagonal=100, perpendicular_b=30, perpendicular_d=40),
    ),
    ("M-S26", "4200", lambda: area("trapezium", "ft", a=120, b=90, height=40)),
    (
        "M-S27",
        "253495",
        lambda: area("quadrilateral", "yd", diagonal=605, perpendicular_b=365, perpendicular_d=473),
    ),
    ("M-S29", "777.342", lambda: area("quadrilateral", ab=20, bc=30, ac=38.58, cd=32.90, da=30.25)),
    ("M-S30", "11.18238", lambda: area("segment", chord=8, rise=2)),
    ("M-S31", "58.500", lambda: s31(12)),
    ("M-S31", "58.478", lambda: s31(2)),
    ("M-S32", "17671.459", lambda: area("circle", "ft", diameter=150)),
    ("M-O1", "211.40", lambda: offsets("trapezoid", LP, spacing=3.5)),
    ("M-O2", "211.1667", lambda: offsets("simpson", LP, spacing=3.5)),
    ("M-O3", "78.25", lambda: offsets("trapezoid", LP_10, spacing=2.5)),
    ("M-O5a", "188.0", lambda: offsets("trapezoid", EX_7, spacing=10)),
    ("M-O5b", "196.667", lambda: offsets("simpson", EX_7, spacing=10)),
    ("M-O6b", "349.333", lambda: offsets("simpson", EX_RUNS[1], stations=EX_RUNS[0])),
    ("M-O7", "439.667", lambda: offsets("simpson", EX_9, spacing=10)),
    ("M-O8", "781.0", lambda: offsets("simpson", EX_8, spacing=30)),
    ("M-O9", "476.0", lambda: offsets("simpson", EX_15, spacing=15)),
    ("M-O9", "472.5", lambda: offsets("trapezoid", EX_15, spacing=15)),
    ("M-O10", "3190", lambda: offsets("trapezoid", [0, 40, 54, 52, 0], "yd", stations=[0, 60, 80, 90, 110])),
    (
        "M-O11",
        "1650",
        lambda: offsets("trapezoid", [30, 28, 24, 20, 14, 0], "ft", stations=[0, 20, 35, 50, 64, 80]),
    ),
    (
        "M-O11",
        "153.290",
        lambda: (
            0.3048**2 * offsets("trapezoid", [30, 28, 24, 20, 14, 0], "ft", stations=[0, 20, 35, 50, 64, 80])
        ),
    ),
    (
        "M-O12",
        "9658",
        lambda: offsets("trapezoid", [70, 75, 84, 92, 102, 108], stations=[0, 40, 66, 88, 98, 115]),
    ),
    ("M-O13", "428620", lambda: offsets("trapezoid", [0, 352, 595, 0], "ft", stations=[0, 110, 745, 1110])),
    ("M-O15", "240", lambda: offsets("trapezoid", [8, 2, 7, 9, 4], spacing=10)),
    ("M-O18", "842.0", lambda: offsets("trapezoid", [0, 3, 5, 18, 12, 0], stations=[0, 8, 26, 64, 81, 92])),
    ("M-T1", "850", lambda: offsets("trapezoid", [0, 15, 10, 15, 25, 20, 0], "ft", spacing=10)),
    ("M-T2a", "1191.667", lambda: area("rectangle", length=65, width=sample(SA_WIDTHS).mean)),
    ("M-T2b", "1170", lambda: offsets("trapezoid", SA_WIDTHS, "ft", spacing=13)),
    ("M-T4a", "471.435", lambda: published_rule(SA_RADII)),
    ("M-T4b", "496.372", lambda: area("radii", "ft", radii=SA_RADII)),
    ("M-T6", "706.858", lambda: published_rule([15] * 36)),
    ("M-T8", "75.3982", lambda: area("radii", radii=ellipse_radii(6, 4, 1, 0.5, 36))),
    ("M-T8", "72.218", lambda: published_rule(ellipse_radii(6, 4, 1, 0.5, 36))),
    (
        "M-C1",
        "102935.72",
        lambda: area(
            "coordinates",
            "ft",
            points=[[2000.0, 500.0], [1561.426, 323.614], [1488.321, 526.996], [1686.956, 719.336]],
        ),
    ),
    (
        "M-C2",
        "250552.09",
        lambda: area(
            "coordinates",
            "ft",
            points=[[1000.0, 600.0], [1209.288, 254.542], [566.876, 97.543], [397.969, 470.303]],
        ),
    ),
    ("M-C3", "690000", lambda: area("coordinates", points=[[2000, 2000], [2600, 2600], [1200, 3500]])),
    ("M-V1", "0.8833", lambda: misclosure(PURDUE)),
    ("M-V1", "272,611.2", lambda: area("traverse", "ft", legs=legs(PURDUE))),
    ("M-G5", "63.96959", lambda: abs(shoelace(local_polygon(GARDEN)))),
    ("M-L2", "443.75", lambda: -grid_levels(L2, 10.0, 5.0, 50.0e3, "cell").net_volume.nominal),
    ("M-L4", "-0.251", lambda: -level("net_volume", "node")),
    ("M-L4", ".296", lambda: level("hollow_volume", "node")),
    ("M-L4", ".045", lambda: level("high_volume", "node")),
    ("M-L4", ".266", lambda: level("hollow_volume", "cell")),
    ("M-L4", ".015", lambda: level("high_volume", "cell")),
    (
        "M-L5",
        "0.38580",
        lambda: quantity(layer_volume(92.90304, 25.4 / 8), "m^3").to(unit_of("yd^3")).magnitude,
    ),
    ("M-U2", "4046.8564224", lambda: quantity(1, "acre").to(unit_of("m^2")).magnitude),
    ("M-U4", "35.23907016688", lambda: quantity(1, "bushel").to(unit_of("L")).magnitude),
    ("M-U4", "36.36872", lambda: quantity(1, "imperial_bushel").to(unit_of("L")).magnitude),
    ("M-U5", "28.349523125", lambda: quantity(1, "oz").to(unit_of("g")).magnitude),
    ("M-U6", "4.88242764", lambda: quantity(1, "lb/1000 ft^2").to(unit_of("g/m^2")).magnitude),
    ("M-U7", "33.9057475", lambda: quantity(1, "oz/yd^2").to(unit_of("g/m^2")).magnitude),
    ("M-N1", "216.09", lambda: needed_known(15, 2, 1.96)),
    ("M-N1", "217", lambda: whole(needed_known(15, 2, 1.96))),
    ("M-N3", "32.77", lambda: adequacy(MS_J)),
    ("M-N3", "33", lambda: whole(adequacy(MS_J))),
    ("M-N4", "12.31", lambda: adequacy(MS_I)),
    ("M-N4", "13", lambda: whole(adequacy(MS_I))),
    ("M-N5", "13.20", lambda: one_sided_90(48.83, 188.06, 72)),
    ("M-N5", "5.72", lambda: one_sided_90(64.40, 134.67, 20)),
    ("M-N5", "13.36", lambda: one_sided_90(51.95, 204.58, 20)),
    ("M-N6", "2.347", lambda: needed_known(1.74, 5 / 2, 2.201)),
    ("M-N6", "3", lambda: whole(needed_known(1.74, 5 / 2, 2.201))),
    ("M-N7", "7.3006", lambda: sample(N7).interval(0.95)[0]),
    ("M-N7", "9.1527", lambda: sample(N7).interval(0.95)[1]),
    ("M-N8", "117.41", lambda: sample(N8).interval(0.90)[0]),
    ("M-N8", "137.49", lambda: sample(N8).interval(0.90)[1]),
    ("M-N9b", "69.1396", lambda: uniformity_coefficient(N9)),
    (
        "M-N10",
        "97.14",
        lambda: 100 * low_quarter([0.68, 0.70, 0.70, 0.72]) / sample([0.68, 0.70, 0.70, 0.72]).mean,
    ),
]
GARDEN = [Fix(51.5, -0.1), Fix(51.5, -0.099885), Fix(51.500072, -0.099885), Fix(51.500072, -0.1)]
L2 = [[51.0e3, 53.0e3, 54.0e3], [53.0e3, 51.0e3, 52.0e3], [52.0e3, 53.0e3, 52.5e3]]


@pytest.mark.parametrize(("row", "wanted", "ours"), ROWS, ids=[f"{row[0]}-{row[1]}" for row in ROWS])
def test_the_check_row_holds(check: Any, row: str, wanted: str, ours: Number) -> None:
    check(row).holds(ours(), wanted)


def test_sheet_walk_with_a_large_misclosure(check: Any) -> None:
    row = check("M-V2")
    first = trace("traverse", legs=[{"bearing": b, "distance": f"{d} ft"} for b, d in SHEET])
    e = first.steps[0].values["e"].to(unit_of("ft")).magnitude
    row.holds(nominal(e), "24.6876")
    gap_n, gap_e = (first.steps[1].values[k].to(unit_of("ft")).magnitude for k in ("n", "e"))
    row.holds(-nominal(gap_n), "16.8171")
    row.holds(-nominal(gap_e), "18.0737")
    row.holds(area("traverse", "ft", legs=legs(SHEET)), "1715250.0494")


def test_every_row_is_held_somewhere() -> None:
    """Rows by id: here, in test_measuring_walks.py, and M-G1 to M-G3 beside pyproj in tests/peers."""
    with (Path(__file__).parent / "measuring.csv").open(encoding="utf-8", newline="") as file:
        published = {row["id"] for row in csv.DictReader(file)}
    elsewhere = {"M-V2", "M-V3", "M-V7", "M-G1", "M-G2", "M-G3"}
    assert {row[0] for row in ROWS} | elsewhere == published
