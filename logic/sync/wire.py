"""The messages between phone and office: dataclasses, and how each becomes JSON and comes back.

Reading is tolerant: members that this version does not know are kept in `more` and written back. What cannot
be read at all raises BrokenMessage with one sentence. No message holds a clock that anything is ordered by.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, TypeVar

from logic.errors import FileError
from logic.sync.registers import BUCKETS
from logic.sync.text import digest_of_text, text_of

WIRE = 1
#: Device id under which the office itself writes (what became of a message).
OFFICE = "hub"

CHANGES = 100  # changes in a push
PAGE = 200  # changes or records in a page
BODY = 1_000_000  # bytes of a push or a page; one change may alone be larger, up to CHANGE
CHANGE = 2_000_000
CHUNK = 256 * 1024  # bytes of a photo in one request
LARGEST_BLOB = 10_000_000
DEEPEST = 40  # levels of nesting of a value

Json = Mapping[str, Any]
T = TypeVar("T")


class BrokenMessage(FileError):
    """A message that is none of these."""

    default = "The message could not be read."


@dataclass(frozen=True)
class Change:
    """One saved step of a phone. `records`: deltas (see registers); `again`: delivers others' values too."""

    number: int
    at: str
    why: str
    records: tuple[Json, ...]
    again: bool = False
    #: Set by the office: where the change stands in the order of all, and who made it.
    position: int = 0
    device: str = ""
    more: Json = field(default_factory=dict)

    def to_json(self) -> dict[str, Any]:
        """The change as sent; as handed out when it has a position."""
        said: dict[str, Any] = {**self.more, "number": self.number, "at": self.at, "why": self.why}
        said["records"] = [dict(record) for record in self.records]
        if self.again:
            said["again"] = True
        if self.position:
            said |= {"position": self.position, "device": self.device}
        return said

    @classmethod
    def from_json(cls, value: Any) -> "Change":
        """Raises BrokenMessage."""
        said = _mapping(value)
        return cls(
            number=_count(said, "number", least=1),
            at=_text(said, "at", ""),
            why=_text(said, "why", ""),
            records=tuple(_delta(record) for record in _list(said, "records")),
            again=said.get("again") is True,
            position=_count(said, "position", 0),
            device=_text(said, "device", ""),
            more=_more(said, "number", "at", "why", "records", "again", "position", "device"),
        )

    def hash(self) -> str:
        """What tells this change from another one under the same number."""
        return self._hash

    @cached_property
    def _hash(self) -> str:
        return digest_of_text(f'{{"number":{self.number},"records":{self._records_text}}}')

    def size(self) -> int:
        """Bytes on the wire."""
        return len(text_of({**self.to_json(), "records": []})) - len("[]") + len(self._records_text)

    @cached_property
    def _records_text(self) -> str:
        """The records in canonical JSON: writing them down is most of the work of hash and size."""
        return text_of([dict(record) for record in self.records])


@dataclass(frozen=True)
class Result:
    """What became of one change: accepted at a position, or refused with a code and a sentence."""

    number: int
    accepted: bool
    position: int = 0
    code: str = ""
    reason: str = ""

    def to_json(self) -> dict[str, Any]:
        """The result as sent."""
        if self.accepted:
            return {"number": self.number, "result": "accepted", "position": self.position}
        return {"number": self.number, "result": "refused", "code": self.code, "reason": self.reason}

    @classmethod
    def from_json(cls, value: Any) -> "Result":
        """Raises BrokenMessage."""
        said = _mapping(value)
        return cls(
            number=_count(said, "number", least=1),
            accepted=said.get("result") == "accepted",
            position=_count(said, "position", 0),
            code=_text(said, "code", ""),
            reason=_text(said, "reason", ""),
        )


@dataclass(frozen=True)
class Push:
    """Changes on their way to the office."""

    changes: tuple[Change, ...]
    app: str = ""

    def to_json(self, now: str = "") -> dict[str, Any]:
        """The message as sent. now: the phone's clock, for the office's log only."""
        return {
            "wire": WIRE,
            "app": self.app,
            "now": now,
            "changes": [change.to_json() for change in self.changes],
        }

    @classmethod
    def from_json(cls, value: Any) -> "Push":
        """Raises BrokenMessage for whatever cannot be read; see `changes_in` for one by one."""
        said = _mapping(value)
        changes = tuple(Change.from_json(change) for change in _list(said, "changes"))
        return cls(changes, _text(said, "app", ""))


@dataclass(frozen=True)
class Answer:
    """What every answer of the office says: which store it is (`epoch`), and what its clock shows."""

    epoch: str
    now: str


