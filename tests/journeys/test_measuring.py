"""Measuring with one hand on a small phone: every way of measuring, and nothing typed is ever lost.

One phone of 320 × 568 pixels for all of it, as in a day's work. What the screen shows is held against what
`logic` makes of the same job file; `logic` itself is held against published values in tests/checks.
"""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Playwright

from logic.measure.methods import methods, outline_of
from logic.measure.pacing import pace_of
from logic.records.drafts import draft_of, given_of, with_value
from logic.records.levelled import take_levels
from tests.journeys.green import EXAMPLES, HEIGHT, WIDTH, Green, boxes
from tests.journeys.hand import Hand
from tests.journeys.phone import Host, Phone, until


@pytest.fixture(scope="module")
def green(playwright: Playwright, site: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Green]:
    host = Host(site)
    phone = Phone(
        playwright,
        tmp_path_factory.mktemp("measuring"),
        host,
        viewport={"width": WIDTH, "height": HEIGHT},
        device_scale_factor=1,
    )
    phone.open()
    phone.semantics()
    hand = Hand(phone)
    hand.tap("Add your first green")
    hand.type("Name of the green", "Sundial green")
    hand.tap("Save")
    hand.tap("Start a visit")
    hand.button("Change shape").wait_for(state="attached")
    yield Green(hand)
    phone.switch_off()
    host.stop()
    assert phone.troubles == []
    assert phone.left_the_origin() == []


@pytest.mark.parametrize("method", EXAMPLES)
def test_each_way_of_measuring_gives_its_area(green: Green, method: str) -> None:
    green.shape(method)
    green.fill(EXAMPLES[method])
    green.shows_what_logic_says()
    green.fits()


def test_no_way_of_measuring_is_left_out_here() -> None:
    assert set(methods()) == {*EXAMPLES, "compound", "twice"}


def test_parts_are_added_and_taken_off(green: Green) -> None:
    green.shape("compound")
    green.tap("Add a part")
    green.type("Length", "10")
    green.type("Width", "6")
    green.tap("Take a part off")
    green.tap("Change shape", 1)
    green.tap("Circle")
    green.type("Diameter", "2")
    green.fits()
    parts = [
        {"sign": "+", "outline": {"method": "rectangle", "length": "10 m", "width": "6 m"}},
        {"sign": "-", "outline": {"method": "circle", "diameter": "2 m"}},
    ]
    green.doc = with_value(
        green.doc, "parts", draft_of({"method": "compound", "parts": parts})["drafts"]["compound"]["parts"]
    )
    green.shows_what_logic_says()


def test_switching_to_and_fro_loses_nothing(green: Green) -> None:
    tour = ("coordinates", "offsets", "ring")
    for method in tour:
        green.have(method)
    for method in tour:
        green.shape(method)
        key, value = list(EXAMPLES[method].items())[-1]
        *_, (_, label, text) = boxes(key, methods()[method].form.field(key), value)
        green.reads(label, text.split(" ")[0])
        green.shows_what_logic_says()


def test_an_impossible_value_gives_one_sentence_and_stays_in_its_box(green: Green) -> None:
    green.have("ring")
    green.type("Inner diameter", "-9")
    green.hand.sees("The inner diameter must be more than 0.")
    assert green.area() == ""
    green.reads("Inner diameter", "-9")
    green.type("Inner diameter", "9")
    green.shows_what_logic_says()


def test_an_entry_is_inserted_and_taken_out_with_a_way_back(green: Green) -> None:
    green.have("offsets")
    green.tap("Offset 3: insert or take out")
    green.tap("Insert one before")
    green.reads("Offset 4", "4.2")
    green.reads("Offset 3", "")
    green.type("Offset 3", "3.9")
    green.doc = with_value(green.doc, "offsets", ["0", "3.1 m", "3.9 m", "4.2 m", "3 m", "0"])
    green.shows_what_logic_says()
    green.tap("Offset 2: insert or take out")
    green.tap("Take out offset 2")
    green.reads("Offset 2", "3.9")
    green.tap("Undo", 1)
    green.reads("Offset 2", "3.1")
    green.shows_what_logic_says()


def test_enter_goes_on_to_the_next_entry(green: Green) -> None:
    green.have("radii")
    second = green.hand.box("Radius 6")
    green.box("Radius 5")
    green.page.keyboard.press("Enter")
    until(lambda: second.evaluate("e => e === document.activeElement"), 20, "Enter goes on to radius 6")


def test_a_tapped_length_on_the_sketch_is_changed_there(green: Green) -> None:
    green.have("rectangle")
    green.tap("7.5 m: change it")
    green.type("Width", "8", last=True)
    green.doc = with_value(green.doc, "width", "8 m")
    green.shows_what_logic_says()
    green.fits()
    green.tap("Done")


def _said(place: Locator) -> str:
    return str(place.get_attribute("aria-label") or place.inner_text())


def test_a_second_measurement_is_held_against_the_first(green: Green) -> None:
    green.have("rectangle")
    green.tap("Measure again")
    green.type("Length", "12.02", last=True)
    green.type("Width", "7", last=True)
    verdict = green.hand.phone.by_id("twice").first
    until(lambda: "They disagree" in _said(verdict), 30, "the two disagree")
    green.shows_what_logic_says()
    green.type("Width", "7.51", last=True)
    until(lambda: "They agree" in _said(verdict), 30, "the two agree")
    again = {"method": "rectangle", "length": "12.02 m", "width": "7.51 m"}
    both = outline_of({"method": "twice", "first": given_of(green.doc), "second": again}).area
    assert both.plus_minus < outline_of(given_of(green.doc)).area.plus_minus
    until(lambda: green.area().startswith(f"Area, {both.text()}"), 20, "both together are used")
    green.fits()
    green.tap("Take it out")
    green.shows_what_logic_says()


