"""Show working: the lines say what was done and why, in any system of units."""

from __future__ import annotations

from typing import Any

import pytest

from logic.measure.methods import outline_of
from logic.measure.pacing import pace_of
from logic.units import SYSTEMS
from tests.logic.measure.examples import EXAMPLES, PACE


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_outline_shows_its_working_in_every_system(name: str) -> None:
    outline = outline_of(EXAMPLES[name], pace_of(PACE))
    for figure in outline.figures:
        for system in SYSTEMS:
            lines = figure.working(system)
            assert lines
            assert all("{" not in line and "nan" not in line for line in lines)
    assert outline.area.source.text
    assert outline.area.working()[-1].startswith("give or take")


@pytest.mark.parametrize("name", EXAMPLES)
def test_dimensions_name_the_fields_they_came_from(name: str) -> None:
    """A dimension on the sketch can be touched to edit it: its field leads into the job."""
    job = EXAMPLES[name]
    outline = outline_of(job, pace_of(PACE))
    for dimension in outline.dimensions:
        place: Any = job
        for key in dimension.field.split("."):
            place = place[int(key)] if isinstance(place, list) else place[key]
        assert isinstance(place, str)


def lines(**job: Any) -> list[str]:
    return list(outline_of(job).area.working())


def test_a_strip_left_over_is_said() -> None:
    said = lines(method="offsets", spacing=30, offsets=[0, 2.65, 3.8, 3.75, 4.65, 3.6, 5, 5.8])
    assert said[1] == "Simpson from 0 m to 180 m: 30 m ÷ 3 × (ends 5 m + 4 × 10 m + 2 × 8.45 m) = 619 m²"
    assert said[2].startswith("a strip is left over, and Simpson takes them in pairs, so from 180 m to 210 m")
    assert said[3] == "together = 781 m²"


def test_uneven_stations_are_taken_in_runs() -> None:
    stations, offsets = [0, 5, 10, 15, 20, 30, 40], [2.5, 3.8, 4.6, 5.2, 6.1, 4.7, 5.8]
    said = lines(method="offsets", stations=stations, offsets=offsets)
    assert [line.split(":")[0] for line in said[1:3]] == [
        "Simpson from 0 m to 20 m",
        "Simpson from 20 m to 40 m",
    ]


def test_radii_say_why_the_published_rule_is_not_used() -> None:
    said = lines(method="radii", radii=[f"{r} ft" for r in (10, 15, 10, 12, 15, 13, 10, 15)])
    assert "reads" in said[2]
    assert "averaging before squaring loses what the long radii add" in said[2]
    assert "straight lines from end to end enclose" in said[3]


def test_a_walk_says_its_misclosure_and_how_it_was_shared_out() -> None:
    legs = [{"bearing": b, "distance": d} for b, d in ((0, 10), (90, 10), (180, 10), (270, 9.5))]
    said = lines(method="traverse", legs=legs)
    assert said[0] == "4 legs, 39.5 m in all, end 0.5 m from where they began: 1.266 % of the way"
    assert said[1].startswith("shared out by length (compass rule)")


def test_a_walk_that_misses_by_more_than_its_readings_explain_has_a_wider_margin() -> None:
    square = [{"bearing": f"{b} ± 0.1", "distance": f"{d} ± 0.01"} for b, d in ((0, 10), (90, 10), (180, 10))]
    good = outline_of(
        {"method": "traverse", "legs": [*square, {"bearing": "270 ± 0.1", "distance": "10 ± 0.01"}]}
    )
    bad = outline_of(
        {"method": "traverse", "legs": [*square, {"bearing": "270 ± 0.1", "distance": "9.4 ± 0.01"}]}
    )
    assert bad.area.plus_minus > 10 * good.area.plus_minus
    assert any("times what the tape and compass explain" in line for line in bad.area.working())


def test_a_name_typed_into_a_compound_is_text_and_nothing_else() -> None:
    part = {"sign": "+", "part_name": "{a} lawn {0.__class__}", "outline": EXAMPLES["circle across"]}
    assert lines(method="compound", parts=[part])[0] == "plus {a} lawn {0.__class__}: 63.62 m²"
