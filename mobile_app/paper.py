"""Puts a visit on paper: from the book's records to each document, as a file or as pages for the screen."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from logic.errors import BadValue, SwardError
from logic.programme.aftercare import aftercare
from logic.programme.care import care_of
from logic.programme.day_json import from_json
from logic.programme.season import strips
from logic.programme.stages import Stages
from logic.programme.when import climate_read
from logic.records import surveyed
from logic.records.reckon import Reckoning
from logic.records.standing import Standing
from logic.records.types import Photo, Visit
from logic.records.visits import job_of
from logic.report import photos as printed
from logic.report.aftercare_sheet import AftercareData, AftercareWriter
from logic.report.content import Care, Party, SummaryData, from_reckoning
from logic.report.from_day import agreed_of, care_lines, done_of, signature_of
from logic.report.from_survey import charts_of, core_of, findings_of, maps_of
from logic.report.job_sheet import JobSheetData, JobSheetWriter, JobStep
from logic.report.preview import Pages, Sheet
from logic.report.quote import QuoteData, QuoteWriter
from logic.report.season_plan import PlanItem, SeasonData, SeasonWriter, season_items
from logic.report.summary import SummaryWriter, unprintable
from logic.report.text import missing_sentence
from logic.report.writer import Writer
from logic.survey.history import Past, Trend, trends
from logic.works.operations import operations
from mobile_app import photos, programme, trade
from mobile_app.app import App

_TURN = 0.25  # seconds of work between two turns for the screen, each of which costs a drawing


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
    """What the summary of a visit says, but for its photos. Raises BadValue while it is not measured."""
    stood, sward, own = _stood(app, visit), app.sward_of(visit), app.settings
    assert stood.outline is not None
    job = job_of(visit, sward, app.client_of(sward), app.pace_of(visit))
    held = surveyed.held(visit, sward, stood.outline, stood.pace)
    names = [_name(str(entry.get("operation"))) for entry in visit.works]
    return from_reckoning(
        Reckoning(stood.pace, stood.outline, stood.worked),
        letterhead=_letterhead(app),
        client=job["client"],
        sward=job["sward"],
        day=trade.day_of(visit),
        aftercare=aftercare(worked.operation.key for worked in stood.worked),
        care=care_lines(_stages(visit)),
        notes=visit.notes,
        system=own.units,
        confidence=own.confidence,
        paper=own.paper,
        working=own.working,
        findings=findings_of(held),
        maps=maps_of(held, own.units),
        core=core_of(held),
        charts=charts_of(_trends(app, visit), own.units),
        done=done_of(from_json(visit.day), own.units),
        agreed=agreed_of(visit.works, names, visit.agreed),
        signature=signature_of(visit.signature),
    )


def _name(key: str) -> str:
    found = operations().get(key)
    return found.name if found else key


def _stages(visit: Visit) -> Stages:
    return care_of(visit.works, visit.day, visit.care, trade.day_of(visit))


def _trends(app: App, visit: Visit) -> Sequence[Trend]:
    """How the sward's readings went, up to this visit."""
    past: list[Past] = []
    for one in app.book.visits_of(visit.sward_id):
        if one.started <= visit.started and (one.readings or one.outline.get("levels")):
            stood = app.standing(one)
            held = surveyed.held(one, app.sward_of(one), stood.outline, stood.pace)
            past += surveyed.past(one, held)
    try:
        return trends(past)
    except SwardError:  # readings that can't be compared have no trend
        return ()


async def _printed(app: App, visit: Visit) -> tuple[printed.Photo, ...]:
    """The visit's photos with their bytes."""
    shown = photos.photos_of(app, visit.id)
    data = await photos.data_of(app, shown)
    return tuple(
        printed.Photo(
            data[photo.sha256],
            photo.caption,
            _taken_on(photo),
            "before" if photo.moment == "before" else "after" if photo.moment == "after" else "",
            photo.pair,
        )
        for photo in shown
    )


def _taken_on(photo: Photo) -> date | None:
    try:
        return datetime.fromisoformat(photo.taken).date()
    except ValueError:
        return None


def _cover(app: App, visit: Visit) -> dict[str, Any]:
    data = data_of(app, visit)
    keys = ("letterhead", "client", "sward", "sward_kind", "sward_address", "day", "system", "paper", "words")
    return {key: getattr(data, key) for key in keys}


def quote_data(app: App, visit: Visit) -> QuoteData:
    """What the quote of a visit says. Raises BadValue while nothing has a price."""
    stood, made = _stood(app, visit), trade.quote(app, visit)
    if made is None or not made.counted or stood.area is None:
        raise BadValue("quote", "Nothing has a price yet: fill in your terms and prices first.")
    return QuoteData(
        **_cover(app, visit),
        quote=made,
        area=stood.area,
        notes=visit.notes,
        signature=signature_of(visit.signature),
    )


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
        bring.append((buying.need.material.name, packs.replace(", ", ",\n")))
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
    """What the aftercare sheet of a visit says: dated from the day that the aftercare begins."""
    stood, found = _stood(app, visit), _stages(visit)
    care = care_lines(found)
    if not care:
        care = tuple(Care(sentence) for sentence in aftercare(w.operation.key for w in stood.worked))
    cautions = {c.key: c.sentence for worked in stood.worked for c in worked.cautions}
    return AftercareData(
        **_cover(app, visit),
        care=care,
        normal=found.normal,
        ring=found.ring,
        cautions=tuple(cautions.values()),
        notes=visit.notes,
    )


def season_data(app: App, visit: Visit) -> SeasonData:
    """What the season plan of a visit's sward says: the year from that month on. Raises BadValue while the
    year's temperatures are not known."""
    climate = climate_read(programme.climate(app, visit))
    if climate is None:
        raise BadValue("climate", "Type the temperatures of this green's year first; then it can be planned.")
    first = trade.day_of(visit).replace(day=1)
    names = {key: one.name for key, one in operations().items()}
    own = tuple(
        PlanItem(one.name, one.first, one.last, "care", one.sentence) for one in _stages(visit).visits
    )
    return SeasonData(**_cover(app, visit), items=(*season_items(strips(climate), names, first), *own))


_WRITERS: dict[str, tuple[Callable[[App, Visit], Any], Callable[[Any], Writer]]] = {
    "summary": (data_of, SummaryWriter),
    "quote": (quote_data, QuoteWriter),
    "job": (job_data, JobSheetWriter),
    "aftercare": (care_data, AftercareWriter),
    "season": (season_data, SeasonWriter),
}


async def make(
    app: App, visit: Visit, key: str, progress: Callable[[float], None], look: bool = True
) -> Made:
    """A document of the visit, with its pages for the screen if one is to `look` at them; the screen has its
    turn all along. Raises SwardError."""
    data_for, writer = _WRITERS[key]
    data = data_for(app, visit)
    if isinstance(data, SummaryData):
        data = replace(data, photos=await _printed(app, visit))
    progress(0.1)
    await asyncio.sleep(0)
    pages = Pages()
    making = writer(data).making(pages.watch if look else None)
    loop = asyncio.get_running_loop()
    turn = loop.time()
    while True:
        try:
            share = next(making)
        except StopIteration as made:
            file = made.value
            break
        if loop.time() - turn > _TURN:
            progress(0.1 + 0.9 * share)
            await asyncio.sleep(0)
            turn = loop.time()
    return Made(file, pages.finished, missing_sentence(unprintable(data)))
