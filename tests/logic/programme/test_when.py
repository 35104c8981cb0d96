"""When the work falls, from what was typed, and how long seed and surface then take."""

from __future__ import annotations

from datetime import date

import pytest

from logic.programme.when import climate_read, how_long, soil_at, times_of
from logic.works.operation import Ground
from logic.works.operations import work_out

YEAR = ["4.5", "4.8", "6.6", "8.9", "12", "14.8", "16.9", "16.6", "14.3", "11", "7.4", "5"]
GROUND = Ground(area=60.0, perimeter=28.0, longest_run=9.0)
DAY = date(2026, 9, 14)


def test_a_year_is_read_once_all_its_months_are_there() -> None:
    assert climate_read({}) is None
    assert climate_read({"air": YEAR[:11]}) is None
    found = climate_read({"air": YEAR})
    assert found is not None
    assert found.soil == found.air
    assert not found.south
    southern = climate_read({"air": YEAR, "latitude": "-37.8"})
    assert southern is not None
    assert southern.south


def test_times_take_the_month_of_the_visit_until_another_is_chosen() -> None:
    assert times_of({}, {}, DAY).month == 9
    chosen = times_of({"month": 4, "soil": "6.5", "soil_falling": True}, {"air": YEAR}, DAY)
    assert (chosen.month, chosen.soil, chosen.soil_falling) == (4, 6.5, True)
    assert times_of({"month": 13, "soil": "warm"}, None, DAY) == times_of({}, {}, DAY)
    assert soil_at(chosen) == 6.5
    assert soil_at(times_of({"month": 4}, {"air": YEAR}, DAY)) == 8.9


def test_seed_and_holes_say_how_long_they_take() -> None:
    when = times_of({}, {"air": YEAR}, DAY)
    seed = work_out({"operation": "overseeding", "rate": "8 g/m^2"}, GROUND)
    figures, said = how_long(seed, ("ryegrass", "browntop_bent"), when)
    # Larsen and Bibby, Crop Science 45:2030-2037, 2005: 63.9 ÷ (14.3 − 3.6) = 5.97 days
    assert [f.nominal for f in figures] == [pytest.approx(5.97, abs=0.01)]
    assert len(said) == 2
    coring = {"tine_diameter": "16 mm", "spacing_across": "40 mm", "spacing_along": "40 mm", "depth": "80 mm"}
    cored = work_out({"operation": "coring", **coring}, GROUND)
    (closing,), _ = how_long(cored, (), when)
    assert 0 < closing.nominal < 30
    winter, said = how_long(cored, (), times_of({"month": 1}, {"air": [*["-15"] * 12]}, DAY))
    assert winter == ()
    assert "stands still" in said[0]
    assert how_long(cored, (), times_of({}, {}, DAY)) == ((), ())
