"""The records of the business: plain frozen declarations. How they become documents is documents.py's."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any, ClassVar, Literal, TypeVar

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
    contacts: tuple[Json, ...] = ()
    consent: Json = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Site(Record):
    """A client's place: how to get in, where the water is, what is dangerous or buried there."""

    table = "sites"
    noun = "site"
    client_id: str = ""
    name: str = ""
    address: str = ""
    access: str = ""
    water_point: str = ""
    hazards: str = ""
    buried: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Sward(Record):
    """A stretch of turf that is looked after: a green, a lawn, a tee.

    climate: what its own log says of its year, as typed (see logic.programme): monthly temperatures, place
    on earth.
    """

    table = "swards"
    noun = "sward"
    client_id: str = ""
    site_id: str = ""
    name: str = ""
    kind: str = ""
    address: str = ""
    note: str = ""
    grass: str = ""
    profile: str = ""
    climate: Json = field(default_factory=dict)


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
    An entry of works may also hold "why" [sentences] (from the programme) and "agreed" {"words", "name",
    "at"} (a second-best machine or another variation that the customer agreed to).
    supply: what quote and buying need beside the works (see trade).
    readings: taken on the green, as typed (see logic.survey.stored).
    programme: {"wishes": [...], ...}, what the plan was made from beside the readings.
    day: what was done and when (see logic.programme.day_json).
    care: aftercare as agreed: start, choices (see logic.programme.stages).
    agreed: variations of the whole job: ({"words", "name", "at"}, …).
    signature: {"name", "at", "strokes": [[[x, y], …], …]} as drawn on the screen, shares of its width.
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
    readings: tuple[Json, ...] = ()
    programme: Json = field(default_factory=dict)
    day: Json = field(default_factory=dict)
    care: Json = field(default_factory=dict)
    agreed: tuple[Json, ...] = ()
    signature: Json = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Photo(Record):
    """A photo of a visit: what is said about it. Its bytes are kept by their hash, beside the book.

    sha256: of the JPEG kept; width, height [px] and size [bytes] as text of digits; moment: "before", "after"
    or ""; pair: what a before and an after share; step: id of a day's step; reading: id of a reading;
    taken: when, as the phone said; place: "51.5, -0.1", kept only when the user wants it.
    """

    table = "photos"
    noun = "photo"
    visit_id: str = ""
    sha256: str = ""
    size: str = ""
    width: str = ""
    height: str = ""
    caption: str = ""
    moment: str = ""
    pair: str = ""
    step: str = ""
    reading: str = ""
    taken: str = ""
    place: str = ""

    @property
    def label(self) -> str:
        return f"photo {self.caption}" if self.caption else self.noun


@dataclass(frozen=True, kw_only=True)
class Machine(Record):
    """A machine of one's own, with the figures of its plate or hand-book, as typed.

    works: the operations it is used for; vibration at the handle [m/s²] and noise at the ear [dB(A)];
    source: where the two figures are from.
    """

    table = "machines"
    noun = "machine"
    name: str = ""
    works: tuple[str, ...] = ()
    vibration: str = ""
    noise: str = ""
    source: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Message(Record):
    """A document on its way to somebody by e-mail: one entry of the outbox.

    paper: {"kind", "name", "sha256", "size"} of the PDF, whose bytes are kept by their hash; state:
    "waiting", "queued", "sent", "refused" or "unknown"; said: the mail server's words.
    """

    table = "messages"
    noun = "message"
    visit_id: str = ""
    to: tuple[str, ...] = ()
    subject: str = ""
    body: str = ""
    paper: Json = field(default_factory=dict)
    state: str = "waiting"
    said: str = ""

    @property
    def label(self) -> str:
        return f"message {self.subject}" if self.subject else self.noun


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
    """The user's own firm and preferences: one record, always with the id "settings".

    photo_place: whether a photo keeps where on earth it was taken.
    """

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
    photo_place: bool = False
    business: Json = field(default_factory=dict)
    vehicle: Json = field(default_factory=dict)
    barrow: Json = field(default_factory=dict)
    seen: Json = field(default_factory=dict)


RecordT = TypeVar("RecordT", bound=Record)

KINDS: Mapping[str, type[Record]] = {
    kind.table: kind
    for kind in (Client, Site, Sward, Pace, Visit, Photo, Machine, Message, Supplier, Product, Settings)
}
