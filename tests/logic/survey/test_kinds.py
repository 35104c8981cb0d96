"""What every kind of reading keeps to, and what each says of itself."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from logic import tables
from logic.errors import BadValue
from logic.figure import TRUST
from logic.survey.kind import Spot
from logic.survey.kinds import kinds, look, take
from logic.survey.shade import Obstacle, sun_hours
from logic.units import unit_of

SQUARE = ((0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0))
SPOT = Spot(area=25.0, perimeter=20.0, polygon=SQUARE, latitude=53.4, longitude=-6.3, day=date(2026, 6, 21))

#: One reading of each kind as a person might type it.
TYPED: Mapping[str, Mapping[str, Any]] = {
    "height_of_cut": {"readings": "4.1; 4.3; 4.0; 4.6 mm", "bench": "4.5 mm"},
    "core": {
        "thatch": ["12 mm", "18 mm", "15 mm"],
        "compressed": "6 mm",
        "layers": [["0", "15 mm", "thatch", ""], ["15 mm", "40 mm", "sand", "old dressing"]],
        "roots_most": "60 mm",
        "roots_deepest": "110 mm",
        "smell": "rotten",
    },
    "organic_matter": {"percent": "7.3 %", "corer": "30 mm", "cores": "6"},
    "cover": {"grass": "82", "moss": "12", "bare": "6", "places": "4"},
    "cover_photo": {"pixels": "1000", "green": "820", "hue": "98", "saturation": "0.5", "brightness": "0.45"},
    "bare_edges": {"edges": [["2 m", "1.5 m", "20 cm"], ["9 m", "0.5 m", ""]]},
    "compaction": {"profile": [["50 mm", "900 kPa"], ["100 mm", "1.8 MPa"], ["150 mm", "1 MPa"]]},
    "moisture": {"readings": [14, 15, 13, 16], "target": "20 %", "depth": "100 mm"},
    "infiltration": {"fall": "25 mm", "minutes": "9"},
    "firmness": {"readings": [90, 95, 88], "moisture": "18 %"},
    "ball_roll": {"up": ["2.1 m", "2.2 m", "2.0 m"], "down": ["2.5 m", "2.6 m", "2.4 m"]},
    "levels": {"across": "1 m", "along": "1 m", "columns": "2", "heights": [0, 5, -3, 2]},
    "soil_test": {"k": "30", "p": "25", "ph": "5.9", "n_year": "12 g/m^2"},
    "shade": {"obstacles": [["fence", "1.8 m", "2 m", "90", "270"]]},
    "water_quality": {"ph": "7.4", "conductivity": "0.5 dS/m", "sodium": 40, "calcium": 60, "magnesium": 10},
}


def test_every_kind_is_tried_here() -> None:
    assert set(TYPED) == set(kinds())


@pytest.mark.parametrize("key", list(TYPED))
def test_a_kind_says_how_how_many_and_what_it_does_not_tell(key: str) -> None:
    kind = kinds()[key]
    for said in (kind.help, kind.how_many, kind.tells_not):
        assert said.endswith((".", "!"))
        assert said[0].isupper() or said[0].isdigit()
    assert set(kind.alike) <= set(kind.form.keys())


@pytest.mark.parametrize("key", list(TYPED))
def test_a_reading_gives_figures_with_working(key: str) -> None:
    taken = take({"kind": key, **TYPED[key]}, SPOT)
    assert taken.figures
    assert any(one.headline for one in taken.figures) or key == "levels"
    assert len({one.key for one in taken.figures}) == len(taken.figures)
    for one in taken.figures:
        assert all(one.working()), one.key
        assert str(one.source), one.key
    for label in taken.finding.labels:
        assert taken.has(label.figure)
        assert label.source.trust in TRUST


@pytest.mark.parametrize("key", list(TYPED))
def test_nothing_filled_in_gives_a_sentence_for_a_field(key: str) -> None:
    taken, reading = look({"kind": key}, Spot())
    assert taken is None
    field, sentence = next(iter(reading.problems.items()))
    assert field in set(kinds()[key].form.keys())
    assert sentence.endswith(".")


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"kind": "organic_matter", "dry": "40 g", "burned": "41 g"}, "burned"),
        ({"kind": "organic_matter", "percent": "7", "top": "40 mm", "bottom": "20 mm"}, "bottom"),
        ({"kind": "core", "thatch": [10], "compressed": "12 mm"}, "compressed"),
        ({"kind": "core", "thatch": [10], "roots_most": "80 mm", "roots_deepest": "60 mm"}, "roots_deepest"),
        (
            {"kind": "core", "thatch": [10], "layers": [["0", "20", "soil", ""], ["10", "30", "clay", ""]]},
            "layers",
        ),
        ({"kind": "compaction", "profile": [["100", "900"], ["50", "800"]]}, "profile"),
        ({"kind": "cover_photo", "pixels": 10, "green": 11}, "green"),
        (
            {"kind": "infiltration", "core_length": 100, "head_start": 100, "head_end": 100, "seconds": 60},
            "head_end",
        ),
        ({"kind": "moisture", "readings": [10], "target": "10 %", "wilt": "12 %"}, "wilt"),
        ({"kind": "shade", "latitude": "53", "day": "midsummer"}, "day"),
        ({"kind": "water_quality", "sodium": 10, "calcium": 0, "magnesium": 0}, "calcium"),
        ({"kind": "cover", "grass": 0, "moss": 0}, "grass"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(given: Mapping[str, Any], field: str) -> None:
    with pytest.raises(BadValue) as refused:
        take(given, SPOT)
    assert refused.value.field_key == field


def test_an_unknown_kind_is_named() -> None:
    with pytest.raises(BadValue, match="dowsing"):
        take({"kind": "dowsing"})


def test_dry_soil_gets_no_compaction_class() -> None:
    profile = [["100 mm", "2.5 MPa"]]
    wet = take({"kind": "compaction", "profile": profile, "moisture": "20 %", "field_capacity": "18 %"})
    dry = take({"kind": "compaction", "profile": profile, "moisture": "10 %", "field_capacity": "18 %"})
    assert wet.word("compaction") == "root-limiting"
    assert dry.word("compaction") == ""
    assert "no class" in dry.finding.warnings[0]


def test_a_pan_is_the_hard_run_about_the_peak() -> None:
    rows = [["50", "800"], ["100", "1500"], ["150", "2200"], ["200", "1400"], ["250", "900"], ["300", "1600"]]
    taken = take({"kind": "compaction", "profile": rows})
    assert taken.figure("pan_top").nominal == 100
    assert taken.figure("pan_bottom").nominal == 200


def test_mat_is_not_classed_as_thatch() -> None:
    assert take({"kind": "core", "thatch": [20], "kind_of_thatch": "mat"}).word("thatch_depth") == ""
    assert take({"kind": "core", "thatch": [20], "kind_of_thatch": "thatch"}).word("thatch_depth") == "severe"


def test_another_extract_gets_no_need() -> None:
    taken = take({"kind": "soil_test", "k": "20", "extract": "other", "n_year": "10"})
    assert not taken.has("k_need")
    assert "Mehlich-3" in taken.finding.warnings[0]


def test_a_bare_edge_lies_on_the_outline() -> None:
    taken = take({"kind": "bare_edges", "edges": [["3 m", "4 m", ""]]}, SPOT)
    (stretch,) = taken.finding.drawing
    assert stretch.points == ((3.0, 0.0), (5.0, 0.0), (5.0, 2.0))  # type: ignore[union-attr]


def test_more_in_the_way_never_lets_more_sun_in() -> None:
    day, low, high = date(2026, 9, 1), Obstacle(90, 180, 20), Obstacle(90, 270, 35)
    up, open_sky = sun_hours(53.4, -6.3, day, ())
    assert open_sky == up
    some, more = (sun_hours(53.4, -6.3, day, obstacles)[1] for obstacles in ((low,), (low, high)))
    assert open_sky > some > more > 0


def test_an_obstacle_to_the_north_hides_no_winter_sun() -> None:
    north = Obstacle(300, 60, 80)
    up, seen = sun_hours(53.4, -6.3, date(2026, 12, 21), (north,))
    assert seen == up


@pytest.mark.parametrize(
    "name",
    sorted(
        path.stem
        for path in (Path(str(tables.files("assets"))) / "tables").glob("*.csv")
        if path.stem.startswith(("survey_", "readings", "timing_", "exposure_", "aftercare"))
    ),
)
def test_rows_have_units_and_trust(name: str) -> None:
    for row in tables.rows(name):
        assert row["trust"] in TRUST, row
        assert row["trust"] in ("practice", "memory", "setting", "derived") or row["source"], row
        if row.get("unit"):
            unit_of(row["unit"])
        assert None not in row, row  # a comma too many
    path = Path(str(tables.files("assets"))) / "tables" / f"{name}.csv"
    with path.open(encoding="utf-8", newline="") as file:
        assert len({len(line) for line in csv.reader(file)}) == 1
