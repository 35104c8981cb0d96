"""How records become documents, which are what JSON can hold, and come back.

Reading is tolerant: a missing field takes its default, a field that this version does not know is kept in
`extra` and written back, a value of the wrong kind is kept under `extra["unread"]`, and a document from a
newer version is marked `read_only` so that nobody saves over what it cannot understand.
"""

import collections.abc
import dataclasses
import functools
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any, Literal, get_args, get_origin, get_type_hints

from logic.records.types import KINDS, VERSION, Json, Record, RecordT


def to_doc(record: Record) -> dict[str, Any]:
    """The document of a record, sharing nothing with it; fields of other versions go back as they came."""
    doc: dict[str, Any] = {**copy_json(record.extra), "v": VERSION}
    for name in _readers(record.table):
        value = getattr(record, name)
        doc[name] = value.astimezone(UTC).isoformat() if isinstance(value, datetime) else copy_json(value)
    return doc


def from_doc(kind: type[RecordT], doc: Json) -> RecordT:
    """The record in a document; a missing, unknown or odd field never makes it fail (see the module)."""
    values: dict[str, Any] = {}
    readers = _readers(kind.table)
    extra = {key: copy_json(raw) for key, raw in doc.items() if key not in readers and key != "v"}
    for name, read in readers.items():
        if name not in doc:
            continue
        try:
            values[name] = read(doc[name])
        except (TypeError, ValueError):
            extra.setdefault("unread", {})[name] = copy_json(doc[name])
    version = doc.get("v", VERSION)
    newer = not isinstance(version, int) or version > VERSION
    return kind(**values, extra=extra, read_only=newer)


def copy_json(value: Any) -> Any:
    """A deep copy of a JSON value; tuples come out as lists."""
    # Asked for by exact type first: this runs for every value of every save, in a slow Python.
    kind = type(value)
    if kind is str or value is None:
        return value
    if kind is dict or isinstance(value, Mapping):
        return {key: copy_json(item) for key, item in value.items()}
    if kind is list or kind is tuple:
        return [copy_json(item) for item in value]
    return value


@functools.cache
def _readers(table: str) -> Mapping[str, Callable[[Any], Any]]:
    """For each field that is written to the document, the function that takes it out again."""
    kind = KINDS[table]
    hints = get_type_hints(kind)
    names = [item.name for item in dataclasses.fields(kind) if item.name not in ("extra", "read_only")]
    return {name: _reader(hints[name]) for name in names}


def _reader(hint: Any) -> Callable[[Any], Any]:
    if get_origin(hint) is Literal:
        return functools.partial(_one_of, get_args(hint))
    if get_origin(hint) is tuple:
        return functools.partial(_tuple_of, _reader(get_args(hint)[0]))
    return _READERS[get_origin(hint) or hint]


def _one_of(words: tuple[str, ...], value: Any) -> str:
    if value not in words:
        raise ValueError(value)
    return str(value)


def _tuple_of(read: Callable[[Any], Any], value: Any) -> tuple[Any, ...]:
    if not isinstance(value, list | tuple):
        raise TypeError(value)
    return tuple(read(item) for item in value)


def _text(value: Any) -> str:
    if type(value) is str:
        return value
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise TypeError(value)
    return str(value)


def _flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise TypeError(value)
    return value


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError(value)
    return float(value)


def _moment(value: Any) -> datetime:
    moment = datetime.fromisoformat(value)
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)


def _mapping(value: Any) -> Json:
    if type(value) is not dict and not isinstance(value, Mapping):
        raise TypeError(value)
    copied: Json = copy_json(value)
    return copied


_READERS: Mapping[Any, Callable[[Any], Any]] = {
    str: _text,
    bool: _flag,
    float: _number,
    datetime: _moment,
    collections.abc.Mapping: _mapping,
}
