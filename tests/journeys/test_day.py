"""A green from readings to the weeks after: programme, day, aftercare; the phone dies ten times meanwhile."""

import json
import random
import re
import time
from pathlib import Path

from icalendar import Calendar
from playwright.sync_api import FileChooser, Locator
from playwright.sync_api import TimeoutError as PlaywrightTimeout

from tests.journeys.hand import Hand
from tests.journeys.phone import Phone, until

SEED = 20260901
KILLS = 10
JOB = {
    "format": "swardwright-job/1",
    "client": {"name": "Mrs Odile Tarrant"},
    "sward": {"name": "Sundial green", "kind": "putting green"},
    "outline": {"method": "rectangle", "length": "9 m", "width": "7 m"},
    "readings": [
        {"kind": "core", "thatch": ["16 mm", "18 mm"]},
        {"kind": "cover", "grass": "80", "bare": "20"},
    ],
    "works": [
        {
            "operation": "coring",
            "tine_diameter": "12 mm",
            "depth": "75 mm",
            "spacing_across": "5 cm",
            "spacing_along": "5 cm",
        },
        {"operation": "overseeding", "rate": "8 g/m^2", "species": "browntop_bent"},
        {"operation": "topdressing", "depth": "2 mm"},
    ],
}


class Dying:
    """A phone that dies at points drawn from a seed, and must then show what it showed before."""

    def __init__(self, phone: Phone, taps: int) -> None:
        self.phone, self.hand, self.done = phone, Hand(phone), 0
        self.points = sorted(random.Random(SEED).sample(range(taps), KILLS))
        print(f"seed {SEED}: the phone dies after taps {self.points}")

    def tap(self, name: str, then: str) -> None:
        """Tap a button of the day, wait until the screen says what follows; die here, if it is time."""
        self.hand.to_top()
        button = self._named(name)
        self.hand.reach(button)
        button.click()
        until(lambda: re.search(then, self.top()), 40, f"“{then}” after “{name}”, not {self.top()}")
        if self.done in self.points:
            self._die()
        self.done += 1

    def _named(self, name: str) -> Locator:
        start = time.monotonic()
        found = self.phone.page.get_by_role("button", name=re.compile(f"^{name}")).first
        while not found.count() and time.monotonic() - start < 40:
            self.phone.page.mouse.move(195, 400)
            self.phone.page.mouse.wheel(0, 300)
            self.phone.page.wait_for_timeout(200)
        return found

    def top(self) -> str:
        """What the step at hand says, but for the clock, which goes on."""
        words = self.hand.everything()
        return re.sub(r"\b\d+:\d\d\b", "", words)

    def _die(self) -> None:
        self.hand.to_top()
        before, clock = facts(self.top()), self.clock()
        self.phone.kill()
        self.phone.switch_on()
        self.phone.open()
        self.phone.semantics()
        until(lambda: facts(self.top()) == before, 40, f"{before} again, not {facts(self.top())}")
        assert self.clock() >= clock

    def clock(self) -> int:
        """Seconds on the large clock."""
        place = self.phone.by_id("clock").first
        place.wait_for(state="attached")
        said = str(place.get_attribute("aria-label") or place.inner_text()).rpartition(" ")[2]
        hours, minutes, seconds = ([0] * 3 + [int(part) for part in said.split(":")])[-3:]
        return hours * 3600 + minutes * 60 + seconds


def facts(words: str) -> list[str]:
    """What must be the same before and after: the day so far, the step at hand, its state, passes, ticks."""
    asked = r"\d+ of \d+ steps closed|Step \d+ of \d+|Running|Paused|Not started|\d+ of \d+$|Done$|Left out.*"
    lines = [line.strip() for line in words.splitlines()]
    return sorted({line for line in lines if re.fullmatch(asked, line)})


def _bring_in(phone: Phone, job: Path) -> Hand:
    phone.open()
    phone.semantics()
    hand = Hand(phone)
    _chooser(hand).set_files(job)
    hand.button("Works").wait_for(state="attached")
    return hand


def _chooser(hand: Hand) -> FileChooser:
    """The chooser of files. A browser lets it come only soon after the tap: on a busy machine tap again."""
    for _ in range(4):
        try:
            with hand.phone.page.expect_file_chooser(timeout=15_000) as waiting:
                hand.tap("Bring in a job file")
            return waiting.value
        except PlaywrightTimeout:
            continue
    raise AssertionError("The chooser of files did not come.")


def _programme(hand: Hand) -> int:
    """From the readings to works that say why; how many."""
    hand.tap("Works")
    hand.tap("Propose from readings")
    hand.sees("From 2 readings")
    hand.tap("Smoother")
    hand.sees("Thatch is 17 mm deep")
    hand.sees("Levelling with a lute")  # which the wish has added
    take = hand.phone.page.get_by_role("button", name=re.compile(r"^Take all \d+ into the works"))
    for _ in range(60):
        if take.count():
            break
        hand.phone.page.mouse.wheel(0, 400)
        hand.phone.page.wait_for_timeout(120)
    count = int(re.findall(r"\d+", take.first.inner_text() or take.first.get_attribute("aria-label"))[0])
    hand.reach(take.first)
    take.first.click()
    hand.sees("Something is still missing here")  # what only the contractor can say
    return count


def _day(dying: Dying, steps: int) -> None:
    """Through all steps: mowing, verticutting left out, then the others in order."""
    hand = dying.hand
    hand.to_top()
    hand.tap("Day")
    hand.sees(f"Step 1 of {steps}")
    dying.tap("Start", "Running")
    dying.tap("Pause", "Paused")
    dying.tap("Go on", "Running")
    dying.tap("Finish", "Step 2 of")
    hand.to_top()
    hand.tap("Leave this step out")
    hand.tap("Too wet")
    dying.tap("Leave it out", "Step 3 of")
    hand.sees("Before you start")
    dying.tap("Start", "Running")
    dying.tap("One pass more", r"\b1 of 1\b")
    dying.tap("Take back", r"\b0 of 1\b")
    dying.tap("Again", r"\b1 of 1\b")
    dying.tap("Finish", "Step 4 of")
    for place in range(4, steps + 1):
        dying.tap("Start", "Running")
        last = place == steps
        dying.tap("Finish", f"{steps} of {steps} steps closed" if last else f"Step {place + 1} of")


def test_from_readings_to_aftercare_though_the_phone_dies_ten_times(phone: Phone, tmp_path: Path) -> None:
    job = tmp_path / "job.json"
    job.write_text(json.dumps(JOB), encoding="utf-8")
    hand = _bring_in(phone, job)
    steps = _programme(hand)
    dying = Dying(phone, taps=10 + 2 * (steps - 3))
    _day(dying, steps)
    assert dying.done == 10 + 2 * (steps - 3)
    _weeks_after(hand, tmp_path)


def _weeks_after(hand: Hand, folder: Path) -> None:
    hand.to_top()
    hand.tap("On to the aftercare")
    hand.sees("Keep the seedbed damp")
    hand.tap("Customer's calendar")
    file = hand.save_offered(folder)
    events = list(Calendar.from_ical(file.read_bytes()).walk("VEVENT"))
    assert any(str(event["summary"]) == "Water: Sundial green" for event in events)
    hand.to_top()
    hand.tap("Back")
    hand.tap("Back")
    hand.sees("Due: ")
