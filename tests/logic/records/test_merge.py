"""Two records become one: nothing is lost, what differs is asked, and one undo takes it all back."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue, NewerFormat
from logic.records.book import Book
from logic.records.documents import to_doc
from logic.records.merge import CHILDREN, alike, differences, merged, moved
from logic.records.types import Client, Site, Sward, Visit
from logic.records.words import text_of
from tests.logic.records.build import client, sward, ticking, visit
from tests.logic.records.memory import MemoryFolder

WORD = st.sampled_from(["", "a", "b", "Marsh Lane", "gate\ncode"])
CLIENTS = st.builds(
    Client,
    name=WORD,
    email=WORD,
    phone=WORD,
    address=WORD,
    note=WORD,
    contacts=st.lists(st.sampled_from([{"label": "son", "phone": "1"}, {"label": "office"}]), max_size=2).map(
        tuple
    ),
    consent=st.sampled_from([{}, {"mail": {"given": "yes", "on": "2026-05-01"}}]),
)


@settings(max_examples=200)
@given(keep=CLIENTS, other=CLIENTS, data=st.data())
def test_every_value_of_the_two_is_in_the_one_or_was_turned_down_by_a_person(
    keep: Client, other: Client, data: Any
) -> None:
    asked = differences(keep, other)
    picks: Any = {one.field: data.draw(st.sampled_from(["mine", "theirs"])) for one in asked}
    one = merged(keep, other, picks)
    assert one.id == keep.id
    for name, value in to_doc(one).items():
        for side, pick in ((keep, "mine"), (other, "theirs")):
            said = to_doc(side)[name]
            if name in ("id", "changed", "v") or not text_of(said):
                continue
            if name in picks:
                assert (text_of(value) == text_of(said)) == (picks[name] == pick)
            elif isinstance(value, list):
                assert all(item in value for item in said)
            else:
                assert value == said
    both = merged(keep, other, {})
    assert {line for text in (keep.note, other.note) for line in text.split("\n")} - {""} <= set(
        both.note.split("\n")
    )


def test_a_client_merged_into_another_brings_its_greens_sites_and_visits_in_one_step() -> None:
    book = Book.open(MemoryFolder(), now=ticking())
    keep = book.save(client(name="Ada Fen", phone=""))
    other = book.save(client(name="A. Fen", phone="07700 900123", email="ada@fen.example.com", note="dog"))
    green = book.save(sward(other, name="Tee"))
    first = book.save(visit(green))
    place = book.save(Site(client_id=other.id, access="side gate"))
    before = book.export_all()
    one = merged(keep, other, {"name": "mine", "email": "theirs"})
    hanging = moved([*book.all(Sward), *book.all(Site), *book.all(Visit)], keep, other)
    book.delete(other, "A. Fen merged into Ada Fen", saved=[one, *hanging])
    assert book.all(Client) == [book.get(Client, keep.id)]
    assert replace(book.get(Client, keep.id), changed=one.changed) == one
    assert (one.phone, one.email, one.note) == ("07700 900123", "ada@fen.example.com", "dog")
    assert book.get(Sward, green.id).client_id == book.get(Site, place.id).client_id == keep.id
    assert book.get(Visit, first.id) == first
    assert [(binned.label, binned.count) for binned in book.bin()] == [("A. Fen", 1)]
    assert book.undo() == "A. Fen merged into Ada Fen"
    assert Book.open(MemoryFolder()).import_all(before).added == 5
    assert (book.get(Client, keep.id), book.get(Client, other.id)) == (keep, other)
    assert (book.get(Sward, green.id), book.get(Site, place.id), book.bin()) == (green, place, [])


def test_a_green_merged_into_another_brings_its_visits_and_a_site_its_greens() -> None:
    one, two = sward(client()), sward(client(), name="Same green")
    went = visit(two)
    assert moved([went, visit(one)], one, two) == [replace(went, sward_id=one.id)]
    here, there = Site(name="Home"), Site(name="House")
    on = replace(one, site_id=there.id)
    assert moved([on, two], here, there) == [replace(on, site_id=here.id)]


def test_those_with_one_name_telephone_or_address_look_alike_and_others_do_not() -> None:
    ada = client(name="Ada  Fen", email="", phone="+44 7700 900123")
    same_name = client(name="ada fen", email="", phone="")
    same_phone = client(name="Mrs Fen", email="", phone="07700-900123")
    nobody = client(name="Ben", email="", phone="12")
    blank = Client()
    assert alike([ada, same_name, same_phone, nobody, blank, Client()]) == [
        (ada, same_name),
        (ada, same_phone),
    ]
    of_two = [sward(ada, name="Back"), sward(nobody, name="Back")]
    assert alike(of_two) == []


def test_what_cannot_be_one_is_refused() -> None:
    ada = client()
    for keep, other in ((ada, ada), (ada, sward(ada)), (visit(sward(ada)), visit(sward(ada)))):
        with pytest.raises(BadValue):
            merged(keep, other, {})  # type: ignore[type-var]
    with pytest.raises(NewerFormat):
        merged(ada, client(read_only=True), {})
    assert set(CHILDREN) == {Client, Site, Sward}
