"""Cards read and written against vobject, a reader and writer of vCards made by others."""

import contextlib
import re

import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BrokenFile
from logic.records.types import Client
from logic.records.vcard import MOST, read, write

#: Anything a person can type: no control characters, no half surrogates.
TEXT = st.text(st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=90).map(str.strip)
LINES = st.lists(TEXT.filter(bool), max_size=3).map("\n".join)
NAME = TEXT.filter(bool)
PHONE = st.from_regex(r"\+?[0-9][0-9 ]{5,14}[0-9]", fullmatch=True)
EMAIL = st.from_regex(r"[a-z]{1,8}@[a-z]{1,8}\.example\.com", fullmatch=True)
CONTACT = st.fixed_dictionaries({"label": NAME, "phone": PHONE}, optional={"email": EMAIL, "address": NAME})
CLIENTS = st.builds(
    Client,
    name=NAME,
    email=st.one_of(st.just(""), EMAIL),
    phone=st.one_of(st.just(""), PHONE),
    address=LINES,
    note=LINES,
    contacts=st.lists(CONTACT, max_size=2).map(tuple),
)


def same(one: Client, other: Client) -> bool:
    names = ("id", "name", "email", "phone", "address", "note")
    return all(getattr(one, name) == getattr(other, name) for name in names)


@settings(max_examples=150, deadline=None)
@given(st.lists(CLIENTS, min_size=1, max_size=3), st.sampled_from(["3.0", "4.0"]))
def test_what_is_written_is_read_again_with_contacts_and_id(clients: list[Client], version: str) -> None:
    data = write(clients, version)
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    again = read(data)
    assert all(map(same, clients, again))
    assert [one.contacts for one in again] == [one.contacts for one in clients]


@settings(max_examples=100, deadline=None)
@given(CLIENTS)
def test_vobject_reads_what_we_write(client: Client) -> None:
    card = vobject.readOne(write([client]).decode("utf-8"))
    assert card.fn.value == client.name
    assert card.version.value == "3.0"
    if client.phone:
        assert card.tel.value == client.phone
    if client.email:
        assert card.email.value == client.email
    if client.address:
        street = card.adr.value.street
        assert (street if isinstance(street, str) else ",".join(street)) == client.address
    if client.note:
        assert card.note.value == client.note


@settings(max_examples=100, deadline=None)
@given(NAME, PHONE, EMAIL, LINES, NAME, NAME)
def test_we_read_what_vobject_writes(
    name: str, phone: str, email: str, note: str, street: str, city: str
) -> None:
    card = vobject.vCard()
    card.add("fn").value = name
    card.add("n").value = vobject.vcard.Name(family=name)
    card.add("tel").value = phone
    card.add("email").value = email
    card.add("note").value = note
    card.add("adr").value = vobject.vcard.Address(street=street, city=city)
    (client,) = read(card.serialize().encode("utf-8"))
    assert (client.name, client.phone, client.email, client.note) == (name, phone, email, note)
    assert client.address == f"{street}\n{city}"


OLD = (
    b"BEGIN:VCARD\r\nVERSION:2.1\r\nN;CHARSET=UTF-8;ENCODING=QUOTED-PRINTABLE:Gr=C3=BCn;Jos=C3=A9;;;\r\n"
    b"TEL;CELL;PREF:07700 900456\r\nTEL;HOME:01632 960001\r\n"
    b"NOTE;ENCODING=QUOTED-PRINTABLE;CHARSET=UTF-8:gate code=0D=0A=\r\n12=34 by the shed\r\nEND:VCARD\r\n"
)


def test_cards_of_old_phones_and_of_others_are_read() -> None:
    (old,) = read(OLD)
    assert (old.name, old.phone, old.note) == ("José Grün", "07700 900456", "gate code\n124 by the shed")
    assert old.contacts == ({"label": "home", "phone": "01632 960001"},)
    four = (
        'BEGIN:VCARD\nVERSION:4.0\nFN:Ada Fen\nTEL;VALUE=uri;TYPE="cell,voice":tel:+44-7700-900123\n'
        "item1.EMAIL:son@example.com\nitem1.X-ABLabel:_$!<Son>!$_\n"
        'ADR;LABEL="1 Marsh Lane: rear":;;1 Marsh Lane;Ely;;CB7;UK\n'
        "ORG:Fen\\, Sons;Turf\nPHOTO:x\nEND:VCARD\n"
        "BEGIN:VCARD\nVERSION:3.0\nORG:Lower Pit Sands;Yard\nTEL:12\nEND:VCARD\nBEGIN:VCARD\nEND:VCARD\n"
    )
    for code in ("utf-8-sig", "utf-16"):
        ada, pit = read(four.encode(code))
        assert (ada.phone, ada.address) == ("+44-7700-900123", "1 Marsh Lane\nEly\nCB7\nUK")
        assert ada.contacts == ({"label": "Son", "email": "son@example.com"},)
        assert (pit.name, pit.phone) == ("Lower Pit Sands Yard", "12")
    (odd,) = read("BEGIN:VCARD\nFN:Zoë\nEND:VCARD".encode("cp1252"))
    assert odd.name == "Zoë"


@settings(max_examples=150)
@given(st.binary(max_size=400), st.binary(max_size=40))
def test_any_bytes_are_read_or_refused_with_a_sentence(data: bytes, inside: bytes) -> None:
    for text in (data, b"BEGIN:VCARD\nFN" + inside + b"\nTEL;" + data + b"\nEND:VCARD"):
        with contextlib.suppress(BrokenFile):
            assert all(client.name or client.phone for client in read(text) if not client.contacts)


def test_a_file_without_cards_or_with_too_many_is_refused() -> None:
    for data in (
        b"",
        b"hello",
        b"BEGIN:VCARD\nFN:x",
        b"x" * 8_000_001,
        b"BEGIN:VCARD\nEND:VCARD\n" * (MOST + 1),
    ):
        with pytest.raises(BrokenFile):
            read(data)


def test_a_line_that_a_client_typed_cannot_end_the_card() -> None:
    nasty = Client(name="x\r\nEND:VCARD", note="a\nBEGIN:VCARD\nFN:Other\\;,\rEND:VCARD")
    text = write([nasty]).decode()
    assert len(re.findall(r"(?m)^(?:BEGIN|END):VCARD", text)) == 2
    (again,) = read(text.encode())
    assert again.note == nasty.note.replace("\r", "\n")
