"""The form of the journal: one line of text per entry, with its checksum and length in front.

    7a3f01c2 00000187 {"at":"2026-05-01T09:30:00.000000Z","changes":[{"before":0,"doc":{…},"id":"…",…}],…}

checksum: CRC-32 of the payload (as in ISO 3309, by zlib), 8 hexadecimal digits; length: of the payload in
bytes, 8 decimal digits; payload: canonical JSON in UTF-8 (sorted keys, no spaces). Everything here takes and
gives bytes.
"""

import json
import re
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from logic.errors import StorageError
from logic.records.nesting import is_deeper
from logic.records.types import Json

FORMAT = "swardwright-book/1"
HEAD = 18  # "7a3f01c2 00000187 "
LONGEST = 99_999_999
_DEEPEST = 200  # levels of a payload; far above any document, far below what a parser in a browser dies of

_FORM: dict[str, Any] = {"sort_keys": True, "separators": (",", ":"), "allow_nan": False}
_plain = json.JSONEncoder(ensure_ascii=False, **_FORM).encode
_escaped = json.JSONEncoder(**_FORM).encode
_START = re.compile(rb"[0-9a-f]{8} [0-9]{8} \{")


class Change(NamedTuple):
    """A document that an entry sets, or deletes when `doc` is None; `before` numbers what it replaces."""

    table: str
    id: str
    doc: Json | None
    before: int = 0


@dataclass(frozen=True)
class Entry:
    """One save: number, time (UTC, ISO 8601), what it was for, and its changes, which stand or fall as one.

    Numbers are consecutive; those that may have been in damaged bytes are not used again. marks: whatever
    else the entry says, such as {"undoes": 7}.
    """

    number: int
    at: str
    why: str
    changes: tuple[Change, ...]
    marks: Json = field(default_factory=dict)

    def payload(self) -> bytes:
        """The entry as canonical JSON."""
        changes = [change._asdict() for change in self.changes]
        return canonical({**self.marks, "n": self.number, "at": self.at, "why": self.why, "changes": changes})


class Found(NamedTuple):
    """A whole frame in a file: where it lies (newline included) and the JSON object in it."""

    at: int
    size: int
    value: dict[str, Any]


@dataclass(frozen=True)
class Scan:
    """What a file holds: its frames in file order, and the stretches (from, to) that are no whole frame."""

    frames: tuple[Found, ...]
    damage: tuple[tuple[int, int], ...]


def canonical(value: Any) -> bytes:
    """The one way a JSON value is written. Raises ValueError for what JSON cannot hold, such as NaN."""
    try:
        return _plain(value).encode()
    except (
        UnicodeEncodeError
    ):  # half a surrogate pair, as a browser's text field may give: only escapes hold it
        return _escaped(value).encode()


def frame(payload: bytes) -> bytes:
    """The line for a payload. Raises StorageError when it is too long for one entry."""
    if len(payload) > LONGEST:
        raise StorageError("This change is too large to be saved in one go. Nothing was changed.")
    return _head(payload) + payload + b"\n"


def entry_from(value: Mapping[str, Any]) -> Entry:
    """The entry in a frame's JSON object. Raises ValueError when it is none."""
    rest = dict(value)
    try:
        changes = tuple(_change_from(change) for change in rest.pop("changes"))
        number, at, why = rest.pop("n"), rest.pop("at"), rest.pop("why")
    except (KeyError, TypeError) as error:
        raise ValueError("not an entry") from error
    if type(number) is not int or not isinstance(at, str) or not isinstance(why, str):
        raise ValueError("not an entry")
    return Entry(number, at, why, changes, rest)


def scan(data: bytes) -> Scan:
    """All whole frames in `data`, with what lies between them. Never fails, whatever the bytes."""
    places: list[tuple[int, int]] = []
    damage: list[tuple[int, int]] = []
    at = 0
    while at < len(data):
        end = _frame_end(data, at)
        if end:
            places.append((at, end))
            at = end + 1 if data[end : end + 1] == b"\n" else end
        else:
            again = _START.search(data, at + 1)
            stop = again.start() if again else len(data)
            if damage and damage[-1][1] == at:
                damage[-1] = (damage[-1][0], stop)
            else:
                damage.append((at, stop))
            at = stop
    frames, unreadable = _parse(data, places)
    return Scan(tuple(frames), tuple(sorted(damage + unreadable)))


def _change_from(value: Mapping[str, Any]) -> Change:
    change = Change(value["table"], value["id"], value["doc"], value["before"])
    if not (isinstance(change.table, str) and isinstance(change.id, str) and type(change.before) is int):
        raise ValueError("not a change")
    if change.doc is not None and not isinstance(change.doc, dict):
        raise ValueError("not a document")
    return change


def _head(payload: bytes) -> bytes:
    return b"%08x %08d " % (zlib.crc32(payload), len(payload))


def _frame_end(data: bytes, at: int) -> int:
    """Where the payload of the frame at `at` ends, or 0 when there is no whole frame there."""
    head = data[at : at + HEAD]
    if not _START.match(data, at):
        return 0
    end = at + HEAD + int(head[9:17])
    return end if end <= len(data) and _head(data[at + HEAD : end]) == head else 0


def _parse(data: bytes, places: Sequence[tuple[int, int]]) -> tuple[list[Found], list[tuple[int, int]]]:
    """The frames at these places, and the places whose payload is not a JSON object."""
    payloads = [_shallow(data[at + HEAD : end]) for at, end in places]
    try:
        # One call for the whole file: much faster in a browser than one a line.
        values = json.loads(b"[" + b",".join(payloads) + b"]")
    except (ValueError, RecursionError):
        values = []
    if len(values) != len(payloads):
        values = [_loads(payload) for payload in payloads]
    frames, unreadable = [], []
    for (at, end), value in zip(places, values, strict=True):
        size = end - at + (data[end : end + 1] == b"\n")
        if isinstance(value, dict):
            frames.append(Found(at, size, value))
        else:
            unreadable.append((at, at + size))
    return frames, unreadable


def _shallow(payload: bytes) -> bytes:
    """The payload, or one that says nothing in place of one that would take the parser too deep."""
    might = payload.count(b"[") + payload.count(b"{") > _DEEPEST
    return b"null" if might and is_deeper(payload.decode("utf-8", "replace"), _DEEPEST) else payload


def _loads(payload: bytes) -> Any:
    try:
        return json.loads(payload)
    except (ValueError, RecursionError):
        return None
