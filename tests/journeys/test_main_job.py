"""The main job with no signal: first visit, cold start, pace a green, works, PDF, kill, all still there."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from logic.measure.methods import outline_of
from logic.measure.pacing import pace_of
from tests.journeys.hand import Hand
from tests.journeys.phone import Host, Phone, until

CLIENT = 'Ms <b>&" <img src=x> Quill'


@pytest.fixture
def offline(phone: Phone, host: Host) -> Phone:
    """A phone that has visited the app once and has had no signal since."""
    phone.open()
    phone.wait_stored()
    host.stop()
    phone.kill()
    phone.switch_on()
    phone.open()
    phone.semantics()
    return phone


def _new_green(hand: Hand) -> None:
    hand.tap("Add your first green")
    hand.type("Name of the green", "Sundial green")
    hand.type("Client's name", CLIENT)
    hand.tap("Save")
    hand.tap("Start a visit")


def _walk_the_course(hand: Hand) -> None:
    hand.tap("Measure my pace")
    hand.tap("Count a walk by tapping")
    pad = hand.phone.by_id("count-pad")
    for _ in range(28):
        pad.click()
    hand.tap("Undo")
    hand.tap("Use 27 paces")
    hand.type("Walk 2", "26,5")
    hand.type("Walk 3", "27")
    hand.tap("Use this pace")


def _pace_the_green(hand: Hand) -> None:
    hand.tap("in paces", 0)
    hand.button("Count the length").wait_for(state="attached")
    hand.type("Length", "16")
    hand.tap("in paces", 1)
    hand.button("Count the width").wait_for(state="attached")
    hand.type("Width", "9.5")
    wanted = outline_of(
        {"method": "rectangle", "length": "16 paces", "width": "9.5 paces"},
        pace_of({"course": "20 m", "counts": [27, 26.5, 27]}),
    ).area.text()
    until(lambda: wanted in hand.figure("area"), 20, f"the area is {wanted}")


def _plan(hand: Hand) -> None:
    hand.tap("Works")
    hand.tap("Overseeding")
    hand.type("Rate of seed", "8")
    hand.sees("Seed to weigh out")
    hand.tap("Close")
    hand.tap("Add a work")
    hand.tap("Drenching")
    hand.sees("Mix in all")
    hand.tap("Close")


def _pdf_text(path: Path) -> str:
    text = "\n".join(page.extract_text() for page in PdfReader(path).pages)
    return " ".join(text.replace("\u00a0", " ").split())


def test_pace_a_green_and_hand_over_the_pdf_with_no_signal(offline: Phone, tmp_path: Path) -> None:
    hand = Hand(offline)
    _new_green(hand)
    _walk_the_course(hand)
    _pace_the_green(hand)
    area = hand.figure("area")
    _plan(hand)
    hand.tap("Paper")
    hand.type("A word to the customer", "Mind the <i>dog</i> & the cat")
    hand.tap("Save the job as a file")
    job = hand.save_offered(tmp_path)
    hand.tap("Make the summary")
    offline.page.get_by_role("button", name="Save to this phone").wait_for(timeout=60_000)
    paper = hand.save_offered(tmp_path)

    text = _pdf_text(paper)
    assert CLIENT in text
    assert "Mind the <i>dog</i> & the cat" in text
    subprocess.run(["qpdf", "--check", paper], check=True, capture_output=True)
    _all_agree(area, hand, text, job)

    offline.kill()
    offline.switch_on()
    offline.open()
    offline.semantics()
    hand.sees("A word to the customer")  # reopened where it was left
    assert hand.reads("A word to the customer") == "Mind the <i>dog</i> & the cat"
    hand.tap("Measure")
    assert hand.figure("area") == area


def _all_agree(area: str, hand: Hand, text: str, job: Path) -> None:
    """The numbers in the PDF equal those on screen equal those of `swardwright reckon`."""
    run = subprocess.run(
        [sys.executable, "-m", "mobile_app.cli", "reckon", str(job)],
        check=True,
        capture_output=True,
        text=True,
    )
    reckoned = json.loads(run.stdout)
    assert f"{reckoned['area']['value']:.1f} m²" in area
    assert f"{reckoned['area']['value']:.1f} ± {reckoned['area']['plus_minus']:.1f} m²" in text
    figures = {f["key"]: f for work in reckoned["works"] for f in work["figures"]}
    assert [work["operation"] for work in reckoned["works"]] == ["overseeding", "drenching"]
    hand.tap("Works")
    hand.tap("Open", 0)
    seed = figures["seed_mass"]
    assert f"{seed['value']:.0f} g" in hand.figure("seed_mass")
    assert f"{seed['value']:.0f} ± {seed['plus_minus']:.0f} g" in text
    hand.tap("Close")
    hand.tap("Paper")
