"""Puts a visit on paper: from the book's records to the customer summary."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

from logic.errors import BadValue
from logic.programme.aftercare import aftercare
from logic.records.reckon import Reckoning
from logic.records.types import Visit
from logic.records.visits import job_of
from logic.report.content import Party, SummaryData, from_reckoning
from logic.report.summary import summary
from mobile_app.app import App


def data_of(app: App, visit: Visit) -> SummaryData:
    """What the summary of a visit says. Raises BadValue while it has not been measured."""
    stood, sward, own = app.standing(visit), app.sward_of(visit), app.settings
    if stood.outline is None:
        raise BadValue("outline", "Measure the green first; then there is something to put on paper.")
    job = job_of(visit, sward, app.client_of(sward), app.pace_of(visit))
    return from_reckoning(
        Reckoning(stood.pace, stood.outline, stood.worked),
        letterhead=Party(own.firm, own.person, own.address, own.phone, own.email),
        client=job["client"],
        sward=job["sward"],
        day=visit.started.astimezone().date(),
        aftercare=aftercare(worked.operation.key for worked in stood.worked),
        notes=visit.notes,
        system=own.units,
        confidence=own.confidence,
    )


async def summary_of(app: App, visit: Visit, progress: Callable[[float], None]) -> bytes:
    """The summary as PDF; the screen is let draw before the work starts."""
    data = data_of(app, visit)
    progress(0.2)
    await asyncio.sleep(0.05)
    file = summary(data)
    progress(1.0)
    return file
