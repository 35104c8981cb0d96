"""Readings on the phone: taken, tapped, placed, killed in between, all there, equal to logic's own."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from logic.measure.methods import outline_of
from logic.records.reckon import reckon
from logic.survey.kinds import take
from tests.journeys.hand import Hand
from tests.journeys.phone import Host, Phone, until

SMALL, LARGE = {"width": 320, "height": 568}, {"width": 390, "height": 844}
GAUGE = {"kind": "height_of_cut", "readings": ["4.1 mm", "4.3 mm", "4.6 mm"]}
COVER = {"kind": "cover", "grass": "9", "moss": "3", "bare": "1", "places": "2"}
CORE = {
    "kind": "core",
    "thatch": ["14 mm", "18 mm"],
    "layers": [{"layer_from": "0 mm", "layer_to": "16 mm", "layer": "thatch"}],
}
ROLL = {"kind": "ball_roll", "up": ["2.10 m"], "down": ["2.85 m"]}


class Surveyor(Hand):
    """A hand on the step Survey."""

    def type(self, label: str, text: str) -> None:
        """Put text into a box; once more where a busy machine had no ear for the first letters."""
        for _ in range(3):
            try:
                return super().type(label, text)
            except AssertionError as missed:
                last = missed
        raise last

    def opens(self, name: str) -> None:
        """Tap the card whose name begins like this."""
        card = self.phone.page.get_by_role("button", name=re.compile(rf"^(\d+\. )?{re.escape(name)}\b")).first
        card.wait_for(state="attached")
        self.reach(card)
        card.click()

    def another(self, name: str) -> None:
        """Back to the list, and begin a reading of a kind."""
        self.tap("Back")
        self.tap("Take another reading")
        self.opens(name)

    def says(self, key: str, given: dict[str, Any]) -> None:
        """Waits until a figure on the screen is the one that logic makes of what was given."""
        wanted = take(given).figure(key)
        said = f"{wanted.name}, {wanted.text()}"
        until(lambda: self.figure(key).startswith(said), 30, f"“{said}” instead of “{self.figure(key)}”")

    def puts_in_the_middle(self) -> None:
        """Tap the middle of the green on the sketch."""
        sketch = self.phone.by_id("ground-map").last
        sketch.wait_for(state="attached")
        page = self.phone.page
        middle = SMALL["height"] * 0.6
        for _ in range(40):
            box = sketch.bounding_box()
            assert box
            off = box["y"] + box["height"] / 2 - middle
            if abs(off) < 40:
                break
            page.mouse.move(160, middle)
            page.mouse.wheel(0, max(-240.0, min(240.0, off)))
            page.wait_for_timeout(200)
        box = until(lambda: _still(sketch), 20, "the sketch stands still")
        page.mouse.click(box["x"] + box["width"] / 2, box["y"] + (270 - 48) / 2)
        self.button("Take it off the sketch").wait_for(state="attached")


def _still(thing: Any) -> Any:
    """Where a thing is, once it is where it was a moment ago."""
    before = thing.bounding_box()
    thing.page.wait_for_timeout(150)
    after = thing.bounding_box()
    return after if after == before else None


def _again(phone: Phone) -> None:
    """kill -9, then the app once more."""
    phone.kill()
    phone.switch_on()
    phone.open()
    phone.semantics()


@pytest.fixture
def small(phones: Callable[..., Phone], host: Host) -> Phone:
    return phones(host, viewport=SMALL)


def test_four_kinds_of_readings_survive_kills_and_say_what_logic_says(small: Phone, tmp_path: Path) -> None:
    small.open()
    small.semantics()
    hand = Surveyor(small)
    _measured_green(hand)
    hand.tap("Survey")
    hand.sees("Look before you work")

    hand.opens("Gauge the height of cut")
    for place, text in enumerate(GAUGE["readings"], 1):
        hand.type(f"Reading {place}", text.removesuffix(" mm"))
    hand.says("height_of_cut", GAUGE)
    hand.puts_in_the_middle()
    until(lambda: hand.is_seen("Tap again to move it."), 20, "the place is taken")
    small.page.wait_for_timeout(600)  # the pause after the last change, before a draft is written
    _again(small)
    hand.says("height_of_cut", GAUGE)  # reopened where it was

    hand.another("Cover, by points")
    hand.tap("Count by tapping")
    _count(hand, ("grass", 6), ("moss", 3), ("weed", 1))
    hand.tap("Undo")
    hand.tap("Next place")
    _count(hand, ("grass", 3), ("bare", 1))
    _again(small)  # in the middle of counting
    hand.says("moss_cover", COVER)
    hand.says("grass_cover", COVER)

    small.options["viewport"] = LARGE
    _again(small)
    hand.another("Cores")
    hand.type("Core 1", "14")
    hand.type("Core 2", "18")
    hand.tap("8 more")
    hand.type("Layer 1, from", "0")
    hand.type("Layer 1, to", "16")
    hand.tap("Choose")
    hand.tap("Thatch")
    hand.says("thatch_depth", CORE)
    until(lambda: "1. Thatch, surface to 16 mm" in hand.everything(), 20, "the core is drawn")

    hand.another("Ball roll")
    hand.type("Roll 1", "2.10")
    hand.type("Roll back 1", "2.85")
    hand.says("ball_roll", ROLL)
    _all_in_the_job_file(hand, tmp_path)


def _measured_green(hand: Surveyor) -> None:
    hand.tap("Add your first green")
    hand.type("Name of the green", "Sundial green")
    hand.tap("Save")
    hand.tap("Start a visit")
    hand.type("Length", "12")
    hand.type("Width", "7.5")
    area = outline_of({"method": "rectangle", "length": "12 m", "width": "7.5 m"}).area.text()
    until(lambda: area in hand.figure("area"), 20, f"the area is {area}")


def _count(hand: Hand, *counts: tuple[str, int]) -> None:
    """Tap the pad, each tap seen before the next."""
    for key, count in counts:
        pad = hand.phone.by_id(f"point-{key}").first
        pad.wait_for(state="attached")
        for _ in range(count):
            _tap_seen(pad)


def _tap_seen(pad: Any) -> None:
    before = _said(pad)
    pad.click()
    until(lambda: _said(pad) != before, 30, f"the tap is counted after {before}")


def _said(thing: Any) -> str:
    return str(thing.get_attribute("aria-label") or thing.inner_text())


def _all_in_the_job_file(hand: Surveyor, folder: Path) -> None:
    """The file has every reading as typed, the first in the middle of the green, and reckons to the same."""
    hand.tap("Paper")
    hand.tap("Save the job as a file")
    job = json.loads(hand.save_offered(folder).read_text("utf-8"))
    gauge, cover, core, roll = job["readings"]
    for held, typed in ((gauge, GAUGE), (cover, COVER), (core, CORE), (roll, ROLL)):
        shown = {key: held.get(key) for key in typed}
        assert shown == typed
    assert (gauge["x"], gauge["y"]) == (pytest.approx(6, abs=0.3), pytest.approx(3.75, abs=0.3))
    reckoned = reckon(job).readings
    assert [one.kind.key for one in reckoned] == ["height_of_cut", "cover", "core", "ball_roll"]
    assert reckoned[3].figure("ball_roll").text() == take(ROLL).figure("ball_roll").text()
