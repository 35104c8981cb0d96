"""Finding swards and clients."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from logic.records.book import Book
from logic.records.search import fold
from logic.records.types import Sward
from tests.logic.records.build import client, sward, ticking, visit
from tests.logic.records.memory import MemoryFolder


def names(swards: list[Sward]) -> list[str]:
    return [item.name for item in swards]


def test_case_and_accents_do_not_matter() -> None:
    """Case folding as in the Unicode Standard 3.13 (ß → ss); marks removed after NFKD (UAX 15)."""
    assert fold("ÅSE Grün") == fold("ase grun") == "ase grun"
    assert fold("Straße") == "strasse"
    assert fold("Łódź Ærø Œuvre") == "lodz aero oeuvre"
    assert fold("ﬁne ½ m²") == "fine 1⁄2 m2"
    assert fold("ΣΊΣΥΦΟΣ") == fold("σίσυφος")


@given(st.text())
def test_folding_is_settled_at_once(text: str) -> None:
    assert fold(fold(text)) == fold(text)
    assert fold(text.upper()) == fold(text.upper().lower())


def filled() -> Book:
    book = Book.open(MemoryFolder(), now=ticking())
    ada = book.save(client(name="Åse Grün", address="1 Marsh Lane", note="prefers mornings"))
    bo = book.save(client(name="Bo Reed", address="Mill Hill", phone="0123 456"))
    back = book.save(sward(ada, name="Back green", kind="putting green", note="slow drain"))
    book.save(sward(ada, name="Apron", kind="lawn", address="by the church"))
    book.save(sward(bo, name="Croquet lawn", kind="lawn"))
    book.save(visit(back, notes="thatch 18 mm"))
    return book


def test_every_word_must_be_found_in_the_swards_own_its_clients_or_its_visits_texts() -> None:
    book = filled()
    assert names(book.search("ase")) == ["Back green", "Apron"]
    assert names(book.search("GRUN church")) == ["Apron"]
    assert names(book.search("lawn")) == ["Apron", "Croquet lawn"]
    assert names(book.search("reed lawn mill")) == ["Croquet lawn"]
    assert names(book.search("thatch drain morning putting")) == ["Back green"]
    assert names(book.search("reed church")) == []
    assert names(book.search(".*")) == []


def test_no_text_gives_all_and_a_limit_gives_the_first() -> None:
    book = filled()
    assert names(book.search("  ")) == ["Back green", "Apron", "Croquet lawn"]
    assert names(book.search("", limit=2)) == ["Back green", "Apron"]


def test_the_latest_visited_sward_comes_first() -> None:
    book = filled()
    croquet = book.search("croquet")[0]
    newest = book.save(visit(croquet, started=book.search("back")[0].changed.replace(year=2099)))
    assert names(book.search("")) == ["Croquet lawn", "Back green", "Apron"]
    book.delete(newest)
    assert names(book.search("")) == ["Back green", "Apron", "Croquet lawn"]


def test_the_index_follows_every_change() -> None:
    book = filled()
    ase = book.search_clients("ase")[0]
    book.save(replace(ase, name="Ida Fjord"))
    assert names(book.search("fjord")) == ["Back green", "Apron"]
    assert names(book.search("grun")) == []
    back = book.search("back")[0]
    book.save(replace(back, kind="bowling green"))
    assert names(book.search("bowling")) == ["Back green"]
    book.save(replace(book.visits_of(back.id)[0], notes="rolled"))
    assert names(book.search("thatch")) == []
    assert names(book.search("rolled")) == ["Back green"]
    book.delete(back)
    assert names(book.search("rolled")) == []
    book.undo()
    assert names(book.search("rolled")) == ["Back green"]


def test_clients_are_found_by_their_contacts_and_sorted_by_name() -> None:
    book = filled()
    assert [item.name for item in book.search_clients("")] == ["Åse Grün", "Bo Reed"]
    assert [item.name for item in book.search_clients("0123")] == ["Bo Reed"]
    assert [item.name for item in book.search_clients("", limit=1)] == ["Åse Grün"]
    bo = book.search_clients("reed")[0]
    book.save(replace(bo, phone="999"))
    assert book.search_clients("0123") == []
