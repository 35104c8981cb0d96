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


@dataclass(frozen=True, kw_only=True)
class SummaryData(Cover):
    """A customer summary. confidence: how sure an amount to order has to be enough (0.5 to 0.999).

    findings: readings taken; spots: where, for a map; charts, core, photos: drawn when there are any;
    working: whether "how we worked this out" follows.
    """

    outline: Outline
    method: str
    works: tuple[Section, ...]
    aftercare: tuple[str, ...] = ()
    notes: str = ""
    confidence: float = DEFAULT_CONFIDENCE
    findings: tuple[Section, ...] = ()
    spots: tuple[Spot, ...] = ()
    charts: tuple[Chart, ...] = ()
    core: tuple[CoreLayer, ...] = ()
    photos: tuple[Photo, ...] = ()
    working: bool = True

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions of all works, once each."""
        return tuple({c.key: c for work in self.works for c in work.cautions}.values())

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that a person typed."""
        notes = tuple(note for work in (*self.findings, *self.works) for note in work.notes)
        captions = tuple(photo.caption for photo in self.photos)
        return (*super().texts, self.notes, *self.aftercare, *notes, *captions)


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
