"""Puts a visit on paper: from the book's records to each document, as a file or as pages for the screen."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.programme.aftercare import aftercare
from logic.programme.stages import Sown, stages
from logic.records.reckon import Reckoning
from logic.records.types import Visit
from logic.records.standing import Standing
from logic.records.visits import job_of
from logic.report.aftercare_sheet import AftercareData, Care, aftercare_sheet
from logic.report.content import Party, SummaryData, from_reckoning
from logic.report.job_sheet import JobSheetData, JobStep, job_sheet
from logic.report.preview import Sheet, preview
from logic.report.quote import QuoteData, quote_paper
from logic.report.summary import summary, unprintable
from logic.report.text import missing_sentence
from mobile_app import trade
from mobile_app.app import App

_WHATS = {"water": "Water", "mow": "Cut", "feed": "Feed", "keep off": "Keep off", "visit": "We come"}


@dataclass(frozen=True)
class Made:
    """A document: its file, its pages for the screen, and one sentence on characters that can't be
    printed."""

    file: bytes
    sheets: tuple[Sheet, ...]
    warning: str


def _stood(app: App, visit: Visit) -> Standing:
    stood = app.standing(visit)
    if stood.outline is None:
        raise BadValue("outline", "Measure the green first; then there is something to put on paper.")
    return stood


def _letterhead(app: App) -> Party:
    own = app.settings
    return Party(own.firm, own.person, own.address, own.phone, own.email)


def data_of(app: App, visit: Visit) -> SummaryData:
    """What the summary of a visit says. Raises BadValue while it has not been measured."""
    stood, sward, own = _stood(app, visit), app.sward_of(visit), app.settings
    assert stood.outline is not None
    job = job_of(visit, sward, app.client_of(sward), app.pace_of(visit))
    return from_reckoning(
        Reckoning(stood.pace, stood.outline, stood.worked),
        letterhead=_letterhead(app),
        client=job["client"],
        sward=job["sward"],
        day=trade.day_of(visit),
        aftercare=aftercare(worked.operation.key for worked in stood.worked),
        notes=visit.notes,
        system=own.units,
        confidence=own.confidence,
        paper=own.paper,
        working=own.working,
    )


def _cover(app: App, visit: Visit) -> dict[str, Any]:
    data = data_of(app, visit)
    keys = ("letterhead", "client", "sward", "sward_kind", "sward_address", "day", "system", "paper", "words")
    return {key: getattr(data, key) for key in keys}


def quote_data(app: App, visit: Visit) -> QuoteData:
    """What the quote of a visit says. Raises BadValue while nothing has a price."""
    stood, made = _stood(app, visit), trade.quote(app, visit)
    if made is None or not made.counted or stood.area is None:
        raise BadValue("quote", "Nothing has a price yet: fill in your terms and prices first.")
    return QuoteData(**_cover(app, visit), quote=made, area=stood.area, notes=visit.notes)


def job_data(app: App, visit: Visit) -> JobSheetData:
    """What the job sheet of a visit says."""
    stood = _stood(app, visit)
    steps = tuple(
        JobStep(
            worked.operation.name,
            tuple(f for f in worked.figures if f.headline or f.order),
            (*worked.warnings, *(c.sentence for c in worked.cautions)),
        )
        for worked in stood.worked
    )
    bring = []
    for buying in trade.buyings(app, [visit]):
        packs = buying.packs_text or buying.need.enough.text(app.system)
        bring.append((buying.need.material.name, packs))
    sure = app.settings.confidence
    return JobSheetData(
        **_cover(app, visit),
        steps=steps,
        bring=tuple(bring),
        notes=visit.notes,
        area=stood.area,
        confidence=sure,
    )


def care_data(app: App, visit: Visit) -> AftercareData:
    """What the aftercare sheet of a visit says: dated from the day of the visit."""
    stood = _stood(app, visit)
    keys = [worked.operation.key for worked in stood.worked]
    after = stages(keys, trade.day_of(visit), _sown(stood))
    care = tuple(
        Care(line.sentence, _WHATS[line.what], line.first, line.last)
        for line in after.lines
        if not line.for_contractor
    )
    said = {one.sentence for one in care}
    care += tuple(Care(sentence) for sentence in aftercare(keys) if sentence not in said and not care)
    cautions = {c.key: c.sentence for worked in stood.worked for c in worked.cautions}
    return AftercareData(
        **_cover(app, visit), care=care, cautions=tuple(cautions.values()), notes=visit.notes
    )


def _sown(stood: Standing) -> Sown | None:
    """What was sown, as far as the works say and as it is known how long it takes."""
    known = {row["species"] for row in tables.rows("timing_germination")}
    for worked in stood.worked:
        if worked.operation.key == "overseeding":
            mixed = [row.species for row in worked.values.get("mixture") or ()]
            named = mixed or [worked.values.get("species")]
            return Sown(tuple(dict.fromkeys(name for name in named if name in known)))
    return None


_MAKERS: dict[str, tuple[Callable[[App, Visit], Any], Callable[..., bytes]]] = {
    "summary": (data_of, summary),
    "quote": (quote_data, quote_paper),
    "job": (job_data, job_sheet),
    "aftercare": (care_data, aftercare_sheet),
}


async def make(app: App, visit: Visit, key: str, progress: Callable[[float], None]) -> Made:
    """A document of the visit; the screen is let draw before the work starts. Raises SwardError."""
    data_for, maker = _MAKERS[key]
    data = data_for(app, visit)
    progress(0.2)
    await asyncio.sleep(0.05)
    file, sheets = preview(maker, data)
    progress(1.0)
    return Made(file, sheets, missing_sentence(unprintable(data)))
