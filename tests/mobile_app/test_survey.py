"""Readings with the app: begun, typed, tapped, placed, noted, taken out, counted from a photo, followed."""

from __future__ import annotations

import asyncio
import io
from dataclasses import replace
from datetime import timedelta

from PIL import Image

from logic.records.types import Sward, Visit
from logic.records.visits import with_reading
from logic.survey import stored
from logic.survey.cover_photo import calibrated, window_named
from mobile_app import survey
from mobile_app.device.photos_disk import PickedBytes
from tests.mobile_app.stand import PAUSE, Stand, played


def measured(hand: Stand) -> None:
    visit = hand.open_visit()
    hand.app.edit(with_reading(with_reading(visit, "length", "12 m"), "width", "5 m"))


def only(hand: Stand) -> dict[str, object]:
    """The one reading as another start of the app would find it after a kill."""
    (entry,) = hand.stored().readings
    return dict(entry)


def test_a_reading_is_saved_as_it_is_typed_and_reopened_where_it_was() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        survey.begin(hand.app, "height_of_cut")
        (entry,) = hand.app.visit_in_hand().readings
        for place, text in enumerate(("4.1 mm", "4.3 mm", "4.6 mm")):
            survey.put(hand.app, entry["id"], f"readings.{place}", text)
        survey.place(hand.app, entry["id"], 3.014159, 2.5)
        survey.note(hand.app, entry["id"], "by the <gate>")
        await asyncio.sleep(PAUSE)

    hand = played(story)
    entry = only(hand)
    assert entry["values"] == {"readings": ["4.1 mm", "4.3 mm", "4.6 mm"]}
    assert (entry["x"], entry["y"], entry["note"]) == (3.01, 2.5, "by the <gate>")
    again = hand.killed()
    again.app.back_where_left()
    assert again.app.state.place == survey.place_of(again.app.visit_in_hand(), str(entry["id"]))
    (held,) = survey.readings(again.app, again.app.visit_in_hand())
    assert held.taken is not None
    assert held.taken.figure("height_of_cut").text() == "4.33 mm"


def test_every_tap_of_a_count_is_in_the_book_at_once() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        survey.begin(hand.app, "cover")
        key = hand.app.visit_in_hand().readings[0]["id"]
        for count in range(1, 31):
            survey.tapped(hand.app, key, {"grass": str(count)})
            assert only(hand)["values"] == {"grass": str(count)}  # no waiting

    played(story)


def test_a_reading_taken_out_comes_back() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        survey.begin(hand.app, "core")
        entry = hand.app.visit_in_hand().readings[0]
        survey.put(hand.app, entry["id"], "thatch.0", "14 mm")
        survey.take_out(hand.app, entry["id"], "Cores")
        assert hand.stored().readings == ()
        assert hand.app.state.place.endswith("/survey")
        hand.app.undo()
        assert only(hand)["values"] == {"thatch": ["14 mm"]}

    played(story)


def test_the_next_visit_asks_in_the_same_way_and_shows_what_changed() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        sward = hand.app.sward_of(hand.app.visit_in_hand())
        assert survey.history(hand.app, sward) == ()
        _organic(hand, "9 %", method="whole_440")
        hand.app.edit(_days_ago(hand, 200))
        hand.app.save_now()
        assert len(survey.history(hand.app, sward)[0].points) == 1
        hand.app.leave_visit()
        hand.app.start_visit(hand.app.book.get(Sward, sward.id))
        _organic(hand, "7 %")
        assert hand.app.visit_in_hand().readings[0]["values"]["method"] == "whole_440"
        trend = survey.history(hand.app, sward)[0]
        assert [point.value for point in trend.points] == [9, 7]
        assert trend.change is not None
        assert trend.change.text() == "-2 %"

    played(story)


def _organic(hand: Stand, percent: str, **values: str) -> None:
    survey.begin(hand.app, "organic_matter")
    key = hand.app.visit_in_hand().readings[0]["id"]
    for path, value in {"percent": percent, **values}.items():
        survey.put(hand.app, key, path, value)
    hand.app.save_now()


def _days_ago(hand: Stand, days: int) -> Visit:
    visit = hand.app.visit_in_hand()
    moved = tuple(
        {**entry, "at": (visit.started - timedelta(days=days)).isoformat()}
        for entry in stored.entries(visit.readings)
    )
    return replace(visit, started=visit.started - timedelta(days=days), readings=moved)


# --- green from a photo ---------------------------------------------------------------------------------


def _photo(*parts: tuple[tuple[int, int, int], int]) -> PickedBytes:
    """A picture of upright bands: colour and width of each [px], 40 px high."""
    picture = Image.new("RGB", (sum(width for _, width in parts), 40))
    left = 0
    for colour, width in parts:
        picture.paste(colour, (left, 0, left + width, 40))
        left += width
    file = io.BytesIO()
    picture.save(file, "PNG")
    return PickedBytes("lawn.png", file.getvalue())


GRASS, SOIL = (70, 120, 50), (110, 85, 60)


def test_green_is_counted_from_a_photo() -> None:
    """Three parts of (70, 120, 50), which lies in both published windows, to one of soil, which lies in none
    (agronomy, photo green cover): 75 % green. The bands' edge blurs in the shrinking, hence to within 2 %."""

    async def story(hand: Stand) -> None:
        measured(hand)
        survey.begin(hand.app, "cover_photo")
        key = hand.app.visit_in_hand().readings[0]["id"]
        hand.device.takes = (_photo((GRASS, 120), (SOIL, 40)),)
        await survey.look_at_photo(
            hand.app, True, lambda pixels: survey.count_green(hand.app, key, pixels, "narrow", None)
        )
        (held,) = survey.readings(hand.app, hand.app.visit_in_hand())
        assert held.taken is not None
        assert abs(held.taken.figure("green_cover").nominal - 75) < 2
        assert only(hand)["values"]["window"] == "narrow"  # type: ignore[index]
        assert hand.app.state.busy == ""

    played(story)


def test_a_window_set_on_the_sward_is_used_and_said() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        survey.begin(hand.app, "cover_photo")
        key = hand.app.visit_in_hand().readings[0]["id"]
        dark = (40, 90, 30)  # hue 110°, outside the narrow window (agronomy, photo green cover)
        assert not window_named("narrow").holds(110.0, 2 / 3)
        own = calibrated([dark] * 50, [SOIL] * 50)
        survey.count_green(hand.app, key, [dark] * 60 + [SOIL] * 40, "own", own)
        values = only(hand)["values"]
        assert isinstance(values, dict)
        assert (values["green"], values["pixels"], values["window"]) == ("60", "100", "own")
        assert (float(values["hue_low"]), float(values["hue_high"])) == (own.low, own.high)

    played(story)


def test_a_file_that_is_no_photo_says_so_and_changes_nothing() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        survey.begin(hand.app, "cover_photo")
        hand.device.takes = (PickedBytes("notes.txt", b"not a photo"),)
        await survey.look_at_photo(hand.app, False, lambda pixels: None)
        assert "photo" in hand.said
        assert only(hand)["values"] == {}
        hand.device.takes = ()
        await survey.look_at_photo(hand.app, False, lambda pixels: None)  # nothing chosen
        assert only(hand)["values"] == {}

    played(story)
