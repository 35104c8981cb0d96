"""The records of the business: plain frozen declarations, and how they become documents and come back.

A document is what JSON can hold. Reading is tolerant: a missing field takes its default, a field that this
version does not know is kept in `extra` and written back, a value of the wrong kind is kept under
`extra["unread"]`, and a document from a newer version is marked `read_only` so that nobody saves over what
it cannot understand.
"""

import collections.abc
import dataclasses
import functools
import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any, ClassVar, Literal, TypeVar, get_args, get_origin, get_type_hints

#: Version of the documents written here. Raise it only when an older app must not save over a newer document.
VERSION = 1

Json = Mapping[str, Any]


def new_id() -> str:
    """A fresh record id: 32 hexadecimal digits, random."""
    return uuid.uuid4().hex


def utc_now() -> datetime:
    """The time now, aware, in UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True, kw_only=True)
class Record:
    """What every record has. Change one with `dataclasses.replace`, never in place."""

    table: ClassVar[str]
    #: What a person calls this kind of record.
    noun: ClassVar[str]

    id: str = field(default_factory=new_id)
    #: Fields that this version does not know, kept as they came.
    extra: Json = field(default_factory=dict)
    #: True when a newer version wrote the document.
    read_only: bool = False
    #: When it was last saved; set by the book.
    changed: datetime = field(default_factory=utc_now)

    @property
    def label(self) -> str:
        """A few words that name this record to a person."""
        return str(getattr(self, "name", "") or getattr(self, "title", "") or self.noun)


@dataclass(frozen=True, kw_only=True)
class Client(Record):
    """Whom the work is for."""

    table = "clients"
    noun = "client"
    name: str = ""
    email: str = ""
    phone: str = ""
    address: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Sward(Record):
    """A stretch of turf that is looked after: a green, a lawn, a tee."""

    table = "swards"
    noun = "sward"
    client_id: str = ""
    name: str = ""
    kind: str = ""
    address: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Pace(Record):
    """A person's pace, walked over a known course. `counts` and `course` are kept as typed."""

    table = "paces"
    noun = "pace"
    person: str = ""
    course: str = "20 m"
    counts: tuple[str, ...] = ()
    steps: Literal["one", "two"] = "one"
    surface: str = ""
    measured: datetime = field(default_factory=utc_now)

    @property
    def label(self) -> str:
        return f"pace of {self.person}" if self.person else self.noun


@dataclass(frozen=True, kw_only=True)
class Visit(Record):
    """One visit to a sward: readings as typed, works chosen, and where the user was when the app was left.

    outline: {"method": key, "drafts": {method: {field: text}}} (see drafts), and beside it "second", drafts
    of a second measurement and, under "levels", of levels.
    works: ({"operation": key, "way": key, "values": {field: text}}, …) in the order chosen.
    supply: what quote and buying need beside the works (see trade).
    """

    table = "visits"
    noun = "visit"
    sward_id: str = ""
    started: datetime = field(default_factory=utc_now)
    title: str = ""
    where: str = ""
    pace_id: str = ""
    outline: Json = field(default_factory=dict)
    works: tuple[Json, ...] = ()
    notes: str = ""
    closing: Json = field(default_factory=dict)
    supply: Json = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Supplier(Record):
    """Who sells materials. lead_days is kept as typed; note: who has the sports sand, who lifts over a
    hedge."""

    table = "suppliers"
    noun = "supplier"
    name: str = ""
    phone: str = ""
    lead_days: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Product(Record):
    """A pack of a material at a supplier, and what of it stands in the store. All but the keys is kept as
    typed.

    material: key of a material ("sand", "seed:browntop_bent"); pack: "25 kg"; priced: the day of the price;
    stock: "37 kg"; best_before: "2027-03-01".
    """

    table = "products"
    noun = "product"
    material: str = ""
    name: str = ""
    supplier_id: str = ""
    pack: str = ""
    price: str = ""
    currency: str = ""
    priced: str = ""
    delivery: str = ""
    fewest: str = ""
    stock: str = ""
    best_before: str = ""


@dataclass(frozen=True, kw_only=True)
class Settings(Record):
    """The user's own firm and preferences: one record, always with the id "settings"."""

    table = "settings"
    noun = "settings"
    id: str = "settings"
    firm: str = ""
    person: str = ""
    phone: str = ""
    email: str = ""
    address: str = ""
    units: Literal["metric", "imperial", "us"] = "metric"
    confidence: float = 0.9
    theme: Literal["system", "light", "dark"] = "system"
    plain_start: bool = False
    paper: Literal["a4", "letter"] = "a4"
    working: bool = True
    business: Json = field(default_factory=dict)
    vehicle: Json = field(default_factory=dict)
    barrow: Json = field(default_factory=dict)
    seen: Json = field(default_factory=dict)


RecordT = TypeVar("RecordT", bound=Record)

KINDS: Mapping[str, type[Record]] = {
    kind.table: kind for kind in (Client, Sward, Pace, Visit, Supplier, Product, Settings)
}


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
