"""How deep JSON is nested, found out without parsing it."""

from __future__ import annotations

import hashlib
import json
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from logic.errors import BrokenFile
from logic.records import backup
from logic.records.nesting import is_deeper

JSON = st.recursive(
    st.none() | st.integers() | st.text(alphabet='[]{}"\\a,:\n', max_size=6),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text('[]{}"\\a', max_size=3), inner, max_size=2)
    ),
    max_leaves=12,
)


def depth(value: Any) -> int:
    if not isinstance(value, dict | list):
        return 0
    return 1 + max(map(depth, value.values() if isinstance(value, dict) else value), default=0)


@given(JSON, st.booleans())
@example(["[" * 50], False)
@example(['\\"[[['], True)
def test_the_depth_is_that_of_the_value_whatever_its_texts_hold(value: Any, ascii_only: bool) -> None:
    text = json.dumps(value, ensure_ascii=ascii_only)
    deep = depth(value)
    assert not is_deeper(text, deep)
    assert deep == 0 or is_deeper(text, deep - 1)


@pytest.mark.parametrize("opening", ["[", '{"a":', '[{"a":[', '{"]":'])
def test_text_that_only_goes_down_is_too_deep_at_any_length(opening: str) -> None:
    assert is_deeper(opening * 200_000, 100)
    assert is_deeper(opening * 200_000 + '"', 100)


def test_beside_one_another_is_not_deep() -> None:
    assert not is_deeper("[" + "[],{}," * 100_000 + "0]", 2)


@pytest.mark.parametrize("member", [backup.RECORDS, backup.MANIFEST])
def test_a_backup_nested_without_end_is_refused(member: str) -> None:
    """In the browser's Python this ends Python itself when the text reaches the parser."""
    records = b"[" * 100_000 if member == backup.RECORDS else b"{}"
    manifest = {
        "format": backup.FORMAT,
        "files": {backup.RECORDS: {"sha256": hashlib.sha256(records).hexdigest()}},
    }
    text = json.dumps(manifest).encode() if member == backup.RECORDS else b"[" * 100_000
    with pytest.raises(BrokenFile, match="not a backup"):
        backup.unpack(backup.zipped({backup.MANIFEST: text, backup.RECORDS: records}))
