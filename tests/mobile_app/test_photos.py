"""Photos as the user has them: made small and upright, kept by hash, taken out and back, in the export."""

import io
import json
import zipfile
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest
from PIL import Image, ImageOps

from logic.errors import BrokenFile, NotFound, StorageError, StorageFull
from logic.programme.day import Day, DayStep, act
from logic.programme.day_json import to_json
from logic.records.types import Photo, utc_now
from mobile_app import photos
from mobile_app.device.photos import MOST_BYTES, HugePhoto, NoPhoto
from mobile_app.device.photos_disk import DiskPhotos, PickedBytes, shrink
from tests.logic.report.test_exif import photo as camera_photo
from tests.mobile_app.stand import Stand, played, stand


def big(orientation: int = 6) -> bytes:
    """A photo of 3000 × 2000 px, darker to the right, that Exif says to turn."""
    picture = Image.linear_gradient("L").rotate(90).resize((3000, 2000)).convert("RGB")
    tags = picture.getexif()
    tags[0x0112] = orientation
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=tags.tobytes())
    return out.getvalue()


# --- making small ---------------------------------------------------------------------------------


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_photo_is_made_small_and_upright_as_pillow_has_it(orientation: int) -> None:
    data = big(orientation)
    made = shrink(data, 1600, MOST_BYTES)
    picture = Image.open(io.BytesIO(made.data))
    wanted = ImageOps.exif_transpose(Image.open(io.BytesIO(data))).resize(picture.size)
    assert picture.size == (made.width, made.height)
    assert max(picture.size) == 1600
    assert not picture.getexif()
    assert b"Exif" not in made.data
    for at in ((0.1, 0.5), (0.9, 0.5), (0.5, 0.1), (0.5, 0.9)):
        spot = (int(at[0] * made.width), int(at[1] * made.height))
        assert abs(picture.getpixel(spot)[0] - wanted.getpixel(spot)[0]) < 12


def test_a_photo_full_of_detail_is_made_small_enough() -> None:
    grass = Image.effect_noise((2400, 1800), 90).convert("RGB")
    out = io.BytesIO()
    grass.save(out, "JPEG", quality=95)
    assert len(shrink(out.getvalue(), 1600, MOST_BYTES).data) <= MOST_BYTES


def test_what_is_no_photo_or_far_too_large_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    for data in (b"", b"not a photo", camera_photo()[:200]):
        with pytest.raises(NoPhoto):
            shrink(data, 1600, MOST_BYTES)
    monkeypatch.setattr("mobile_app.device.photos_disk.MOST_PIXELS", 1000)
    with pytest.raises(HugePhoto):
        shrink(camera_photo(), 1600, MOST_BYTES)
    monkeypatch.setattr("mobile_app.device.photos_disk.LARGEST", 10)
    with pytest.raises(HugePhoto):
        shrink(camera_photo(), 1600, MOST_BYTES)


# --- keeping --------------------------------------------------------------------------------------


def test_files_are_kept_by_their_hash_whole_or_not_at_all(tmp_path: Path) -> None:
    folder = tmp_path / "photos"

    async def story(_: Stand) -> None:
        kept = DiskPhotos(folder)
        assert await kept.list() == []
        key = await kept.put(b"one")
        assert key == sha256(b"one").hexdigest() == await kept.put(b"one")
        assert await kept.get(key) == b"one"
        assert await kept.list() == [key]
        (folder / f"{'0' * 64}.part").write_bytes(b"half")  # as a kill would leave it
        (folder / key).write_bytes(b"two")
        with pytest.raises(BrokenFile):
            await kept.get(key)
        assert await kept.put(b"one") == key
        assert await kept.get(key) == b"one"
        assert await kept.list() == [key]
        assert [path.name for path in folder.iterdir()] == [key]
        await kept.remove(key)
        await kept.remove("../photos")
        assert not await kept.has(key)
        with pytest.raises(NotFound):
            await kept.get(key)

    played(story)


def test_a_place_that_is_not_there_is_said_so(tmp_path: Path) -> None:
    (tmp_path / "photos").write_bytes(b"a file in the way")

    async def story(_: Stand) -> None:
        with pytest.raises(StorageError):
            await DiskPhotos(tmp_path / "photos").put(b"one")

    played(story)


# --- stories --------------------------------------------------------------------------------------


async def taken(hand: Stand, *files: bytes) -> list[Photo]:
    hand.device.takes = tuple(PickedBytes(f"{n}.jpg", data) for n, data in enumerate(files))
    return await photos.add(hand.app, hand.app.visit_in_hand())


