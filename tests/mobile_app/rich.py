"""A green with a past: three visits with readings, a day done, photos, what was agreed, a signature."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from PIL import Image, ImageDraw

from logic.programme.day import Day, act
from logic.programme.day_json import to_json
from logic.records.drafts import draft_of
from logic.records.types import Photo, Settings, Site, Sward, Visit
from logic.records.visits import with_work, with_work_value
from mobile_app import day
from tests.mobile_app.stand import Stand

AIR = ["4", "4.5", "6", "8", "11.5", "14.5", "16.5", "16", "14", "10.5", "7", "5"]
START = datetime(2026, 9, 14, 8, 5, tzinfo=UTC)
OVAL = {"method": "ellipse", "length": "15.5 m", "width": "9.2 m"}
WORKS: tuple[tuple[str, Mapping[str, Any]], ...] = (
    (
        "coring",
        {"tine_diameter": "12 mm", "depth": "75 mm", "spacing_across": "5 cm", "spacing_along": "5 cm"},
    ),
    ("overseeding", {"rate": "8 g/m^2", "species": "browntop_bent"}),
    ("topdressing", {"depth": "2 mm"}),
    ("drenching", {"product_rate": "20 L/ha", "water_rate": "0.4 L/m^2", "tank": "15 L"}),
)
LAYERS = [
    {"layer_from": "0 mm", "layer_to": "11 mm", "layer": "thatch"},
    {"layer_from": "11 mm", "layer_to": "38 mm", "layer": "sand"},
    {"layer_from": "38 mm", "layer_to": "42 mm", "layer": "black"},
    {"layer_from": "42 mm", "layer_to": "140 mm", "layer": "soil"},
]
PLACES = {(-5.0, 1.0): 24, (-1.0, 2.5): 21, (2.0, -2.0): 18.5, (5.0, 1.0): 15, (0.0, 0.0): 20}
SIGNATURE = {
    "name": "Imelda Quillfeather",
    "at": (START + timedelta(hours=8)).isoformat(),
    "strokes": [
        [[0.1 + n / 90, 0.15 + 0.07 * ((n * 7) % 5 - 2) / 2 - n / 900] for n in range(40)],
        [[0.2, 0.25], [0.55, 0.22]],
    ],
}


def reading(kind: str, at: datetime, x: float | None = None, y: float | None = None, **values: Any) -> Any:
    """A reading as the book keeps it."""
    made = {"id": f"{kind}-{x}-{y}", "kind": kind, "at": at.isoformat(), "x": x, "y": y, "photos": []}
    return {**made, "note": "", "values": values}


def earlier(sward: Sward, days: int, height: str, organic: str, grass: int) -> Visit:
    """A visit `days` before the renovation, with what was read then."""
    at = START - timedelta(days=days)
    return Visit(
        sward_id=sward.id,
        started=at,
        outline=draft_of(OVAL),
        readings=(
            reading("height_of_cut", at, readings=[height, height]),
            reading("organic_matter", at, way="result", percent=organic, method="whole_440"),
            reading("cover", at, grass=str(grass), moss=str(100 - grass)),
        ),
    )


def picture(number: int, after: bool) -> bytes:
    """A made-up view of a green: sky, hedge, a turf that is brown before and green after."""
    view = Image.effect_noise((1600, 1200), 60).convert("RGB")
    turf = (70, 140, 60) if after else (150, 130, 70)
    drawn = ImageDraw.Draw(view)
    drawn.rectangle((0, 0, 1600, 420), fill=(190, 215, 235))
    drawn.rectangle((0, 360, 1600, 520), fill=(40, 70, 40))
    drawn.ellipse((120, 480, 1500, 1180), fill=turf)
    drawn.line((900 + 20 * number, 380, 900 + 20 * number, 760), fill=(230, 230, 230), width=8)
    out = io.BytesIO()
    Image.blend(view, Image.effect_noise((1600, 1200), 60).convert("RGB"), 0.12).save(out, "JPEG", quality=72)
    return out.getvalue()


async def rich(hand: Stand, pairs: int = 2) -> Visit:
    """Puts all of it into the book and takes the visit in hand."""
    app = hand.app
    app.edit_settings(
        Settings(
            firm="Hartwell Fine Turf",
            person="Rowan Hartwell",
            address="Unit 3, Sedge Yard\nLower Ashcombe",
            phone="01632 960123",
            email="rowan@hartwell.example.com",
            business={"hourly": "£32", "tax_rate": "20 %", "profit": "25 %"},
        )
    )
    visit = hand.open_visit("Back putting green")
    sward = replace(app.sward_of(visit), kind="putting green", climate={"air": AIR})
    client = app.client_of(sward)
    assert client is not None
    client = replace(client, name="Imelda Quillfeather", address="The Old Rectory\nNether Wending")
    past = [earlier(sward, 480, "7", "6.1", 78), earlier(sward, 260, "6.2", "5.6", 84)]
    app.save_all(
        [client, sward, Site(client_id=client.id), *past, earlier(sward, 90, "5.6", "5.2", 88)], "past"
    )
    visit = replace(visit, started=START, outline=draft_of(OVAL))
    for place, (key, values) in enumerate(WORKS):
        visit = with_work(visit, key)
        for path, value in values.items():
            visit = with_work_value(visit, place, path, value)
    agreed = {"words": "solid tines instead, at the north end", "name": "Imelda Quillfeather"}
    works = ({**visit.works[0], "agreed": {**agreed, "at": START.isoformat()}}, *visit.works[1:])
    besides = {"words": "The bank is cut once for nothing.", "name": "Imelda Quillfeather", "at": ""}
    readings = [
        reading("height_of_cut", START, readings=["5", "5.2", "5.1"]),
        reading("organic_matter", START, way="result", percent="4.9", method="whole_440"),
        reading("cover", START, grass="91", moss="9"),
        reading("core", START, thatch=["11 mm", "12 mm", "10 mm"], layers=LAYERS, roots_most="85 mm"),
        *(reading("moisture", START, x, y, readings=[str(v)]) for (x, y), v in PLACES.items()),
    ]
    visit = replace(visit, works=works, readings=tuple(readings), agreed=(besides,), signature=SIGNATURE)
    app.edit(replace(visit, notes="The sprinkler head by the oak stands proud: lower it before you mow."))
    app.save_now()
    visit = app.visit_in_hand()
    app.edit(replace(visit, day=to_json(_worked(day.day_in_hand(app, visit)))))
    app.save_now()
    for number in range(pairs):
        for moment in ("before", "after"):
            data = picture(number, moment == "after")
            app.save(
                Photo(
                    visit_id=visit.id,
                    sha256=await app.shelf.keep(data),
                    caption=f"From the gate, {number + 1}",
                    moment=moment,
                    pair=f"p{number}",
                    taken=(START + timedelta(minutes=number)).isoformat(),
                ),
                "photo",
            )
    return app.visit_in_hand()


def _worked(kept: Day) -> Day:
    """The day done, one step after the other, the last left out."""
    at = START
    for step in kept.steps[:-1]:
        kept = act(kept, "start", at, step.id)
        at += timedelta(minutes=55)
        kept = act(kept, "pass", at, step.id, by=1)
        for planned in step.planned[:1]:
            used = f"{1.04 * float(planned.value.split()[0]):.4g} {planned.value.split()[1]}"
            reason = "The spreader ran a little rich."
            kept = act(kept, "actual", at, step.id, key=planned.key, value=used, reason=reason)
        kept = act(kept, "finish", at, step.id)
        at += timedelta(minutes=10)
    return act(kept, "skip", at, kept.steps[-1].id, reason="rain was on its way")
