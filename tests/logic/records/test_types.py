"""Records to documents and back."""

import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.records.documents import from_doc, to_doc
from logic.records.types import KINDS, VERSION, Client, Pace, Record, Settings, Visit
from tests.logic.records.build import client, pace, sward, visit

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


@pytest.mark.parametrize(
    "record", [client(), sward(client()), pace(), visit(sward(client())), Settings(firm="F")]
)
def test_a_record_survives_json(record: Record) -> None:
    doc = json.loads(json.dumps(to_doc(record)))
    assert from_doc(type(record), doc) == record


def test_a_document_shares_nothing_with_its_record() -> None:
    record = visit(sward(client()))
    doc = to_doc(record)
    doc["outline"]["drafts"]["circle"]["diameter"] = "changed"
    doc["works"][0]["values"]["rate"] = "changed"
    assert record.outline["drafts"]["circle"]["diameter"] == "14 paces"
    again = from_doc(Visit, doc)
    doc["outline"]["method"] = "changed"
    assert again.outline["method"] == "circle"
    assert again.works[0]["values"]["rate"] == "changed"


def test_missing_fields_take_their_defaults() -> None:
    settings = from_doc(Settings, {"firm": "Fen Turf"})
    assert (settings.firm, settings.units, settings.confidence, settings.id) == (
        "Fen Turf",
        "metric",
        0.9,
        "settings",
    )


def test_what_another_version_added_is_written_back() -> None:
    doc = {**to_doc(client()), "consent": {"mail": True}}
    record = from_doc(Client, doc)
    assert to_doc(replace(record, name="New name")) == {**doc, "name": "New name"}
    assert not record.read_only


def test_a_newer_document_is_read_only() -> None:
    assert from_doc(Client, {**to_doc(client()), "v": VERSION + 1}).read_only
    assert from_doc(Client, {**to_doc(client()), "v": "two"}).read_only


def test_a_value_of_the_wrong_kind_is_kept_beside_the_default() -> None:
    record = from_doc(Pace, {"steps": "three", "counts": "27", "person": 7, "measured": "yesterday"})
    assert (record.steps, record.counts, record.person) == ("one", (), "7")
    assert record.extra["unread"] == {"steps": "three", "counts": "27", "measured": "yesterday"}
    assert to_doc(record)["unread"] == {"steps": "three", "counts": "27", "measured": "yesterday"}


def test_times_keep_their_moment_and_are_written_in_utc() -> None:
    half_past_nine = datetime(2026, 5, 1, 9, 30, tzinfo=timezone(timedelta(hours=1)))
    doc = to_doc(visit(sward(client()), started=half_past_nine))
    assert doc["started"] == "2026-05-01T08:30:00+00:00"
    assert from_doc(Visit, doc).started == half_past_nine
    assert from_doc(Visit, {"started": "2026-05-01T08:30:00"}).started == datetime(
        2026, 5, 1, 8, 30, tzinfo=UTC
    )


@given(
    doc=st.dictionaries(st.sampled_from([*Visit.__dataclass_fields__, "other"]), JSON),
    table=st.sampled_from([*KINDS]),
)
def test_no_document_fails_to_read_and_nothing_of_it_is_lost(doc: dict[str, Any], table: str) -> None:
    kind = KINDS[table]
    once = from_doc(kind, doc)
    assert from_doc(kind, to_doc(once)) == replace(once, read_only=False)
    for name, value in doc.items():
        known = name in kind.__dataclass_fields__ and name not in ("extra", "read_only")
        if not known:
            assert name == "v" or once.extra[name] == value
