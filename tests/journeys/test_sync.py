"""Two phones and an office: paired, apart with no signal, a conflict shown and decided, together again."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.journeys.hand import Hand
from tests.journeys.office import Office
from tests.journeys.phone import Phone, until


@pytest.fixture
def office(site: Path, tmp_path: Path) -> Iterator[Office]:
    made = Office(site, tmp_path)
    yield made
    made.close()


def _look(phone: Phone, name: str) -> None:
    """A picture of the screen, where one was asked for."""
    if folder := os.environ.get("SWARDWRIGHT_PICTURES"):
        phone.page.screenshot(path=f"{folder}/sync-{name}.png")


def _joined(phones: Callable[..., Phone], office: Office, name: str) -> Hand:
    """A phone that opened a pairing link and joined."""
    phone = phones(office)
    phone.open(f"#pair={office.code()}")
    phone.semantics()
    hand = Hand(phone)
    hand.sees("Work with an office")
    _look(phone, f"{name}-join")
    hand.type("Name of this phone", name)
    hand.tap("Join")
    hand.sees("Saved on this phone and with the office")
    return hand


def _at(hand: Hand, place: str, text: str) -> None:
    hand.phone.page.evaluate(f"location.hash = '{place}'")
    hand.to_top()
    hand.sees(text)


def _write_firm(hand: Hand, firm: str) -> None:
    """Type the firm's name until the app has heard it: a busy machine may swallow the first keys."""
    for _ in range(3):
        _at(hand, "/settings", "At the head of your papers")
        hand.type("Firm", firm)
        _at(hand, "/office", "Sync now")
        try:
            return hand.sees("to send", 10)
        except AssertionError:
            hand.to_top()
    raise AssertionError(f"{firm} was never heard: {hand.everything()}")


def test_two_phones_meet_at_the_office_part_and_meet_again(
    phones: Callable[..., Phone], office: Office
) -> None:
    ann = _joined(phones, office, "Ann's phone")
    _at(ann, "/new", "Name of the green")
    ann.type("Name of the green", "Sundial green")
    ann.tap("Save")
    bob = _joined(phones, office, "Bob's phone")
    _at(bob, "/", "Sundial green")
    _look(bob.phone, "list")

    office.stop()
    for hand, firm in ((ann, "Fen"), (bob, "Fen & Co")):
        _write_firm(hand, firm)
    _look(bob.phone, "waiting")

    office.start()
    ann.tap("Sync now")
    ann.sees("Saved on this phone and with the office")
    bob.tap("Sync now")
    bob.sees("1 thing to decide")
    _look(bob.phone, "conflict")

    office.stop()  # deciding needs no signal
    _at(bob, "/decide", "Settings: firm")
    assert bob.is_seen("Fen & Co")
    assert bob.is_seen("Ann's phone")
    _look(bob.phone, "decide")
    bob.tap("Keep this", 1)
    bob.sees("Nothing to decide")
    office.start()
    _at(bob, "/office", "Sync now")
    bob.tap("Sync now")
    bob.sees("Saved on this phone and with the office")
    ann.tap("Sync now")
    until(lambda: _firm(ann) == "Fen", 30, "Ann's phone has what Bob chose")
    assert _firm(bob) == "Fen"


def _firm(hand: Hand) -> str:
    _at(hand, "/settings", "At the head of your papers")
    return hand.reads("Firm")
