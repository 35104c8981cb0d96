"""Job files: written, read back, and refused in one sentence when broken."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue, BrokenFile, FileError, NewerFormat
from logic.records import jobfile

RECTANGLE = {"method": "rectangle", "length": "12 m", "width": "5 m"}


def text(**parts: Any) -> str:
    return json.dumps({"format": jobfile.FORMAT, **parts})


# UTF-8 has no lone surrogates, so no job file written here holds one.
WORDS = st.text(st.characters(codec="utf-8"), max_size=20)
JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**60), 2**60)
    | st.floats(allow_nan=False, allow_infinity=False)
    | WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3),
    max_leaves=8,
)
OBJECTS = st.dictionaries(WORDS, JSON, max_size=3)


@given(
    st.fixed_dictionaries(
        {"outline": OBJECTS, "works": st.lists(OBJECTS, max_size=3), "pace": OBJECTS, "something newer": JSON}
    )
)
def test_what_is_written_is_read_back_and_unknown_parts_are_let_be(job: dict[str, Any]) -> None:
    written = jobfile.dumps(job)
    read = jobfile.loads(written)
    assert read == {"format": jobfile.FORMAT, **job}
    assert jobfile.loads(written.encode("utf-8")) == read
    assert jobfile.loads(b"\xef\xbb\xbf" + written.encode("utf-8")) == read  # with a byte order mark
    assert jobfile.dumps(read) == written


def test_a_job_file_is_readable_text_that_says_what_it_is_first() -> None:
    written = jobfile.dumps({"sward": {"name": "Grün ½"}, "format": "something else"})
    assert written.splitlines()[1] == '  "format": "swardwright-job/1",'
    assert "Grün ½" in written


@pytest.mark.parametrize(
    ("broken", "words"),
    [
        ("", "not readable as JSON"),
        ("{", "not readable as JSON"),
        ("%PDF-1.4", "not readable as JSON"),
        (b"\xff\xfe{\x00}\x00", "not readable as JSON"),
        (b"PK\x03\x04\x00\xff", "not readable as JSON"),
        ('{"format": "swardwright-job/1", "x": NaN}', "not readable as JSON"),
        ('{"format": "swardwright-job/1", "x": -Infinity}', "not readable as JSON"),
        ('{"format": "swardwright-job/1", "x": ' + "9" * 5000 + "}", "not readable as JSON"),
        ("[]", "doesn't say its format"),
        ('"text"', "doesn't say its format"),
        ("5", "doesn't say its format"),
        ("{}", "doesn't say its format"),
        ('{"format": null}', "not a job file of Swardwright's"),
        ('{"format": "other/1"}', "not a job file of Swardwright's"),
        ('{"format": "swardwright-job/0"}', "not a job file of Swardwright's"),
        ('{"format": "swardwright-job/x"}', "not a job file of Swardwright's"),
        ('{"format": "swardwright-job/²"}', "not a job file of Swardwright's"),
        ('{"format": "swardwright-job/' + "9" * 5000 + '"}', "not a job file of Swardwright's"),
        (text(outline=[]), "“outline” must be an object"),
        (text(pace="27"), "“pace” must be an object"),
        (text(client="Ada"), "“client” must be an object"),
        (text(works={}), "“works” must be a list"),
        (text(works=[{}, "coring"]), "work 2 must be an object"),
        (text(client={"name": ["Ada"]}), "the name of the client must be text"),
        (text(sward={"kind": {"a": 1}}), "the kind of the sward must be text"),
        ('{"format": "swardwright-job/1", "works": [{"rate": "8", "rate": "9"}]}', "“rate” is given twice"),
        ('{"format": "swardwright-job/1", "notes": "\\ud800"}', "text in it that can't be read"),
        ('{"format": "swardwright-job/1", "\\ud800": 1}', "text in it that can't be read"),
        ('{"format": "swardwright-job/1", "x": ' + "[" * 40 + "]" * 40 + "}", "too deep"),
        (" " * 5_000_001, "too large"),
    ],
)
def test_a_broken_file_is_refused_in_one_sentence(broken: str | bytes, words: str) -> None:
    with pytest.raises(BrokenFile, match=words) as caught:
        jobfile.loads(broken)
    assert "\n" not in caught.value.sentence
    assert len(caught.value.sentence) < 150


@pytest.mark.parametrize("opening", ["[", '{"a":'])
def test_nesting_without_end_is_refused(opening: str) -> None:
    with pytest.raises(BrokenFile):
        jobfile.loads(opening * 100_000)


@pytest.mark.parametrize("version", ["2", "17", "2025"])
def test_a_newer_file_is_not_guessed_at(version: str) -> None:
    with pytest.raises(NewerFormat, match=f"version {version}"):
        jobfile.loads(f'{{"format": "swardwright-job/{version}", "outline": 5}}')


@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda t: t.encode("utf-8", "surrogatepass")))
def test_no_bytes_at_all_do_more_than_be_refused(data: bytes) -> None:
    with pytest.raises(FileError):
        jobfile.loads(data)


@given(st.integers(0, 400), st.integers(0, 255))
def test_a_file_with_one_byte_changed_is_read_or_refused(place: int, byte: int) -> None:
    data = bytearray(text(outline=RECTANGLE, works=[{"operation": "topdressing", "depth": "2 mm"}]).encode())
    data[place % len(data)] = byte
    try:
        job = jobfile.loads(bytes(data))
    except FileError as error:
        assert error.sentence  # noqa: PT017
    else:
        assert job["format"] == jobfile.FORMAT


# --- when -----------------------------------------------------------------------------------------


def test_a_job_says_when_it_was_started_in_its_own_zone() -> None:
    moment = jobfile.started_of({"started": "2026-09-08T23:30:00+05:00"})
    assert moment is not None
    assert moment.date() == date(2026, 9, 8)
    assert moment.astimezone(UTC) == datetime(2026, 9, 8, 18, 30, tzinfo=UTC)
    assert jobfile.started_of({}) is None


def test_a_start_without_a_zone_is_local() -> None:
    for written in ("2026-09-08", "2026-09-08T00:00"):
        moment = jobfile.started_of({"started": written})
        assert moment is not None
        assert moment.utcoffset() is not None
        assert moment.date() == date(2026, 9, 8)
        assert moment - datetime(2026, 9, 8, tzinfo=UTC) < timedelta(days=1)


@pytest.mark.parametrize(
    "written", ["yesterday", "", 20260908.5, ["2026-09-08"], "9999-12-31T23:59-12:00", True]
)
def test_a_start_that_is_no_date_is_refused(written: Any) -> None:
    with pytest.raises(BadValue, match="In started: write a date"):
        jobfile.started_of({"started": written})
