"""Every paper of the project for one invented job, plain and at its worst, and photos made of nothing."""

import io
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from PIL import Image

from logic.figure import figure, step
from logic.report.aftercare_sheet import AftercareData, aftercare_sheet
from logic.report.charts import Chart
from logic.report.content import Agreed, Amount, Care, Done, ReadingsMap, Signature, Spot, SummaryData
from logic.report.job_sheet import JobSheetData, JobStep, job_sheet
from logic.report.photos import Photo
from logic.report.profile import CoreLayer
from logic.report.quote import QuoteData, quote_paper
from logic.report.season_plan import PlanItem, SeasonData, season_plan
from logic.report.summary import summary
from logic.supply.estimate import Extra
from logic.supply.money import money
from logic.supply.quote import Line, advance, with_variation
from tests.logic.report.samples import FIRM, summary_data
from tests.logic.supply.samples import buyings, sample_estimate, terms

DAY = date(2026, 9, 14)


def jpeg(
    width: int = 640, height: int = 480, colour: tuple[int, int, int] = (60, 110, 60), exif: int = 0
) -> bytes:
    """A photo with a bright stripe along its upper edge, told to be turned by Exif when `exif` says so."""
    picture = Image.new("RGB", (width, height), colour)
    picture.paste((240, 240, 90), (0, 0, width, height // 6))
    out, more = io.BytesIO(), {}
    if exif:
        tags = picture.getexif()
        tags[0x0112] = exif
        more = {"exif": tags.tobytes()}
    picture.save(out, "JPEG", quality=80, **more)
    return out.getvalue()


def height_of_cut(day: date, mm: float) -> tuple[date, Any]:
    return day, figure("height_of_cut", "Height of cut", mm, "mm", step("read off the gauge"))


CHART = Chart(
    "Height of cut",
    tuple(height_of_cut(DAY - timedelta(days=30 * n), 5 + 0.6 * n) for n in range(5)),
    wanted=(height_of_cut(DAY, 4.0)[1], height_of_cut(DAY, 6.0)[1]),
)
CORE = tuple(
    CoreLayer(name, *(figure("depth", "Depth", mm, "mm", step("read off the core")) for mm in depths))
    for name, depths in (
        ("Leaf and thatch", (0, 12)),
        ("Sand", (12, 40)),
        ("Black layer", (40, 44)),
        ("Loam", (44, 150)),
    )
)
SPOTS = tuple(Spot(x, y, f"{10 + x:.0f}") for x in (-5.0, 0.0, 4.0) for y in (-2.0, 1.5))
PHOTOS = (
    Photo(jpeg(), "From the gate", DAY, "before"),
    Photo(jpeg(480, 640, (150, 130, 70)), "From the gate", DAY, "after"),
    Photo(jpeg(900, 300), "The core"),
)


CARE = (
    Care("Water lightly, two to four times a day, until the seed is up.", "Water", DAY, date(2026, 10, 2)),
    Care("Keep people and pets off.", "Keep off", DAY, date(2026, 10, 20)),
    Care("First cut, a third above the height it is to be kept at.", "First cut", date(2026, 10, 6)),
    Care("Then every fourth day.", "First cut", date(2026, 10, 10), date(2026, 10, 30)),
    Care("Never take more than a third of the leaf at once."),
)
DONE = (
    Done(
        "Hollow coring",
        "09:10 to 10:35, 72 min at work, hollow-tine corer, 1 pass",
        (Amount("Cores to clear", "58 L", "64 L", "The tines went in deeper at the north end."),),
        ("Two hollows left for the levelling.",),
    ),
    Done(
        "Overseeding",
        "10:50 to 11:20, 28 min at work",
        (Amount("Seed to weigh out", "665 g"), Amount("Carrier", "5.3 kg", "5.5 kg")),
    ),
    Done("Drenching", "Left out: rain was on its way"),
)
AGREED = (Agreed("Solid tines instead of hollow ones at the north end.", "Imelda Quillfeather", DAY),)
SIGNED = Signature(
    "Imelda Quillfeather",
    DAY,
    (((0.1, 0.2), (0.15, 0.05), (0.2, 0.22), (0.3, 0.1), (0.45, 0.2), (0.7, 0.12)), ((0.5, 0.05),)),
)


def full_summary(**more: Any) -> SummaryData:
    given: dict[str, Any] = {
        "charts": (CHART,),
        "core": CORE,
        "photos": PHOTOS,
        "done": DONE,
        "agreed": AGREED,
        "care": CARE,
        "signature": SIGNED,
        "maps": (ReadingsMap("Moisture", SPOTS), ReadingsMap("Firmness", SPOTS)),
        **more,
    }
    return summary_data(**given)


def cover(**more: Any) -> dict[str, Any]:
    """What every paper's head says."""
    data = summary_data()
    keys = ("letterhead", "client", "sward", "sward_kind", "sward_address", "day", "system", "paper", "words")
    return {**{key: getattr(data, key) for key in keys}, **more}


def quote_data(**more: Any) -> QuoteData:
    offered = Extra("mow", "First two cuts of the new grass", money(60, terms().currency), option=True)
    hired = Extra("hire", "Corer, one day", money(85, terms().currency), "hire")
    made = sample_estimate(extras=(hired, offered)).quote
    return QuoteData(**cover(), **{"quote": made, "area": summary_data().outline.area, **more})


def done_quote() -> QuoteData:
    accepted = advance(quote_data().quote, "accepted", DAY)
    extra = Line(
        "more", "Two more bags of sand", money("12.40", accepted.currency), tax_rate=terms().tax_rate
    )
    return quote_data(quote=advance(with_variation(accepted, extra), "done", DAY))


def job_data(**more: Any) -> JobSheetData:
    data = summary_data()
    steps = tuple(
        JobStep(
            work.name,
            tuple(f for f in work.figures if f.headline or f.order),
            tuple(c.sentence for c in work.cautions),
        )
        for work in data.works
    )
    bring = tuple((b.need.material.name, b.packs_text) for b in buyings() if b.bought)
    given = {"steps": steps, "bring": bring, "area": data.outline.area, "notes": data.notes, **more}
    return JobSheetData(**cover(), **given)


def care_data(**more: Any) -> AftercareData:
    given = {
        "care": CARE,
        "normal": ("Sand shows for some days.",),
        "ring": ("Seed lies bare after rain.",),
        "cautions": ("Wash hands after feeding.",),
    }
    return AftercareData(**cover(), **{**given, **more})


def season_data(**more: Any) -> SeasonData:
    items = (
        PlanItem("Feed, spring", date(2026, 3, 20), date(2026, 4, 5), "work", "When the soil reaches 8 °C."),
        PlanItem("Verticut", date(2026, 5, 4), date(2026, 8, 28), "possible"),
        PlanItem(
            "Core, seed and dress", date(2026, 9, 7), date(2026, 9, 11), "work", "Two days of dry weather."
        ),
        PlanItem("Water the seed in", date(2026, 9, 12), date(2026, 10, 3), "care"),
    )
    return SeasonData(**cover(), **{"items": items, **more})


Maker = Callable[..., bytes]
PAPERS: dict[str, tuple[Maker, Callable[..., Any]]] = {
    "summary": (summary, full_summary),
    "quote": (quote_paper, quote_data),
    "job": (job_sheet, job_data),
    "aftercare": (aftercare_sheet, care_data),
    "season": (season_plan, season_data),
}
LONG = (
    "Sir Bartholomew Fotheringay-Montmorency of the Greater Lower Upper Wending Bowling and Croquet Green "
    * 2
)
ODD = "緑の芝生 ירוק 😀 <b>&</b> {name} %s"


def at_its_worst(name: str, text: str, count: int = 40) -> Any:
    """A paper whose every text is `text`, with `count` entries of everything."""
    data = PAPERS[name][1]()
    firm = replace(FIRM, name=text, person=text, address=text, phone=text, email=text)
    data = replace(data, letterhead=firm, client=firm, sward=text, sward_kind=text, sward_address=text)
    if name == "summary":
        works = tuple(replace(work, name=text, notes=(text,) * 3) for work in data.works)
        photos = tuple(replace(photo, caption=text) for photo in data.photos)
        core = tuple(replace(layer, name=text) for layer in data.core)
        works *= -(-count // len(works))
        chart = replace(data.charts[0], title=text, note=text)
        amount = Amount(text, text, text, text)
        return replace(
            data,
            works=works,
            notes=text,
            photos=photos,
            core=core,
            charts=(chart,) * 3,
            aftercare=(text,) * 5,
            maps=tuple(replace(one, title=text) for one in data.maps),
            done=(Done(text, text, (amount,) * 3, (text,) * 3),) * count,
            agreed=(Agreed(text, text, DAY),) * 3,
            care=tuple(replace(data.care[n % 5], sentence=text, name=text) for n in range(count)),
            signature=replace(SIGNED, name=text),
        )
    if name == "quote":
        lines = tuple(
            replace(data.quote.lines[n % 5], key=f"l{n}", name=text, detail=text, option=n % 4 == 3)
            for n in range(count)
        )
        return replace(data, quote=replace(data.quote, lines=lines, terms=text, number=text), notes=text)
    if name == "job":
        steps = tuple(replace(data.steps[n % 6], name=text, mind=(text,)) for n in range(count))
        return replace(data, steps=steps, bring=((text, text),) * 20, notes=text)
    if name == "aftercare":
        return replace(
            data, care=tuple(replace(data.care[n % 4], sentence=text, name=text) for n in range(count))
        )
    return replace(
        data,
        items=tuple(replace(data.items[n % 4], name=f"{text} {n}", note=text) for n in range(count)),
        notes=text,
    )