@dataclass(frozen=True)
class Pushed(Answer):
    """The answer to a push."""

    results: tuple[Result, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """The message as sent."""
        return {**_head(self), "results": [result.to_json() for result in self.results]}

    @classmethod
    def from_json(cls, value: Any) -> "Pushed":
        """Raises BrokenMessage."""
        said = _mapping(value)
        return cls(**_heard(said), results=tuple(Result.from_json(one) for one in _list(said, "results")))


@dataclass(frozen=True)
class Page(Answer):
    """Changes in the order of the office. `sums` only on the last page; `reset`: begin with a snapshot."""

    changes: tuple[Change, ...] = ()
    cursor: str = ""
    more: bool = False
    reset: bool = False
    sums: tuple[int, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """The message as sent."""
        said = {**_head(self), "changes": [change.to_json() for change in self.changes]}
        said |= {"cursor": self.cursor, "more": self.more, "reset": self.reset}
        if self.sums:
            said["sums"] = [f"{total:016x}" for total in self.sums]
        return said

    @classmethod
    def from_json(cls, value: Any) -> "Page":
        """Raises BrokenMessage."""
        said = _mapping(value)
        return cls(
            **_heard(said),
            changes=tuple(Change.from_json(change) for change in _list(said, "changes")),
            cursor=_text(said, "cursor", ""),
            more=said.get("more") is True,
            reset=said.get("reset") is True,
            sums=_sums(said.get("sums")),
        )


@dataclass(frozen=True)
class Snapshot(Answer):
    """Whole records by key, for the first meeting, after a reset, and to repair some buckets."""

    records: tuple[Json, ...] = ()
    after: str = ""
    more: bool = False
    cursor: str = ""
    reset: bool = False

    def to_json(self) -> dict[str, Any]:
        """The message as sent."""
        said = {**_head(self), "records": [dict(record) for record in self.records]}
        return {**said, "after": self.after, "more": self.more, "cursor": self.cursor, "reset": self.reset}

    @classmethod
    def from_json(cls, value: Any) -> "Snapshot":
        """Raises BrokenMessage."""
        said = _mapping(value)
        return cls(
            **_heard(said),
            records=tuple(_delta(record) for record in _list(said, "records")),
            after=_text(said, "after", ""),
            more=said.get("more") is True,
            cursor=_text(said, "cursor", ""),
            reset=said.get("reset") is True,
        )


def changes_in(body: Any) -> list[Change | Result]:
    """The changes of a push one by one: each a Change, or the Result that refuses what cannot be read.

    Raises BrokenMessage when it is no push at all, or one with more than CHANGES changes.
    """
    listed = _list(_mapping(body), "changes")
    if len(listed) > CHANGES:
        raise BrokenMessage(f"More than {CHANGES} changes in one message.")
    found: list[Change | Result] = []
    for raw in listed:
        try:
            found.append(Change.from_json(raw))
        except BrokenMessage as error:
            number = raw.get("number") if isinstance(raw, Mapping) else None
            if type(number) is not int or number < 1:
                raise
            found.append(Result(number, False, code="bad-change", reason=error.sentence))
    return found


def fitting(items: Iterable[T], size: Callable[[T], int], most: int, body: int = BODY) -> list[T]:
    """The first items that fit into one message: at least one, at most `most`, together `body` bytes."""
    taken: list[T] = []
    total = 0
    for item in items:
        total += size(item)
        if taken and (len(taken) >= most or total > body):
            break
        taken.append(item)
    return taken


# --- reading, carefully ---------------------------------------------------------------------------

_TABLE = re.compile(r"[a-z][a-z0-9_-]{0,39}")
_LONGEST_PATH = 500
_GREATEST = 1 << 53


def _head(answer: Answer) -> dict[str, Any]:
    return {"wire": WIRE, "epoch": answer.epoch, "now": answer.now}


def _heard(said: Json) -> dict[str, str]:
    return {"epoch": _text(said, "epoch", ""), "now": _text(said, "now", "")}


def _mapping(value: Any) -> Json:
    if type(value) is not dict and not isinstance(value, Mapping):
        raise BrokenMessage
    return value


def _list(said: Json, name: str) -> Sequence[Any]:
    value = said.get(name)
    if not isinstance(value, list | tuple):
        raise BrokenMessage(f"“{name}” is missing.")
    return value


def _text(said: Json, name: str, default: str) -> str:
    value = said.get(name, default)
    if not isinstance(value, str):
        raise BrokenMessage(f"“{name}” is no text.")
    return value


def _count(said: Json, name: str, default: int | None = None, least: int = 0) -> int:
    value = said.get(name, default)
    if type(value) is not int or not least <= value < _GREATEST:
        raise BrokenMessage(f"“{name}” is no number.")
    return value


def _more(said: Json, *known: str) -> Json:
    return {name: value for name, value in said.items() if name not in known}


def _sums(value: Any) -> tuple[int, ...]:
    if value is None:
        return ()
    try:
        sums = tuple(int(text, 16) for text in value)
    except (TypeError, ValueError) as error:
        raise BrokenMessage("“sums” are no sums.") from error
    if len(sums) != BUCKETS:
        raise BrokenMessage("“sums” are no sums.")
    return sums


def _delta(value: Any) -> Json:
    said = _mapping(value)
    table, record_id = said.get("table"), said.get("id")
    if not isinstance(table, str) or not _TABLE.fullmatch(table):
        raise BrokenMessage("A record without a table.")
    if not isinstance(record_id, str) or not 1 <= len(record_id) <= 100 or not record_id.isprintable():
        raise BrokenMessage("A record without an id.")
    for path, register in _mapping(said.get("fields")).items():
        if len(path) > _LONGEST_PATH:
            raise BrokenMessage("A field with too long a name.")
        _check_register(register)
    _check_vector(said.get("erased", {}))
    return said


def _check_register(value: Any) -> None:
    said = _mapping(value)
    _check_vector(said.get("at"))
    for written in _mapping(said.get("is")).values():
        if not isinstance(written, (list, tuple)) or not 1 <= len(written) <= 2:
            raise BrokenMessage("A value without a number.")
        _check_number(written[0], 1)
        if len(written) == 2 and type(written[1]) is not str and _is_deeper(written[1], DEEPEST):
            raise BrokenMessage("A value that is nested too deep.")


def _check_vector(value: Any) -> None:
    for n in _mapping(value).values():
        _check_number(n, 0)


def _check_number(n: Any, least: int) -> None:
    if type(n) is not int or not least <= n < _GREATEST:
        raise BrokenMessage("A change without its number.")


def _is_deeper(value: Any, levels: int) -> bool:
    kind = type(value)
    if kind is str or kind is int or not isinstance(value, Mapping | list | tuple):
        return False
    inner = value.values() if isinstance(value, Mapping) else value
    return not levels or any(_is_deeper(item, levels - 1) for item in inner)
