"""The records of a business on a small phone: from a contact card to a client forgotten for good."""

import io
import json
import re
import zipfile
from pathlib import Path

from tests.journeys.hand import Hand
from tests.journeys.phone import Phone, until

SECRET = "Zephyrine"  # in every text of the client that is forgotten
CARD = f"""BEGIN:VCARD
VERSION:3.0
FN:{SECRET} Quill
TEL;TYPE=CELL:07700 900123
ADR:;;3 {SECRET} Lane;Ely;;;
END:VCARD
BEGIN:VCARD
VERSION:3.0
FN:{SECRET} A. Quill
EMAIL:quill@{SECRET.lower()}.example.com
END:VCARD
"""

#: All bytes of the app's private files that the page may read, as Latin-1 text.
RAW = """async () => {
  const texts = [];
  const walk = async folder => {
    for await (const entry of folder.values())
      if (entry.kind === "directory") await walk(entry);
      else texts.push(new TextDecoder("latin1").decode(await (await entry.getFile()).arrayBuffer()));
  };
  await walk(await navigator.storage.getDirectory());
  return texts.join("\\n");
}"""


def choose(hand: Hand, button: str, name: str, data: bytes) -> None:
    """Tap what asks for a file, and give it this one."""
    with hand.phone.page.expect_file_chooser() as asked:
        hand.tap(button)
    asked.value.set_files({"name": name, "mimeType": "application/octet-stream", "buffer": data})


def tap_first(hand: Hand, begins: str) -> None:
    """Tap the first button whose name begins so."""
    button = hand.phone.page.get_by_role("button", name=re.compile(rf"^{re.escape(begins)}")).first
    button.wait_for(state="attached")
    hand.reach(button)
    button.click()


def raw(phone: Phone) -> str:
    """The raw bytes of the store."""
    return str(phone.page.evaluate(RAW))


def test_a_client_from_contact_card_to_the_last_byte(phones, host, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    phone: Phone = phones(host, viewport={"width": 320, "height": 568})
    phone.open("#/records/clients")
    phone.semantics()
    hand = Hand(phone)
    hand.sees("No clients yet")
    choose(hand, "Bring in contacts", "two.vcf", CARD.encode())
    hand.sees("2 brought in")

    # A green, and a form that is saved by leaving it.
    tap_first(hand, f"{SECRET} Quill")
    hand.sees("Add a green")
    hand.tap("Add a green")
    hand.type("Name of the green", f"{SECRET} green")
    hand.tap("Save")
    tap_first(hand, f"{SECRET} Quill")
    hand.tap("Name and contacts")
    hand.type("Note", "beware of the geese")
    hand.to_top()
    hand.tap("Back")
    hand.sees("Saved: client")

    # Merging asks where the two differ, and one undo takes it back.
    tap_first(hand, f"{SECRET} Quill")
    hand.tap("Merge with another")
    tap_first(hand, f"{SECRET} A. Quill")
    hand.sees("Where they differ")
    hand.tap("Make them one")
    hand.sees("The two are one now")
    hand.to_top()
    hand.sees(f"quill@{SECRET.lower()}.example.com")
    hand.tap("Undo")
    hand.sees("Taken back")

    # The history tells what changed, and brings an old value back.
    hand.tap("History")
    hand.sees("now: beware of the geese")
    hand.tap("Bring back: note")
    hand.sees("is as it was then")
    hand.to_top()
    hand.tap("Back")
    hand.sees("Add a green")

    # Everything in one file.
    phone.page.goto(host.url + "#/everything")
    hand.tap("Save it all")
    book = hand.save_offered(tmp_path).read_bytes()
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        kept = json.loads(archive.read("records.json"))
    assert sorted(one["name"] for one in kept["clients"].values()) == [
        f"{SECRET} A. Quill",
        f"{SECRET} Quill",
    ]

    # Into the bin, out again, and in again from the file.
    phone.page.goto(host.url + "#/records/clients")
    tap_first(hand, f"{SECRET} A. Quill")
    hand.tap("Put in the bin")
    hand.sees("is in the bin")
    hand.sees("Bring in contacts")
    phone.page.goto(host.url + "#/bin")
    hand.tap("Let go")
    hand.sees("The bin is empty")
    phone.page.goto(host.url + "#/everything")
    choose(hand, "Choose a file", "book.zip", book)
    hand.sees("1 added")

    # Forgotten for good: both, and no byte is left of either.
    assert SECRET in raw(phone)
    for _ in range(2):
        phone.page.goto(host.url + "#/records/clients")
        tap_first(hand, SECRET)
        hand.tap("Copy or delete their data")
        hand.tap("Delete for good")
        hand.tap("Yes, delete for good")
        hand.sees("gone from this phone for good")
    until(lambda: SECRET.lower() not in raw(phone).lower(), 5, "no byte tells of the client")
    phone.kill()
    phone.switch_on()
    phone.open("#/records")
    phone.semantics()
    hand = Hand(phone)
    hand.type("Find in all records", SECRET)
    hand.sees("Nothing in the book matches")
    assert SECRET.lower() not in raw(phone).lower()
