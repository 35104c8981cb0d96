"""What the user does with readings: begun, typed, counted, placed, noted, taken out; how the sward went."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from logic.errors import SwardError
from logic.records import surveyed
from logic.records.types import Sward, Visit
from logic.survey import cover_photo, stored
from logic.survey.cover_photo import Pixel, Window
from logic.survey.history import Trend, trends
from logic.survey.stored import Held
from mobile_app.app import App

_SIDE = 160  # longest side [px] of a photo whose pixels are counted: enough for a share, quick in the browser
#: The places of a visit that belong to the step Survey, by the first word of their last part.
LIST, ONE = "survey", "reading-"


def readings(app: App, visit: Visit) -> tuple[Held, ...]:
    """The readings of a visit, worked out."""
    stood = app.standing(visit)
    return surveyed.held(visit, app.sward_of(visit), stood.outline, stood.pace)


def place_of(visit: Visit, entry_id: str) -> str:
    """Where one reading is shown."""
    return f"/visit/{visit.id}/{ONE}{entry_id}"


def begin(app: App, kind: str) -> None:
    """Begin a reading of a kind and go to it; what makes it comparable is as it was last time."""
    visit = app.visit_in_hand()
    before = [one for one in app.book.visits_of(visit.sward_id) if one.id != visit.id]
    visit, entry_id = surveyed.begun(visit, kind, datetime.now().astimezone(), before)
    app.edit(visit)
    app.go(place_of(visit, entry_id))


def put(app: App, entry_id: str, path: str, value: Any) -> None:
    """One value as it is typed."""
    app.edit(surveyed.with_value(app.visit_in_hand(), entry_id, path, value))


def discard(app: App, entry_id: str, path: str, value: Any, why: str) -> None:
    """A change that throws something away, with a way back."""
    app.edit_undoable(surveyed.with_value(app.visit_in_hand(), entry_id, path, value), why)


def tapped(app: App, entry_id: str, values: Mapping[str, str]) -> None:
    """Counts after a tap: in the book before the next tap can come."""
    visit = app.visit_in_hand()
    app.edit(replace(visit, readings=stored.with_values(visit.readings, entry_id, values)))
    app.save_now()


def place(app: App, entry_id: str, x: float | None, y: float | None) -> None:
    """Put a reading at a place on the sketch [m], or at none."""
    visit = app.visit_in_hand()
    x, y = (None if end is None else round(end, 2) for end in (x, y))
    app.edit(replace(visit, readings=stored.placed(visit.readings, entry_id, x, y)))


def note(app: App, entry_id: str, text: str) -> None:
    """The note of a reading."""
    visit = app.visit_in_hand()
    app.edit(replace(visit, readings=stored.noted(visit.readings, entry_id, text)))


def take_out(app: App, entry_id: str, name: str) -> None:
    """Take a reading out, with a way back."""
    visit = app.visit_in_hand()
    without = replace(visit, readings=stored.without(visit.readings, entry_id))
    app.edit_undoable(without, f"take out {name[:1].lower()}{name[1:]}")
    app.go(f"/visit/{visit.id}/{LIST}")


# --- green from a photo -------------------------------------------------------------------------------


async def look_at_photo(app: App, camera: bool, then: Callable[[list[Pixel]], None]) -> None:
    """Hand the pixels of a photo that the person takes or chooses, made small, to `then`."""
    app.save_now()

    async def work(_: Any) -> None:
        picked = await app.device.pick_photos(camera)
        if picked:
            small = await picked[0].shrunk()
            then(await app.device.pixels(small.data, _SIDE))

    await app.with_progress("Looking at the photo …", work)


def count_green(app: App, entry_id: str, pixels: Sequence[Pixel], window: str, own: Window | None) -> None:
    """Count the green of a photo into a reading. window: the name of one; own: the one set on this sward."""
    used = own if window == "own" and own else cover_photo.window_named(window)
    tapped(app, entry_id, {"window": window, **cover_photo.counted(pixels, used)})


# --- over the visits ------------------------------------------------------------------------------------


def history(app: App, sward: Sward) -> tuple[Trend, ...]:
    """How the sward's readings went over its visits; none when they can't be worked out."""
    past = [
        one for visit in app.book.visits_of(sward.id) for one in surveyed.past(visit, readings(app, visit))
    ]
    try:
        return trends(past)
    except SwardError:
        return ()
