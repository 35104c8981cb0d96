"""What a customer summary is made from: plain values that the app and the command line both fill in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

from logic.figure import Figure
from logic.measure.methods import method_named
from logic.measure.outline import Outline
from logic.records.reckon import DEFAULT_CONFIDENCE, Reckoning
from logic.report.charts import Chart
from logic.report.photos import Photo
from logic.report.profile import CoreLayer
from logic.report.words import ENGLISH, Words
from logic.works.operation import Caution


@dataclass(frozen=True)
class Party:
    """Someone's name and how to reach them: a firm's letterhead, or a client. Address lines by "\\n"."""

    name: str = ""
    person: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""

    @property
    def texts(self) -> tuple[str, ...]:
        """All of it that is filled in."""
        return tuple(t for t in (self.name, self.person, self.address, self.phone, self.email) if t.strip())


@dataclass(frozen=True, kw_only=True)
class Cover:
    """What the head of every paper says. day: of the visit, or of the paper; system: of units; paper: "a4" or
    "letter"."""

    letterhead: Party
    client: Party
    sward: str
    sward_kind: str = ""
    sward_address: str = ""
    day: date
    system: str = "metric"
    paper: Literal["a4", "letter"] = "a4"
    words: Words = ENGLISH

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that a person typed."""
        own = (self.sward, self.sward_kind, self.sward_address)
        return (*self.letterhead.texts, *self.client.texts, *own)


@dataclass(frozen=True)
class Section:
    """One operation or reading: its name, figures, cautions, and notes (sentences)."""

    name: str
    figures: tuple[Figure, ...]
    cautions: tuple[Caution, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def shown(self) -> tuple[Figure, ...]:
        """The figures that a customer wants; all others stand in the working."""
        return tuple(f for f in self.figures if f.headline) or self.figures[:3]


@dataclass(frozen=True)
class Spot:
    """A point of a readings map: place on the ground [m] and what was found there."""

    x: float
    y: float
    text: str


@dataclass(frozen=True)
class ReadingsMap:
    """Readings of one kind at their places."""

    title: str
    spots: tuple[Spot, ...]


@dataclass(frozen=True)
class Care:
    """One thing to do: a sentence, a few words for the strip, and when; start None: at all times."""

    sentence: str
    name: str = ""
    start: date | None = None
    end: date | None = None


@dataclass(frozen=True)
class Amount:
    """An amount planned, what was used ("" where it was not written down), and why it differs."""

    name: str
    planned: str
    used: str = ""
    reason: str = ""


@dataclass(frozen=True)
class Done:
    """A step of the day as it went: when and with what in a line of facts, amounts, and what was noted."""

    name: str
    facts: str = ""
    amounts: tuple[Amount, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text of it."""
        amounts = tuple(t for a in self.amounts for t in (a.name, a.planned, a.used, a.reason))
        return (self.name, self.facts, *self.notes, *amounts)


@dataclass(frozen=True)
class Agreed:
    """Something that was agreed besides: what, by whom, on which day."""

    words: str
    name: str = ""
    day: date | None = None


@dataclass(frozen=True)
class Signature:
    """A name drawn on the screen: strokes of points in shares of the box's width, y down."""

    name: str
    day: date | None
    strokes: tuple[tuple[tuple[float, float], ...], ...]


@dataclass(frozen=True, kw_only=True)
class SummaryData(Cover):
    """A customer summary. confidence: how sure an amount to order has to be enough (0.5 to 0.999).

    findings: readings taken; maps: where; charts, core, photos: drawn when there are any; done: the day as it
    went; agreed: what was agreed besides; care: the weeks after, by their days (aftercare: sentences without
    days); working: whether "how we worked this out" follows.
    """

    outline: Outline
    method: str
    works: tuple[Section, ...]
    aftercare: tuple[str, ...] = ()
    notes: str = ""
    confidence: float = DEFAULT_CONFIDENCE
    findings: tuple[Section, ...] = ()
    maps: tuple[ReadingsMap, ...] = ()
    charts: tuple[Chart, ...] = ()
    core: tuple[CoreLayer, ...] = ()
    photos: tuple[Photo, ...] = ()
    done: tuple[Done, ...] = ()
    agreed: tuple[Agreed, ...] = ()
    care: tuple[Care, ...] = ()
    signature: Signature | None = None
    working: bool = True

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions of all readings and works, once each."""
        return tuple({c.key: c for work in (*self.findings, *self.works) for c in work.cautions}.values())

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that a person typed."""
        notes = tuple(note for work in (*self.findings, *self.works) for note in work.notes)
        names = tuple(section.name for section in self.findings)
        captions = tuple(photo.caption for photo in self.photos)
        layers = tuple(layer.name for layer in self.core)
        done = tuple(text for one in self.done for text in one.texts)
        agreed = tuple(text for one in self.agreed for text in (one.words, one.name))
        signed = (self.signature.name,) if self.signature else ()
        own = (*names, *notes, *captions, *layers, *done, *agreed, *signed)
        return (*super().texts, self.notes, *self.aftercare, *own)


def from_reckoning(
    reckoning: Reckoning,
    *,
    letterhead: Party,
    client: Mapping[str, Any],
    sward: Mapping[str, Any],
    day: date,
    **more: Any,
) -> SummaryData:
    """The summary of a job that has been worked out.

    client, sward: as in the job file; more: further fields of SummaryData (aftercare, notes, system, …).
    """
    fields = {key: str(client.get(key) or "") for key in ("name", "address", "phone", "email")}
    return SummaryData(
        letterhead=letterhead,
        client=Party(**fields),
        sward=str(sward.get("name") or ""),
        sward_kind=str(sward.get("kind") or ""),
        sward_address=str(sward.get("address") or ""),
        day=day,
        outline=reckoning.outline,
        method=method_named(reckoning.outline.method).name,
        works=tuple(Section(w.operation.name, w.figures, w.cautions, w.warnings) for w in reckoning.works),
        **more,
    )
