"""What the user has done with whole jobs: the summary made, a job file given out or brought in, the demo."""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import replace
from importlib.resources import files
from typing import Any

from logic.errors import SwardError
from logic.records import jobfile
from logic.records.types import Record
from logic.records.visits import job_of, records_of
from mobile_app.app import App, Notice

_LONGEST = 120  # bytes of a file's name; most systems take 255


def file_name(*parts: str, ending: str) -> str:
    """A file name of letters, digits and hyphens made from what people typed; never empty, never a path."""
    text = unicodedata.normalize("NFKC", " ".join(parts))
    safe = re.sub(r"[^\w]+", "-", text, flags=re.UNICODE).strip("-_")
    short = safe.encode("utf-8", "ignore")[:_LONGEST].decode("utf-8", "ignore").rstrip("-_")
    return f"{short or 'swardwright'}.{ending}"


#: The documents of a visit: key, name, what it is for.
DOCUMENTS = (
    ("summary", "Summary", "For the customer: the ground, what was done, the aftercare and the working."),
    ("quote", "Quote", "What it costs, line by line, with room to accept it."),
    ("job", "Job sheet", "For the day: what to bring, weigh out and mind, in large type."),
    ("aftercare", "Aftercare sheet", "For the customer: what to do and when, after the work."),
    ("season", "Season plan", "The year at a glance: which months suit which work on this green."),
)


async def make_document(app: App, key: str, offer: bool = True) -> None:
    """A document of the visit in hand as a PDF: offered to share or keep, or only to be looked at
    (`pages`)."""
    visit, held = app.visit_in_hand(), app.state.made
    # What has been looked at and is as it was goes out as it is.
    same = held is not None and held[:3] == (key, app.state.visit, app.state.stamp)
    app.save_now()
    name = {key: name for key, name, _ in DOCUMENTS}[key]

    async def work(progress: Any) -> None:
        from mobile_app.paper import make  # reportlab is loaded when it is first needed

        made = held[3] if same else await make(app, visit, key, progress, look=not offer)
        if same or not offer:
            app.change(made=(key, app.state.visit, app.state.stamp, made))
        if offer:
            sward = app.sward_of(visit)
            parts = (
                sward.name,
                *([] if key == "summary" else [key]),
                f"{visit.started.astimezone():%Y-%m-%d}",
            )
            app.device.offer(
                file_name(*parts, ending="pdf"), "application/pdf", made.file, f"{name} for {sward.name}"
            )

    await app.with_progress(f"Making the {name.lower()} …", work)


def give_out(app: App) -> None:
    """The visit in hand as a job file."""
    visit = app.visit_in_hand()
    app.save_now()
    sward = app.sward_of(visit)
    job = job_of(visit, sward, app.client_of(sward), app.pace_of(visit), app.settings.confidence)
    text = jobfile.dumps(job).encode("utf-8")
    app.device.offer(
        file_name(sward.name, "job", ending="json"), "application/json", text, f"Job of {sward.name}"
    )


async def bring_in(app: App) -> None:
    """A job file chosen by the user, as a new green with one visit. A bad file changes nothing."""
    picked = await app.device.pick(["json"])
    if picked is None:
        return
    try:
        client, sward, pace, visit = records_of(jobfile.loads(picked[1]))
    except SwardError as error:
        app.change(notice=Notice(error.sentence, serious=True))
        return
    if not sward.name:
        app.change(notice=Notice("This job doesn't name its green, so it was not brought in.", serious=True))
        return
    records: list[Record] = [sward, *([pace] if pace else []), visit]
    if client.name or client.email or client.phone or client.address:
        records.insert(0, client)
    else:
        records[0] = replace(sward, client_id="")
    if app.save_all(records, f"bring in {sward.name}"):
        app.go(f"/visit/{visit.id}/measure")


def load_demo(app: App) -> None:
    """An invented contractor with clients, greens and visits, in one step that can be taken back."""
    demo = json.loads(files("assets").joinpath("demo", "demo.json").read_text(encoding="utf-8"))
    records: list[Record] = []
    for job in demo["jobs"]:
        client, sward, pace, visit = records_of(jobfile.loads(json.dumps(job)))
        records += [client, sward, *([pace] if pace else []), visit]
    if not app.settings.firm:
        records.append(replace(app.settings, **demo["settings"]))
    app.save_all(records, "load the demo")
    app.go("/")
