"""Readings of a visit as typed: nothing is lost, and each is worked out at its own place and day."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

import pytest

from logic.errors import BadValue
from logic.survey import stored
from logic.survey.kind import Spot

NOON = datetime(2026, 6, 21, 12, 0, tzinfo=UTC)


def test_a_reading_as_typed_goes_there_and_back() -> None:
    raw: Any = stored.added([], "core", NOON, 1.5, 2.0)
    key = raw[0]["id"]
    raw = stored.with_value(raw, key, "thatch", ["12 mm", "14"])
    raw = stored.noted(stored.with_photo(raw, key, "p1"), key, "by the gate")
    raw = json.loads(json.dumps(raw))
    (held,) = stored.worked_out(raw, Spot())
    assert held.taken is not None
    assert held.taken.figure("thatch_depth").nominal == 13
    assert held.entry["photos"] == ["p1"]
    assert held.entry["note"] == "by the gate"
    assert held.at == NOON
    assert stored.given(held.entry) == {"kind": "core", "thatch": ["12 mm", "14"]}
    (mark,) = stored.marks([held], "core")
    assert (mark.x, mark.y, mark.value, mark.text) == (1.5, 2.0, 13, "13 mm")


def test_a_bad_value_stays_as_typed_and_says_so() -> None:
    raw: Any = stored.added([], "moisture", NOON)
    raw = stored.with_value(raw, raw[0]["id"], "readings", "wet")
    (held,) = stored.worked_out(raw, Spot())
    assert held.taken is None
    assert "wet" in held.reading.problems["readings"]
    assert held.entry["values"]["readings"] == "wet"
    assert stored.marks([held], "moisture") == ()


def test_a_reading_is_worked_out_on_its_own_day() -> None:
    raw = stored.added([], "shade", NOON)
    (held,) = stored.worked_out(raw, Spot(latitude=53.4, longitude=-6.3))
    assert held.taken is not None
    assert held.taken.figure("day_length").nominal == pytest.approx(17.0, abs=0.1)  # midsummer at 53.4° north


def test_moving_and_removing() -> None:
    raw: Any = stored.added(stored.added([], "core", NOON), "cover", NOON)
    first, second = (entry["id"] for entry in raw)
    raw = stored.placed(raw, second, 3.0, None)
    moved = stored.entry_of(raw, second)
    assert moved is not None
    assert (moved["x"], moved["y"], moved["kind"]) == (3.0, None, "cover")
    assert [entry["id"] for entry in stored.without(raw, first)] == [second]


def test_what_is_no_reading_is_passed_over() -> None:
    assert stored.entries(None) == ()
    assert stored.entries("text") == ()
    raw = [{"id": "a", "kind": "divining", "values": {}}, {"no": "id"}, 7]
    (held,) = stored.worked_out(raw, Spot())
    assert held.taken is None
    assert "divining" in held.reading.problems[""]
    with pytest.raises(BadValue):
        stored.added([], "divining", NOON)
