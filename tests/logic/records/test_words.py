"""Records and their changes in words, and the copy of one client's data."""

import io
import json
import re
import zipfile
from dataclasses import replace
from datetime import UTC, datetime
from html.parser import HTMLParser

from hypothesis import given, settings
from hypothesis import strategies as st

from logic.records.book import Book
from logic.records.client_copy import pack
from logic.records.types import Client, Photo, Sward, Visit
from logic.records.words import changes, lines_of, text_of
from tests.logic.records.build import client, sward, ticking, visit
from tests.logic.records.memory import MemoryFolder

JSON = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.text(max_size=8)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=8,
)


def test_a_change_says_only_what_changed_old_and_new() -> None:
    before = client(phone="1", note="")
    after = replace(before, phone="2", note="dog", changed=datetime(2026, 1, 1, tzinfo=UTC))
    assert [(one.label, one.old, one.new) for one in changes(before, after)] == [
        ("Telephone", "1", "2"),
        ("Note", "", "dog"),
    ]
    assert changes(after, after) == []
    assert {one.label for one in changes(None, after)} == {"Name", "E-mail", "Telephone", "Address", "Note"}


def test_of_a_field_with_many_parts_only_those_that_differ_are_told() -> None:
    one = visit(sward(client()))
    rate = ({**one.works[0], "values": {"rate": "10 g/m²"}},)
    (told,) = changes(one, replace(one, works=rate))
    assert (told.label, told.old, told.new) == (
        "Works",
        "1 overseeding rate: 8 g/m²",
        "1 overseeding rate: 10 g/m²",
    )
    signed = replace(one, signature={"name": "Ada", "strokes": [[[0.1, 0.2]], [[0.3, 0.1]]]})
    (told,) = changes(one, signed)
    assert told.new == "name: Ada; drawn: 2 strokes"
    (told,) = changes(one, replace(one, works=(*one.works, {"operation": "core_breaking", "values": {}})))
    assert (told.old, told.new) == ("", "2 core breaking: chosen")
    assert text_of({"drafts": {"circle": {"diameter": "3 m^2"}}}) == "circle diameter: 3 m²"
    assert re.fullmatch(r"\d\d May 2026, \d\d:\d\d", text_of("2026-05-04T12:30:00+00:00"))
    assert text_of("2026-99-04T12:30") == "2026-99-04T12:30"


@settings(max_examples=200)
@given(JSON, JSON)
def test_any_json_has_words_and_a_change_of_words_is_told(old: object, new: object) -> None:
    one = Client(consent={"a": old})
    told = changes(one, replace(one, consent={"a": new}))
    assert bool(told) == (text_of({"a": old}) != text_of({"a": new}))
    assert all(isinstance(text, str) and text for _, text in lines_of(one))


class _Words(HTMLParser):
    """The words of a page, and its tags."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.tags: list[str] = []

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.tags.append(tag)


def test_the_copy_of_a_clients_data_has_all_of_it_and_nothing_of_others() -> None:
    book = Book.open(MemoryFolder(), now=ticking())
    ada = book.save(client(name="Ada <script>Fen", note="old note"))
    ada = book.save(replace(ada, note="new note"))
    green = book.save(sward(ada))
    first = book.save(visit(green))
    picture, other = b"\xff\xd8 picture", b"\xff\xd8 not theirs"
    book.save(Photo(visit_id=first.id, sha256="aa" * 32, caption="north side"))
    book.delete(book.save(sward(ada, name="Old tee")))
    book.save(client(name="Ben Holm"))
    data = pack(
        book.kept_of(ada.id),
        "Fern & Sons",
        datetime(2026, 5, 2, tzinfo=UTC),
        {"aa" * 32: picture, "bb" * 32: other},
    )
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert sorted(archive.namelist()) == ["data.json", "index.html", f"photos/{'aa' * 32}.jpg"]
        assert archive.read(f"photos/{'aa' * 32}.jpg") == picture
        stored = json.loads(archive.read("data.json"))
        page = _Words()
        page.feed(archive.read("index.html").decode())
    text = "\n".join(page.words)
    for words in (
        "Ada <script>Fen",
        "new note",
        "Back green",
        "moss at the edge",
        "north side",
        "Fern & Sons",
    ):
        assert words in text
    assert "Old tee (in the bin)" in text
    assert "script" not in page.tags
    assert page.tags.count("img") == 1
    assert "Ben Holm" not in json.dumps(stored) + text
    assert {(entry["table"], entry["where"]) for entry in stored["records"]} == {
        ("clients", "book"),
        ("swards", "book"),
        ("swards", "bin"),
        ("visits", "book"),
        ("photos", "book"),
    }
    assert "old note" in json.dumps(stored["versions"])


def test_look_up_finds_every_kind_by_own_words_and_by_what_it_hangs_on() -> None:
    book = Book.open(MemoryFolder(), now=ticking())
    ada = book.save(client(name="Åse Fen", contacts=({"label": "Gärtner", "phone": "555 1234"},)))
    green = book.save(sward(ada, name="Tee", grass="browntop bent"))
    first = book.save(visit(green, notes="moss"))
    later = book.save(visit(green, notes="", started=datetime(2026, 6, 1, tzinfo=UTC)))
    early = book.save(visit(green, notes="", started=datetime(2025, 6, 1, tzinfo=UTC)))
    assert book.look_up(Client, "gartner 1234") == [ada]
    assert book.look_up(Client, "label") == []
    assert book.look_up(Sward, "ase browntop") == [green]
    assert book.look_up(Visit, "ase tee moss") == [first]
    assert book.look_up(Visit, "2026-06") == [later]
    assert [one.id for one in book.look_up(Visit, "")][-1] == early.id
    book.save(replace(ada, name="Ida Fen"))
    assert book.look_up(Visit, "ase") == []
    assert len(book.look_up(Visit, "ida")) == 3
    assert book.look_up(Visit, "ida tee", 2) == book.look_up(Visit, "ida")[:2]
    book.delete(green)
    assert book.look_up(Visit, "ida") == book.look_up(Visit, "") == []


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.sampled_from(["moss", "wet", "edge", "north"]), max_size=4), st.text("mosewtng ", max_size=8)
)
def test_typing_on_finds_what_typing_at_once_finds(notes: list[str], typed: str) -> None:
    book = Book.open(MemoryFolder(), now=ticking())
    green = book.save(sward(client()))
    for note in notes:
        book.save(visit(green, notes=note))
    for size in range(len(typed) + 1):
        stepwise = book.look_up(Visit, typed[:size])
    again = Book.open(book._folder)
    assert stepwise == again.look_up(Visit, typed)
    assert {one.notes for one in stepwise} == {
        note for note in notes if all(word in f"{note}\nback green\nputting green" for word in typed.split())
    }