def test_levels_give_the_fill_to_the_topdressing(green: Green) -> None:
    green.tap("Take levels")
    green.type("Hollow 1, length", "2")
    green.type("Hollow 1, width", "1.5")
    green.type("Depth 1", "40")
    hollow = {"length": "2 m", "width": "1.5 m", "depths": ["40 mm"]}
    found, _ = take_levels({"method": "hollows", "hollows": [hollow]})
    assert found is not None
    said = f"{found.volume.name}, {found.volume.text()}"
    until(lambda: green.hand.figure("hollow_volume").startswith(said), 30, said)
    green.fits()
    green.tap("Heights on a grid")
    green.tap("Hollows one by one")
    green.reads("Hollow 1, length", "2")
    green.tap("Put it into the topdressing")
    green.hand.sees("The topdressing makes these hollows up.")
    green.tap("Fold levels away")


def test_offsets_are_paced_and_counted_by_tapping(green: Green) -> None:
    """A pace is walked once; then every offset is counted on the pad, one after the other."""
    hand, pad = green.hand, green.hand.phone.by_id("count-pad")
    hand.to_top()
    green.tap("Measure my pace")
    green.type("Who walks", "Jo")
    for place, count in enumerate(("27", "26.5", "27"), start=1):
        green.type(f"Walk {place}", count)
    green.fits()
    green.tap("Use this pace")
    hand.sees("Jo's pace: 0.745 m")
    green.have("kite")
    green.tap("in paces", 0)
    green.tap("Count the long diagonal")
    for _ in range(13):
        pad.click()
    green.tap("Undo")
    green.tap("+ ½")
    green.fits()
    green.tap("Use 12.5 paces")
    green.reads("Long diagonal", "12.5")
    green.doc = with_value(green.doc, "long", "12.5 paces")
    pace = pace_of({"course": "20 m", "counts": ["27", "26.5", "27"]})
    area = outline_of(given_of(green.doc), pace).area
    until(lambda: green.area().startswith(f"Area, {area.text()}"), 30, area.text())


def test_counting_goes_on_from_entry_to_entry(green: Green) -> None:
    hand, pad = green.hand, green.hand.phone.by_id("count-pad")
    green.have("radii")
    green.tap("in paces for the radii")
    green.tap("Count radius 7")
    for _ in range(6):
        pad.click()
    green.tap("Use, then the next")
    hand.sees("Radius 8")
    for _ in range(5):
        pad.click()
    green.tap("Use 5 paces")
    green.reads("Radius 8", "5")
    green.reads("Radius 7", "6")


WALK = """([hertz, seconds]) => new Promise(done => {
  const start = performance.now();
  const beat = setInterval(() => {
    const t = (performance.now() - start) / 1000;
    const z = 9.81 + 3 * Math.sin(2 * Math.PI * hertz * t);
    dispatchEvent(new DeviceMotionEvent("devicemotion", {accelerationIncludingGravity: {x: 0.2, y: 0.4, z}}));
    if (t > seconds) { clearInterval(beat); done(); }
  }, 15);
})"""


def test_the_phone_suggests_a_count_and_nothing_is_lost_where_it_can_not(green: Green) -> None:
    hand, page, pad = green.hand, green.page, green.hand.phone.by_id("count-pad")
    green.tap("Count radius 9")
    for _ in range(3):
        pad.click()
    _let_the_phone_count(green, "denied")
    hand.sees("The motion sensor was not allowed.")
    _let_the_phone_count(green, "granted")
    hand.sees("There are no motion readings here.")
    assert hand.button("Use 3 paces").count() == 1
    _let_the_phone_count(green, "granted")
    page.evaluate(WALK, [1.8, 6])
    hand.sees("The phone suggests")
    said = re.search(r"The phone suggests (\d+) paces", hand.everything())
    assert said is not None
    assert abs(int(said[1]) - 1.8 * 6) <= 2
    assert hand.button("Use 3 paces").count() == 1  # nothing is taken over without a tap
    green.fits()
    green.tap(f"Take {said[1]}")
    green.tap(f"Use {said[1]} paces")
    green.reads("Radius 9", said[1])


def _let_the_phone_count(green: Green, answer: str) -> None:
    """Tap for the motion sensor, and answer the phone's question."""
    green.page.evaluate("answer => { DeviceMotionEvent.requestPermission = async () => answer; }", answer)
    green.tap("Let the phone count")
    green.page.get_by_role("button", name="Use the motion sensor").click()


ANDROID = (
    "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/126.0 Mobile Safari/537.36"
)


def test_a_length_is_typed_on_keys_with_a_decimal_point(phones: Callable[..., Phone], host: Host) -> None:
    """Without a screen reader, as on most phones: the semantics tree only shows where the box is."""
    phone = phones(host, user_agent=ANDROID, has_touch=True)
    phone.open()
    phone.semantics()
    hand = Hand(phone)
    hand.tap("Add your first green")
    hand.type("Name of the green", "Sundial green")
    hand.tap("Save")
    hand.tap("Start a visit")
    hand.button("Change shape").wait_for(state="attached")
    place = hand.box("Length").bounding_box()
    assert place is not None
    phone.reload()

    def keys() -> str:
        phone.page.touchscreen.tap(place["x"] + place["width"] / 2, place["y"] + place["height"] / 2)
        phone.page.wait_for_timeout(300)
        return str(phone.page.evaluate("document.activeElement.inputMode"))

    until(lambda: keys() == "decimal", 20, "the keys for a number are asked for")
