"""Bad input in the real app: a job file that can't be read, values that can't be or are unusual."""

from collections.abc import Callable
from pathlib import Path

from tests.journeys.hand import Hand
from tests.journeys.phone import Host, Phone


def test_a_broken_job_file_is_refused_and_changes_nothing(
    phones: Callable[..., Phone], host: Host, tmp_path: Path
) -> None:
    phone = phones(host)
    phone.open()
    phone.semantics()
    hand = Hand(phone)
    bad = tmp_path / "job.json"
    bad.write_text('{"format": "swardwright-job/9", "outline": {}}')
    with phone.page.expect_file_chooser() as chooser:
        hand.tap("Bring in a job file")
    chooser.value.set_files(bad)
    hand.sees("newer")
    assert hand.is_seen("No greens in the book yet")


def test_impossible_and_unusual_values_get_one_sentence_and_the_typing_stays(
    phones: Callable[..., Phone], host: Host
) -> None:
    phone = phones(host, viewport={"width": 320, "height": 568})
    phone.open("?demo")
    phone.semantics()
    hand = Hand(phone)
    phone.page.get_by_role("button", name="Terrace lawn").click()
    phone.page.get_by_role("button", name="Visit of").click()
    hand.type("Width", "-9")
    hand.sees("The width must be more than 0.")
    hand.type("Width", "nine")
    hand.sees("“nine” is not a number.")
    assert hand.box("Width").input_value() == "nine"
    hand.type("Width", "900")
    hand.sees("Unusual width")
