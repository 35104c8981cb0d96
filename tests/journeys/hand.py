"""A hand that works the app: taps by what is written on things, types into boxes by their label."""

import re
import time
from pathlib import Path

from playwright.sync_api import Locator

from tests.journeys.phone import Phone, until

_WORDS = """() => {
  const host = document.querySelector('flt-semantics-host') || document.body;
  const said = [...host.querySelectorAll('*')].map(e => [e.getAttribute('aria-label'), e.value].join(' '));
  return host.innerText + '\\n' + said.join('\\n');
}"""


class Hand:
    """Taps and types on a phone whose semantics tree is on."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone

    def button(self, name: str, nth: int = 0) -> Locator:
        """The button with exactly this name."""
        return self.phone.page.get_by_role("button", name=name, exact=True).nth(nth)

    def tap(self, name: str, nth: int = 0) -> None:
        """Tap the button with this name once it is there, scrolled to where a thumb reaches it."""
        button = self.button(name, nth)
        button.wait_for(state="attached")
        self.reach(button)
        button.click()

    def reach(self, thing: Locator) -> None:
        """Scroll the page until the middle of a thing is on the screen."""
        page = self.phone.page
        height = (page.viewport_size or {"height": 844})["height"]
        for _ in range(60):
            box = thing.bounding_box()
            if box is None:
                return
            middle = box["y"] + box["height"] / 2
            if 0 < middle < height - 8:
                return
            page.mouse.move(160, height / 2)
            page.mouse.wheel(0, 240 if middle >= height - 8 else -240)
            page.wait_for_timeout(120)

    def box(self, label: str) -> Locator:
        """The text box with this label (its name may go on with its hint)."""
        return self.phone.page.get_by_label(re.compile(rf"^{re.escape(label)}(\s|,|$)")).first

    def type(self, label: str, text: str) -> None:
        """Put text into the box with this label, as a thumb would."""
        box = self.box(label)
        box.wait_for(state="attached")
        self.reach(box)
        keyboard = self.phone.page.keyboard
        # The engine takes a focused box over a moment later, and nothing on the page tells when. People type
        # once the cursor blinks; on a busy machine that moment is long.
        for moment in (150, 600, 2000):
            box.click()
            until(lambda: box.evaluate("e => e === document.activeElement"), 20, f"{label} takes the focus")
            self.phone.page.wait_for_timeout(moment)
            keyboard.press("Control+A")
            keyboard.press("Delete")
            keyboard.type(text, delay=25)
            self.phone.page.wait_for_timeout(50)
            if box.input_value() == text:
                return
        until(lambda: box.input_value() == text, 20, f"{label} shows {text}")

    def reads(self, label: str) -> str:
        """What stands in the box with this label: the tree has it once the box is tapped."""
        box = self.box(label)
        box.wait_for(state="attached")
        self.reach(box)
        box.click()
        return str(until(lambda: box.input_value(), 20, f"{label} says what is in it"))

    def sees(self, text: str, seconds: float = 40) -> None:
        """Waits until this text is on the screen, in words or in a label, scrolling down the page for it."""
        start = time.monotonic()

        def looked() -> bool:
            if self.is_seen(text):
                return True
            if time.monotonic() - start > 1:
                self.phone.page.mouse.move(195, 400)
                self.phone.page.mouse.wheel(0, 300)
                self.phone.page.wait_for_timeout(200)
            return False

        until(looked, seconds, f"“{text}” is on the screen")

    def to_top(self) -> None:
        """Scroll the page back to its top."""
        self.phone.page.mouse.move(195, 400)
        self.phone.page.mouse.wheel(0, -20_000)
        self.phone.page.wait_for_timeout(300)

    def is_seen(self, text: str) -> bool:
        """Whether this text is on the screen now."""
        return bool(text in self.everything())

    def everything(self) -> str:
        """All words and labels on the screen."""
        return str(self.phone.page.evaluate(_WORDS))

    def figure(self, key: str) -> str:
        """What a figure's button says: name, value, ±, how much to allow."""
        place = self.phone.by_id(f"figure-{key}").first
        place.wait_for(state="attached")
        return str(place.get_attribute("aria-label") or place.inner_text())

    def save_offered(self, folder: Path) -> Path:
        """Save the file that the page offers; returns where it is."""
        with self.phone.page.expect_download() as waiting:
            self.phone.page.get_by_role("button", name="Save to this phone").click()
        path = folder / waiting.value.suggested_filename
        waiting.value.save_as(path)
        self.phone.page.get_by_role("button", name="Close", exact=True).last.click()
        return path