def test_a_photo_is_kept_named_taken_out_and_back() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        (made,) = await taken(hand, camera_photo(south=True))
        assert photos.photos_of(hand.app, visit.id) == [hand.app.book.get(Photo, made.id)]
        assert made.sha256 in hand.device.photos.kept
        assert (made.moment, made.taken, made.place) == ("before", "2026-09-14T10:05:30", "")
        assert b"Exif" not in hand.device.photos.kept[made.sha256]
        assert hand.app.shelf.small(made.sha256)
        photos.take_out(hand.app, made)
        assert photos.photos_of(hand.app, visit.id) == []
        assert hand.app.visit_in_hand().id == visit.id
        hand.app.undo()
        assert [photo.id for photo in photos.photos_of(hand.app, visit.id)] == [made.id]
        again = hand.killed()
        assert [photo.id for photo in photos.photos_of(again.app, visit.id)] == [made.id]

    played(story)


def test_the_place_stays_only_when_it_is_wanted() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        hand.app.edit_settings(replace(hand.app.settings, photo_place=True))
        (made,) = await taken(hand, camera_photo(south=True))
        assert made.place.startswith("-51.5")

    played(story)


def test_before_and_after_follow_the_day() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        assert photos.moment_of(visit) == "before"
        day = act(Day((DayStep("a", "coring", "Coring"),)), "start", utc_now(), "a")
        assert photos.moment_of(replace(visit, day=to_json(day))) == ""
        assert photos.moment_of(replace(visit, day=to_json(act(day, "finish", utc_now(), "a")))) == "after"

    played(story)


def test_a_broken_file_is_said_and_the_others_are_kept() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        assert len(await taken(hand, b"no photo", camera_photo())) == 1
        assert hand.said == "0.jpg: This file can't be read as a photo, so nothing was added."
        assert len(photos.photos_of(hand.app, visit.id)) == 1
        assert hand.app.state.busy == ""

    played(story)


def test_without_room_no_record_is_made_that_has_no_photo() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        hand.device.photos.full = True
        assert await taken(hand, camera_photo()) == []
        assert hand.said == StorageFull.default
        assert photos.photos_of(hand.app, visit.id) == []

    played(story)


def test_two_stand_together_until_one_of_them_is_put_beside_a_third() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        for colour in range(3):
            await taken(hand, camera_photo(1, f"2026:09:1{colour} 10:00:00"))
        first, _, third = photos.photos_of(hand.app, visit.id)
        photos.pair(hand.app, first, third)
        shown = photos.photos_of(hand.app, visit.id)
        assert [photo and photo.id for photo in photos.couples_of(shown)[0]] == [first.id, third.id]
        assert [p.moment for p in shown] == ["before", "before", "after"]
        photos.pair(hand.app, shown[1], shown[2])
        shown = photos.photos_of(hand.app, visit.id)
        assert shown[0].pair == ""
        assert shown[1].pair == shown[2].pair != ""

    played(story)


def test_what_no_record_names_is_cleared_and_what_the_bin_names_is_not() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        (kept,) = await taken(hand, camera_photo())
        (binned,) = await taken(hand, big())
        photos.take_out(hand.app, binned)
        orphan = await hand.device.photos.put(b"nobody's")
        again = stand(hand.folder.killed())
        again.device.photos.kept = hand.device.photos.kept
        assert await again.app.shelf.tidy(again.app.book.hashes) == 1
        assert set(await again.device.photos.list()) == {kept.sha256, binned.sha256} != {orphan}
        again.app.book.empty_bin()
        assert await again.app.shelf.tidy(again.app.book.hashes) == 1
        assert await again.device.photos.list() == [kept.sha256]

    played(story)


def test_the_whole_book_goes_into_one_file_and_out_again_with_its_photos() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        (made,) = await taken(hand, camera_photo())
        file, missing = await photos.export_book(hand.app)
        assert missing == 0
        with zipfile.ZipFile(io.BytesIO(file)) as archive:
            name = f"files/{made.sha256}.jpg"
            assert archive.read(name) == hand.device.photos.kept[made.sha256]
            assert json.loads(archive.read("manifest.json"))["files"][name]["sha256"] == made.sha256
        other = stand()
        first = await photos.import_book(other.app, file)
        assert (first.photos, first.spoilt) == (1, 0)
        assert other.device.photos.kept == hand.device.photos.kept
        assert photos.photos_of(other.app, visit.id) == photos.photos_of(hand.app, visit.id)
        again = await photos.import_book(other.app, file)
        assert (again.photos, again.added, again.updated, again.kept) == (0, 0, 0, 0)
        hand.device.photos.kept.clear()
        assert (await photos.export_book(hand.app))[1] == 1

    played(story)


def test_a_photo_spoilt_in_the_file_is_left_out_and_counted() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        await taken(hand, camera_photo())
        file, _ = await photos.export_book(hand.app)
        at = file.index(b"\xff\xd8")
        other = stand()
        result = await photos.import_book(other.app, file[: at + 100] + b"\0\1\2\3" + file[at + 104 :])
        assert (result.photos, result.spoilt) == (0, 1)
        assert other.app.book.all(Photo)
        with pytest.raises(BrokenFile):
            await photos.import_book(other.app, b"no zip")

    played(story)
