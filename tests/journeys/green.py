"""A green being measured on a small phone: what journeys over measuring do and read, again and again."""

import re
from collections.abc import Iterator
from typing import Any

from playwright.sync_api import Locator

from logic.measure.methods import methods, outline_of
from logic.records.drafts import given_of, with_method, with_value
from tests.journeys.hand import Hand
from tests.journeys.phone import until

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
            for path, label, text in boxes(key, item, value):
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


def boxes(key: str, item: Any, value: Any) -> Iterator[tuple[str, str, str]]:
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
