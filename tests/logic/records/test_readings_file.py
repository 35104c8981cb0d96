"""Readings in the job file: there and back as typed, worked out by `reckon`, bad ones named."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

import pytest

from logic.errors import BadValue, BrokenFile, SwardError
from logic.records import jobfile
from logic.records.readings_file import given, readings_of
from logic.records.reckon import reckon
from logic.records.surveyed import begun, held, past, with_value
from logic.records.types import Sward, Visit
from logic.records.visits import job_of, records_of, with_levels
from logic.survey import stored
from logic.survey.kind import Spot
from logic.survey.kinds import kinds, take
from tests.logic.survey.test_kinds import TYPED

NOON = datetime(2026, 6, 21, 12, 0, tzinfo=UTC)
GREEN = Sward(name="Back green", kind="putting green", climate={"latitude": "53.4", "longitude": "-6.3"})


def job(**parts: Any) -> dict[str, Any]:
    return {
        "format": jobfile.FORMAT,
        "started": "2026-06-21T12:00:00+00:00",
        "sward": {"name": "Back green", "kind": "putting green"},
        "outline": {"method": "rectangle", "length": "12 m", "width": "5 m"},
        **parts,
    }


@pytest.mark.parametrize("key", sorted(TYPED))
def test_a_reading_of_every_kind_goes_through_the_job_file_and_comes_to_the_same(key: str) -> None:
    entry = {"kind": key, "at": NOON.isoformat(), "x": 2.5, "y": 1.0, "note": "by the gate", **TYPED[key]}
    text = jobfile.dumps(job(readings=[entry]))
    _, sward, _, visit = records_of(jobfile.loads(text))
    back = job_of(visit, sward, None, None)
    assert back["readings"][0]["note"] == "by the gate"
    assert (back["readings"][0]["x"], back["readings"][0]["y"]) == (2.5, 1.0)
    assert datetime.fromisoformat(back["readings"][0]["at"]) == NOON
    assert (
        records_of(jobfile.loads(jobfile.dumps(back)))[3].readings[0]["values"] == visit.readings[0]["values"]
    )
    spot = Spot(latitude=53.4, longitude=-6.3, day=NOON.date())
    (again,) = stored.worked_out(visit.readings, spot)
    assert again.taken is not None
    before = take(
        {"kind": key, **TYPED[key]}, Spot(x=2.5, y=1.0, latitude=53.4, longitude=-6.3, day=NOON.date())
    )
    assert [f.text() for f in again.taken.figures] == [f.text() for f in before.figures]


def test_no_field_of_a_kind_is_called_as_what_stands_beside_it() -> None:
    for kind in kinds().values():
        assert not {"kind", "at", "x", "y", "note"} & set(kind.form.keys()), kind.key


def test_reckon_prints_readings_with_their_class_and_whose_it_is() -> None:
    readings = [{"kind": "core", "thatch": ["14 mm", "18 mm", "16 mm"], "roots_most": "60 mm"}]
    shown = reckon(job(readings=readings)).as_json()["readings"]
    assert shown[0]["kind"] == "core"
    figures = {figure["key"]: figure for figure in shown[0]["figures"]}
    assert figures["thatch_depth"]["value"] == pytest.approx(16)
    assert figures["root_depth"]["unit"] == "mm"
    classes = {one["figure"]: one for one in shown[0]["classes"]}
    assert classes["thatch_depth"]["word"] == "high"
    assert classes["root_depth"]["source"]
    assert json.loads(json.dumps(shown, allow_nan=False)) == shown


def test_a_lawn_is_classed_as_a_lawn() -> None:
    """22 mm of thatch: above the 20 mm of a green, below the 25 mm of a lawn (rows of survey_classes.csv)."""
    readings = [{"kind": "core", "thatch": ["22 mm"]}]
    for kind, word in (("putting green", "severe"), ("lawn", "high")):
        shown = reckon(job(readings=readings, sward={"name": "A", "kind": kind})).as_json()
        assert shown["readings"][0]["classes"][0]["word"] == word


@pytest.mark.parametrize(
    ("readings", "said"),
    [
        ([{"kind": "divining"}], "In reading 1"),
        ([{"kind": ["core"]}], "In reading 1"),
        ([{}], "In reading 1"),
        ([{"kind": "core", "thatch": ["12 mm"]}, {"kind": "core"}], "In reading 2 (core), thatch"),
        ([{"kind": "core", "thatch": ["12 mm"], "at": "yesterday"}], "In reading 1 (core), at"),
        ([{"kind": "core", "thatch": ["12 mm"], "x": "left"}], "In reading 1 (core), x"),
    ],
)
def test_a_bad_reading_is_named(readings: list[Any], said: str) -> None:
    with pytest.raises(SwardError) as bad:
        reckon(job(readings=readings))
    assert bad.value.sentence.startswith(said)


def test_readings_that_are_no_list_of_objects_are_refused() -> None:
    for readings in ({"kind": "core"}, ["core"]):
        with pytest.raises(BrokenFile):
            jobfile.loads(json.dumps(job(readings=readings)))
    with pytest.raises(BadValue):
        readings_of([{"kind": "divining"}])


def test_what_was_begun_and_left_empty_is_not_handed_on() -> None:
    visit, _ = begun(Visit(), "core", NOON)
    assert given(visit.readings) == []


# --- begun where the last left off ---------------------------------------------------------------------


def test_what_makes_readings_comparable_is_as_it_was_last_time() -> None:
    before, first = begun(Visit(started=NOON), "organic_matter", NOON)
    for key, value in (("method", "whole_440"), ("bottom", "20 mm"), ("percent", "7.3 %")):
        before = with_value(before, first, key, value)
    visit, second = begun(Visit(), "organic_matter", NOON, [before])
    entry = stored.entry_of(visit.readings, second)
    assert entry is not None
    assert entry["values"] == {"method": "whole_440", "bottom": "20 mm"}


def test_one_entry_of_a_list_is_typed_by_its_path() -> None:
    visit, key = begun(Visit(), "core", NOON)
    for path, value in (("thatch.0", "12 mm"), ("thatch.1", "14 mm"), ("layers.0.layer_to", "12 mm")):
        visit = with_value(visit, key, path, value)
    entry = stored.entry_of(visit.readings, key)
    assert entry is not None
    assert entry["values"] == {"thatch": ["12 mm", "14 mm"], "layers": [{"layer_to": "12 mm"}]}
    assert with_value(visit, "gone", "thatch.0", "1 mm") == visit


def test_levels_on_a_grid_are_one_of_the_readings() -> None:
    grid = {"across": "1 m", "along": "1 m", "columns": "2", "heights": ["0", "5", "-3", "2"]}
    visit = with_levels(Visit(started=NOON), {"method": "grid", "drafts": {"grid": grid}})
    (one,) = held(visit, GREEN, None)
    assert one.taken is not None
    assert one.taken.has("unevenness")
    (before,) = past(visit, (one,))
    assert before.day == NOON.astimezone().date()


def test_a_reading_is_worked_out_at_its_sward() -> None:
    """Midsummer's day at 53.4° north lasts 17.0 h (NOAA's equations, as in tests/peers/test_sun.py)."""
    visit, _ = begun(Visit(started=NOON), "shade", NOON)
    (one,) = held(visit, GREEN, None)
    assert one.taken is not None
    assert one.taken.figure("day_length").nominal == pytest.approx(17.0, abs=0.1)
