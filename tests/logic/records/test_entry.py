"""The form of the journal's lines."""

import json
import zlib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import StorageError
from logic.records import entry
from logic.records.entry import Change, Entry, canonical, entry_from, frame, scan
from tests.logic.records.test_types import JSON

DOCS = st.none() | st.dictionaries(st.text(), JSON, max_size=4)
CHANGES = st.builds(Change, st.text(), st.text(), DOCS, st.integers(0, 9))
ENTRIES = st.builds(Entry, st.integers(1), st.text(), st.text(), st.lists(CHANGES, max_size=3).map(tuple))


def test_the_checksum_is_the_common_crc_32() -> None:
    """Check value of CRC-32/ISO-HDLC for "123456789": CBF43926 (catalogue of parametrised CRC algorithms)."""
    assert zlib.crc32(b"123456789") == 0xCBF43926
    assert frame(b"123456789") == b"cbf43926 00000009 123456789\n"


def test_a_line_can_be_read_with_a_text_tool() -> None:
    line = frame(
        Entry(3, "2026-05-01T08:00:00.000000Z", "Grün", (Change("swards", "a", {"name": "½"}),)).payload()
    )
    checksum, length, payload = line.rstrip(b"\n").split(b" ", 2)
    assert (int(checksum, 16), int(length)) == (zlib.crc32(payload), len(payload))
    assert json.loads(payload)["changes"][0]["doc"] == {"name": "½"}
    assert "½" in line.decode()


def test_half_a_surrogate_pair_from_a_text_field_is_kept() -> None:
    assert json.loads(canonical({"a": "\ud83c"})) == {"a": "\ud83c"}


def test_what_json_cannot_hold_is_refused() -> None:
    with pytest.raises(ValueError, match="JSON"):
        canonical({"a": float("nan")})


def test_an_entry_that_the_length_cannot_say_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(entry, "LONGEST", 10)
    with pytest.raises(StorageError, match="too large"):
        frame(b"12345678901")


@given(st.lists(ENTRIES, max_size=5))
def test_lines_scan_back_to_their_entries(entries: list[Entry]) -> None:
    found = scan(b"".join(frame(item.payload()) for item in entries))
    assert [entry_from(item.value) for item in found.frames] == entries
    assert not found.damage


@given(st.binary(max_size=300), st.binary(max_size=300), ENTRIES)
def test_garbage_around_a_line_never_hides_it(before: bytes, after: bytes, item: Entry) -> None:
    line = frame(item.payload())
    found = scan(before + line + after)
    assert (len(before), len(line)) in [(piece.at, piece.size) for piece in found.frames]
    covered = sum(piece.size for piece in found.frames) + sum(end - start for start, end in found.damage)
    assert covered == len(before + line + after)


@given(JSON)
def test_any_json_in_a_whole_frame_is_an_entry_or_a_clear_refusal(value: Any) -> None:
    found = scan(frame(canonical(value)))
    if isinstance(value, dict):
        with pytest.raises(ValueError, match="not a"):
            entry_from(found.frames[0].value)
    else:
        assert not found.frames
        assert found.damage


def test_frames_that_are_json_only_together_are_not_taken() -> None:
    found = scan(frame(b'{"a":[1') + frame(b'{"a":1}') + frame(b"{}]}"))
    assert [item.value for item in found.frames] == [{"a": 1}]
