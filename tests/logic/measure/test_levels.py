"""High and low spots, fill and cut, and hollows one by one."""

from __future__ import annotations

import math
import random
import statistics
from typing import Any

import pytest

from logic.errors import BadValue
from logic.measure import hollows, levels
from logic.units import nominal

L4 = [12, 5, -3, 0, 8, -10, -18, -4, 3, -14, -22, -6, 0, -2, -5, 1]  # row M-L4 [mm]


def read(**given: Any) -> levels.Levels:
    reading = levels.FORM.read({"across": "2 m", "along": "2 m", "columns": 4, **given})
    assert reading.values is not None, reading.problems
    return levels.levels_of(reading.values)


def test_the_first_square_of_the_published_grid() -> None:
    """Exam question, rectangular field cut to 100 m in 10 m squares: the mean depth of the first square,
    12.775 m, is printed; the total is worked out by hand from the printed levels."""
    grid = [[110.24, 112.15, 114.21], [112.96, 115.75, 116.32], [116.98, 120.03, 115.34]]
    first = levels.grid_levels([[1e3 * h for h in row[:2]] for row in grid[:2]], 10.0, 10.0, 100e3, "cell")
    assert -first.net_volume.nominal == pytest.approx(12.775 * 100)
    whole = levels.grid_levels([[1e3 * h for h in row] for row in grid], 10.0, 10.0, 100e3, "cell")
    assert -whole.net_volume.nominal == pytest.approx(6067.25)


def test_net_fill_is_the_same_by_node_and_by_cell() -> None:
    by = [read(heights=L4, target=0, split=split).net_volume.nominal for split in ("node", "cell")]
    assert by[0] == pytest.approx(by[1])


def test_without_a_wanted_level_as_much_comes_off_as_goes_in() -> None:
    found = read(heights=L4)
    assert found.net_volume.nominal == pytest.approx(0, abs=1e-9)
    assert found.hollow_volume.nominal == pytest.approx(found.high_volume.nominal)
    assert found.mean_level.nominal == pytest.approx(-6.97, abs=0.005)  # weighted by hand


def test_reading_down_from_a_string_is_the_same_ground_upside_down() -> None:
    up, down = read(heights=L4, target=0), read(heights=[-h for h in L4], target=0, reading="down")
    assert up.hollow_volume.nominal == pytest.approx(down.hollow_volume.nominal)
    assert up.map.highest == down.map.highest or nominal(up.map.highest.above) == nominal(
        down.map.highest.above
    )


def test_the_map_knows_the_highest_and_lowest_spot() -> None:
    found = read(heights=L4, target=0).map
    assert (found.highest.x, found.highest.y, nominal(found.highest.above)) == (0, 0, 12)
    assert (found.lowest.x, found.lowest.y, nominal(found.lowest.above)) == (4, 4, -22)
    assert (len(found.rows), len(found.rows[0]), len(found.spots)) == (4, 4, 16)


def test_the_working_says_which_split_was_used() -> None:
    node, cell = (read(heights=L4, target=0, split=s).hollow_volume.working() for s in ("node", "cell"))
    assert "each reading for the ground about it; the other way gives 0.266 m³" in node[1]
    assert "square by square; the other way gives 0.296 m³" in cell[1]


def test_margin_of_the_fill_is_that_of_playing_the_readings() -> None:
    """Readings 2 mm, spacing marks as taped; the share that the choice of split adds is declared."""
    rng = random.Random(41)
    deep = [h - 30 for h in L4]  # all in the hollow, so that no reading changes sides
    found = read(heights=deep, target=0, across="2 ± 0.02 m", along="2 ± 0.02 m").hollow_volume
    played = []
    for _ in range(1500):
        grid = [[rng.gauss(h, 2) for h in deep[i : i + 4]] for i in range(0, 16, 4)]
        played.append(
            levels.grid_levels(grid, rng.gauss(2, 0.02), rng.gauss(2, 0.02), 0.0).hollow_volume.nominal
        )
    assert found.plus_minus == pytest.approx(statistics.stdev(played), rel=0.1)


@pytest.mark.parametrize(
    ("heights", "why"), [([1] * 15, "do not fill rows of 4"), ([1] * 4, "two full rows")]
)
def test_readings_that_fill_no_grid_are_refused(heights: list[int], why: str) -> None:
    with pytest.raises(BadValue, match=why):
        read(heights=heights)


def test_a_dish_by_its_deepest_point_and_by_depths_along_its_middle() -> None:
    """A paraboloid of depth 40 mm over 3 × 2 m holds π/4 × 3 × 2 × 0.020 = 0.0942 m³ (geometry)."""
    truth = math.pi / 4 * 3 * 2 * 0.020
    one, area = hollows.hollow_volume(3.0, 2.0, (40.0,))
    several, _ = hollows.hollow_volume(3.0, 2.0, tuple(40 * (1 - x * x) for x in (-0.5, 0.0, 0.5)))
    assert nominal(one) == pytest.approx(truth)
    assert nominal(several) == pytest.approx(truth)
    assert area == pytest.approx(math.pi * 1.5)


def test_hollows_add_up_and_more_depths_make_them_surer() -> None:
    def worked(depths: Any) -> hollows.Hollows:
        rows = [
            {"length": "3 m", "width": "2 m", "depths": depths},
            {"length": "1 m", "width": "1 m", "depths": "10"},
        ]
        reading = hollows.FORM.read({"hollows": rows})
        assert reading.values is not None, reading.problems
        return hollows.hollows_of(reading.values)

    by_one, by_three = worked("40 mm"), worked(["30", "40", "30"])
    assert by_one.hollow_volume.nominal == pytest.approx(math.pi / 4 * (6 * 0.020 + 0.005))
    assert by_three.hollow_volume.nominal == pytest.approx(by_one.hollow_volume.nominal)
    assert by_three.hollow_volume.plus_minus < by_one.hollow_volume.plus_minus
    assert by_one.deepest.nominal == 40
    assert by_one.hollow_area.nominal == pytest.approx(math.pi / 4 * 7)
