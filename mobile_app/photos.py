"""What the user does with photos: takes them, says what they show, pairs them, exports them with the book."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from tinydb import where

from logic.errors import SwardError
from logic.programme.day import state
from logic.programme.day_json import from_json
from logic.records.backup import Imported, photos_in
from logic.records.types import Photo, Visit, new_id
from logic.report.exif import exif_of
from logic.report.pairs import couples
from mobile_app.app import App, Notice
from mobile_app.device.photos import Picked

_PAUSE = 0.5  # seconds after the last key
_typed: dict[str, dict[str, Any]] = {}  # what has been typed of a photo and is not saved yet
MOMENTS = (("before", "Before"), ("", "In between"), ("after", "After"))


def photos_of(app: App, visit_id: str) -> list[Photo]:
    """The photos of a visit, the oldest first."""
    found = app.book.find(Photo, where("visit_id") == visit_id)
    return sorted(found, key=lambda photo: (photo.taken, photo.changed, photo.id))


def moment_of(visit: Visit) -> str:
    """What a photo taken now shows: before the work, in the middle of it, or after."""
    day = from_json(visit.day)
    if not any(event.do in ("start", "finish") for event in day.log):
        return "before"
    return "after" if state(day).finished else ""


async def add(
    app: App, visit: Visit, step: str = "", reading: str = "", camera: bool = True, moment: str | None = None
) -> list[Photo]:
    """Take a photo (or choose some) and keep it with the visit. Start it with `app.begin`.

    step, reading: id of the day's step or of the reading that it belongs to. Gives the records saved; what
    could not be read is said on the screen.
    """
    if not app.save_now():  # a phone short of memory may end the app behind its camera
        return []
    if moment is None:
        moment = "" if reading else moment_of(visit)
    made: list[Photo] = []
    troubles: list[str] = []
    picked = await app.device.pick_photos(camera)

    async def work(progress: Any) -> None:
        for place, one in enumerate(picked):
            progress(place / len(picked))
            await asyncio.sleep(0)
            try:
                photo = await _taken(app, visit, one)
            except SwardError as error:
                name = f"{one.name[:60]}: " if len(picked) > 1 else ""
                troubles.append(f"{name}{error.sentence}")
                continue
            made.append(replace(photo, moment=moment, step=step, reading=reading))

    if picked:
        await app.with_progress("Making the photo smaller …", work)
    why = "add a photo" if len(made) == 1 else f"add {len(made)} photos"
    if made and not app.save_all(list(made), why):
        return []
    if troubles:
        app.change(notice=Notice(" ".join(dict.fromkeys(troubles[:3])), serious=True))
    return made


async def _taken(app: App, visit: Visit, picked: Picked) -> Photo:
    """A photo made smaller and kept, with the time that the camera wrote, and the place if that is wanted."""
    said = exif_of(await picked.head())
    small = await picked.shrunk()
    sha256 = await app.shelf.keep(small.data)
    await app.shelf.make_small(sha256)
    return Photo(
        visit_id=visit.id,
        sha256=sha256,
        size=str(len(small.data)),
        width=str(small.width),
        height=str(small.height),
        taken=said.taken or datetime.now().isoformat(timespec="seconds"),
        place=said.place if app.settings.photo_place else "",
    )


def take_out(app: App, photo: Photo) -> None:
    """Put a photo into the bin, with a way back; one that was its pair stands alone."""
    app.delete(photo)


def say(app: App, photo: Photo, why: str, **values: Any) -> None:
    """Change what is said of a photo."""
    if app.book.has(Photo, photo.id):
        app.save(replace(app.book.get(Photo, photo.id), **values), why)


def say_soon(app: App, photo: Photo, **values: Any) -> None:
    """The same while somebody types: saved once, after the last key."""

    async def later() -> None:
        await asyncio.sleep(_PAUSE)
        if _typed.get(photo.id) is values:
            del _typed[photo.id]
            say(app, photo, "photo caption", **values)

    _typed[photo.id] = values
    app.begin(later())


def couples_of(shown: Sequence[Photo]) -> list[tuple[Photo, Photo | None]]:
    """Photos two by two, as they will stand on paper."""
    return couples(shown, lambda photo: photo.moment, lambda photo: photo.pair)


def pair(app: App, photo: Photo, other: Photo | None) -> None:
    """Put a photo beside another of the visit as before and after, or part it from the one it had (None)."""
    parted = [
        replace(one, pair="")
        for one in photos_of(app, photo.visit_id)
        if one.id not in (photo.id, other.id if other else "")
        and one.pair
        and one.pair in _pairs(photo, other)
    ]
    key = new_id() if other else ""
    changed = [replace(photo, pair=key)]
    if other:
        turned = "before" if photo.moment == "after" else "after"
        changed = [
            replace(photo, pair=key, moment=photo.moment or "before"),
            replace(other, pair=key, moment=turned),
        ]
    app.save_all([*changed, *parted], "pair photos" if other else "part photos")


def _pairs(*photos: Photo | None) -> set[str]:
    return {photo.pair for photo in photos if photo and photo.pair}


async def data_of(app: App, photos: Sequence[Photo]) -> dict[str, bytes]:
    """The bytes of photos by their hash; b"" for one that is not here or is damaged."""
    found: dict[str, bytes] = {}
    for photo in photos:
        if photo.sha256 not in found:
            try:
                found[photo.sha256] = await app.shelf.read(photo.sha256)
            except SwardError:
                found[photo.sha256] = b""
    return found


async def export_book(app: App, progress: Any = None) -> tuple[bytes, int]:
    """Everything in one file, photos too; and how many photos are named that are not on this device."""
    names, data, missing = sorted(app.book.hashes()), [], 0
    for place, sha256 in enumerate(names):
        try:
            data.append(await app.shelf.read(sha256))
        except SwardError:
            missing += 1
        if progress:
            progress(place / len(names))
    return app.book.export_all(data), missing


async def import_book(app: App, file: bytes) -> Imported:
    """Take such a file in: the records at once or not at all, then the photos. The same file twice changes
    nothing. Raises BrokenFile, NewerFormat, StorageError."""
    here, added, spoilt = set(await app.device.photos.list()), 0, 0
    result = app.book.import_all(file)
    for data in photos_in(file):
        if data is None:
            spoilt += 1
            continue
        sha256 = await app.shelf.keep(data)
        added += sha256 not in here
        here.add(sha256)
        await asyncio.sleep(0)
    return replace(result, photos=added, spoilt=spoilt)
