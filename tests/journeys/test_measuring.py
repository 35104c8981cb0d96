"""Measuring with one hand on a small phone: every way of measuring, and nothing typed is ever lost.

One phone of 320 × 568 pixels for all of it, as in a day's work. What the screen shows is held against what
`logic` makes of the same job file; `logic` itself is held against published values in tests/checks.
"""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Playwright

from logic.measure.methods import methods, outline_of
from logic.measure.pacing import pace_of
from logic.records.drafts import draft_of, given_of, with_method, with_value
from logic.records.levelled import take_levels
from tests.journeys.hand import Hand
from tests.journeys.phone import Host, Phone, until

WIDTH, HEIGHT = 320, 568
EXAMPLES: dict[str, dict[str, Any]] = {
    "rectangle": {"length": "12 m", "width": "7.5 m"},
    "l_shape": {"length": "12 m", "width": "10 m", "cut_length": "7 m", "cut_width": "6 m"},
    "circle": {"diameter": "9 m"},
    "ellipse": {"length": "12 m", "width": "7.5 m"},
    "triangle": {"a": "9 m", "b": "8 m", "c": "11 m"},
    "trapezium": {"a": "10 m", "b": "7 m", "height": "6 m"},
    "parallelogram": {"base": "10 m", "height": "6 m"},
    "quadrilateral": {"ab": "10 m", "bc": "6.08 m", "cd": "8.06 m", "da": "7.07 m", "ac": "10.82 m"},
    "kite": {"long": "12 m", "cross": "7 m"},
    "sector": {"radius": "8 m", "angle": "90 degree"},
    "segment": {"chord": "12 m", "rise": "3 m"},
    "ring": {"outer": "14 m", "inner": "9 m"},
    "stadium": {"length": "12 m", "width": "6 m"},
    "regular": {"count": "6", "side": "4 m"},
    "offsets": {"spacing": "2 m", "offsets": ["0", "3.1 m", "4.2 m", "3 m", "0"]},
    "kidney": {"length": "11 m", "width_a": "5 m", "middle": "4.4 m", "width_b": "6 m"},
    "radii": {"radii": ["4.1 m", "4.3 m", "4.8 m", "5.3 m", "4.6 m", "4.2 m"]},
    "ties": {"sides": ["10 m", "6 m", "10 m", "6 m"], "ties": ["11.66 m"]},
    "coordinates": {"points": [{"x": "0 m", "y": "0 m"}, {"x": "9 m", "y": "1 m"}, {"x": "7 m", "y": "8 m"}]},
    "traverse": {
        "legs": [
            {"bearing": "0", "distance": "8 m"},
            {"bearing": "90", "distance": "7 m"},
            {"bearing": "180", "distance": "8.1 m"},
            {"bearing": "270", "distance": "7.1 m"},
        ]
    },
}


