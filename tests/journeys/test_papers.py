"""From works to a quote and a job sheet on the phone: what the screen says is what the papers say."""

import io
import re
import zlib
from pathlib import Path

from pypdf import PdfReader

from tests.journeys.hand import Hand
from tests.journeys.phone import Phone, until


def words_of(file: Path) -> str:
    pages = PdfReader(io.BytesIO(file.read_bytes())).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def open_demo_visit(phone: Phone) -> Hand:
    """The first demo green's visit, at its papers."""
    phone.open()
    phone.semantics()
    hand = Hand(phone)
    hand.tap("Load the demo")
    for name in ("Orchard green", "Visit of"):
        button = phone.page.get_by_role("button", name=re.compile(name)).first
        button.wait_for(state="attached")
        button.click()
    hand.tap("Paper")
    return hand


def amount(hand: Hand, key: str) -> str:
    """The sum that stands at the end of a line of money."""
    place = hand.phone.by_id(f"amount-{key}").first
    place.wait_for(state="attached")
    return str(place.get_attribute("aria-label") or place.inner_text()).rpartition(", ")[2]


def test_a_quote_on_paper_is_the_quote_on_the_screen(phone: Phone, tmp_path: Path) -> None:
    hand = open_demo_visit(phone)
    hand.tap("Supply")
    hand.tap("Packs and prices")
    hand.tap("Add a pack")
    hand.type("In a pack", "25")
    hand.type("Price of one pack", "£4.95")
    until(lambda: amount(hand, "cost_sand") == "£54.45", 10, "11 bags at 4.95")
    hand.to_top()
    hand.tap("All papers")
    hand.tap("Quote")
    hand.type("One person for an hour", "£32")
    hand.type("Rate of tax", "20")
    until(lambda: amount(hand, "tax_20").startswith("£"), 10, "tax is worked out")
    gross, net = amount(hand, "gross"), amount(hand, "net")
    hand.to_top()
    hand.tap("All papers")
    hand.tap("Make the quote")
    text = words_of(hand.save_offered(tmp_path))
    assert f"Total before tax {net}" in text
    assert f"Total {gross}" in text
    assert "Sports sand 11 × 25 kg £54.45" in text
    hand.to_top()
    hand.tap("Quote")
    hand.tap("It is accepted")
    hand.sees("Accepted on")
    phone.kill()
    phone.switch_on()
    phone.open()
    phone.semantics()
    assert amount(Hand(phone), "gross") == gross


def test_a_job_sheet_is_looked_at_page_by_page_and_then_saved(phone: Phone, tmp_path: Path) -> None:
    hand = open_demo_visit(phone)
    hand.tap("Look at it: job sheet")
    hand.sees("Page 1 of")
    hand.sees("Fernhollow Fine Turf · ")
    seen = next(line for line in hand.everything().splitlines() if "Fernhollow Fine Turf · " in line)
    before = zlib.crc32(phone.page.screenshot())
    hand.tap("Next page")
    hand.sees("Page 2 of")
    assert zlib.crc32(phone.page.screenshot()) != before
    hand.tap("Share or save it")
    text = words_of(hand.save_offered(tmp_path))
    assert "11 × 25 kg bag" in seen
    spoken = [word for word in seen.split() if word not in ("Page", "1", "of")]
    assert all(word in text for word in spoken)
