"""Positions against pyproj (PROJ): geodesic areas and lengths on the WGS 84 ellipsoid.

Rows M-G1 to M-G3 show first that the yardstick reads what is published for it.
"""

from __future__ import annotations

import csv
import random
from pathlib import Path

import pytest
from pyproj import Geod

from logic.measure.geometry import perimeter, shoelace
from logic.measure.position import Fix, local_polygon, rough_area

WGS84 = Geod(ellps="WGS84")
ANTARCTICA = (
    "-72.9 -71.9 -74.9 -74.3 -77.5 -77.4 -71.7 -65.9 -65.7 -66.6 -66.9 -69.8 -70.0 -71.0 -77.3 -77.9 -74.7",
    "-74 -102 -102 -131 -163 163 172 140 113 88 59 25 -4 -14 -33 -46 -61",
)
PUBLISHED = {
    "M-G1": ("0 0 1 1", "0 1 1 0"),
    "M-G2": ("0 -1 0 1", "-1 0 1 0"),
    "M-G3": ANTARCTICA,
}


@pytest.mark.parametrize("row", PUBLISHED)
def test_the_yardstick_reads_what_is_published(row: str) -> None:
    path = Path(__file__).parent.parent / "checks" / "measuring.csv"
    with path.open(encoding="utf-8", newline="") as file:
        published = next(line for line in csv.DictReader(file) if line["id"] == row)
    latitudes, longitudes = ([float(x) for x in text.split()] for text in PUBLISHED[row])
    area, _ = WGS84.polygon_area_perimeter(longitudes, latitudes)
    assert abs(area) == pytest.approx(
        float(published["expected"]), abs=float(published["tolerance"].split()[0])
    )


def test_gardens_all_over_the_world_have_their_geodesic_area_and_perimeter() -> None:
    rng = random.Random(31)
    for _ in range(2000):
        latitude, longitude = rng.uniform(-80, 80), rng.uniform(-180, 180)
        size = rng.uniform(3e-5, 3e-4)
        spots = [
            (latitude + size * (rng.random() + y), longitude + size * (rng.random() + x))
            for x, y in ((0, 0), (2, 0), (2, 2), (0, 2))
        ]
        area, length = WGS84.polygon_area_perimeter([x for _, x in spots], [y for y, _ in spots])
        ours = local_polygon([Fix(y, (x + 180) % 360 - 180) for y, x in spots])
        assert shoelace(ours) == pytest.approx(area, rel=2e-5)
        assert perimeter(ours) == pytest.approx(length, rel=2e-5)


def test_the_rough_area_of_the_check_garden_carries_a_margin_that_forbids_its_use() -> None:
    garden = [(51.5, -0.1), (51.5, -0.099885), (51.500072, -0.099885), (51.500072, -0.1)]
    area, _ = WGS84.polygon_area_perimeter([x for _, x in garden], [y for y, _ in garden])
    ours = rough_area([Fix(y, x, 4.9) for y, x in garden])
    assert ours.nominal == pytest.approx(abs(area), abs=1e-3)
    assert ours.plus_minus > 0.3 * ours.nominal