class Green:
    """The measuring page of one visit, and the draft that the visit ought to hold."""

    def __init__(self, hand: Hand) -> None:
        self.hand = hand
        self.page = hand.phone.page
        self.doc: dict[str, Any] = {}

    def tap(self, name: str, nth: int = 0) -> None:
        """Tap a button, looking for it down the whole page where it is not near."""
        button = self.hand.button(name, nth)
        if not button.count():
            self.hand.to_top()
        for _ in range(40):
            if button.count():
                break
            self.wheel(300)
        self.bring(button)
        button.click()

    def wheel(self, by: float) -> None:
        """Scroll the page."""
        self.page.mouse.move(WIDTH / 2, HEIGHT / 2)
        self.page.mouse.wheel(0, by)
        self.page.wait_for_timeout(150)

    def bring(self, thing: Locator) -> None:
        """Scroll until a thing is where a thumb is, clear of what stands above and below the page."""
        thing.wait_for(state="attached")
        before = None
        for _ in range(60):
            place = thing.bounding_box()
            middle = place["y"] + place["height"] / 2 if place else HEIGHT
            if 200 < middle < 0.75 * HEIGHT or middle == before:
                return  # there, or the page ends
            before = middle
            self.wheel(max(-300.0, min(300.0, middle - 0.55 * HEIGHT)))

    def shape(self, method: str) -> None:
        """Change to another way of measuring."""
        name = methods()[method].name
        if method != (self.doc.get("method") or "rectangle"):
            self.tap("Change shape")
            self.tap(name)
            until(lambda: self.hand.button("Change shape").count(), 30, f"{name} is chosen")
        self.doc = with_method(self.doc, method)

    def fill(self, values: dict[str, Any]) -> None:
        """Type readings, given as in a job file, into their boxes."""
        form = methods()[self.doc["method"]].form
        way = form.way({**given_of(self.doc), **values})
        if form.ways:
            self.tap(next(w.label for w in form.ways if w.key == way))
            self.doc = with_value(self.doc, "way", way)
        for key, value in values.items():
            item = form.field(key)
            for path, label, text in _boxes(key, item, value):
                self.type(label, text.split(" ")[0])
                self.doc = with_value(self.doc, path, text)

    def have(self, method: str) -> None:
        """A way of measuring with its example filled in, typed only where it is not there yet."""
        self.shape(method)
        held = given_of(self.doc)
        self.fill({key: value for key, value in EXAMPLES[method].items() if held.get(key) != value})

    def shows_what_logic_says(self) -> None:
        """Waits until the area on the screen is the one of the draft."""
        area = outline_of(given_of(self.doc)).area
        said = f"Area, {area.text()}, ± {area.text_with_margin().partition('± ')[2]}"
        until(lambda: self.area().startswith(said), 40, f"“{said}” instead of “{self.area()}”")

    def area(self) -> str:
        """What the area's button says, "" while there is none."""
        place = self.hand.phone.by_id("figure-area").first
        return str(place.get_attribute("aria-label") or place.inner_text()) if place.count() else ""

    def fits(self) -> None:
        """Nothing reaches beyond the sides of the screen."""
        wide = self.page.evaluate(
            """width => [...document.querySelectorAll('flt-semantics')]
                 .map(e => [e.getBoundingClientRect(), e])
                 .filter(([r]) => r.width && (r.left < -1 || r.right > width + 1))
                 .map(([r, e]) => `${r.left}..${r.right} ${e.getAttribute('aria-label') || e.innerText}`)""",
            WIDTH,
        )
        assert wide == []

    def box(self, label: str, last: bool = False) -> Locator:
        """The box with this label, the lowest of them if `last`, scrolled to the middle of the screen."""
        found = self.page.get_by_label(re.compile(rf"^{re.escape(label)}(\s|,|$)"))
        box = found.last if last else found.first
        self.bring(box)
        box.click()
        until(lambda: box.evaluate("e => e === document.activeElement"), 20, f"{label} takes the focus")
        self.page.wait_for_timeout(200)
        return box

    def type(self, label: str, text: str, last: bool = False) -> None:
        """Put text into the box with this label, as a thumb would."""
        box = self.box(label, last)
        self.page.keyboard.press("Control+A")
        self.page.keyboard.press("Delete")
        self.page.keyboard.type(text, delay=25)
        self.page.wait_for_timeout(50)
        assert box.input_value() == text

    def reads(self, label: str, text: str) -> None:
        """Waits until the box with this label holds a text; only a box in use tells it."""
        box = self.box(label)
        until(lambda: box.input_value() == text, 20, f"{label} holds {text}")


def _boxes(key: str, item: Any, value: Any) -> Iterator[tuple[str, str, str]]:
    """Path, label and text of every box that a value of a job file fills."""
    if isinstance(value, str):
        yield key, item.label, value
        return
    for place, entry in enumerate(value):
        name = item.entry_name(place + 1)
        if isinstance(entry, str):
            yield f"{key}.{place}", name, entry
            continue
        for cell in item.row:
            yield f"{key}.{place}.{cell.key}", f"{name}, {cell.name()}", entry[cell.key]


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
        *_, (_, label, text) = _boxes(key, methods()[method].form.field(key), value)
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
