"""Forgetting a client leaves no byte of it in any file, and everything else as it was."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import NotFound
from logic.records.book import Book
from logic.records.privacy import kept_of
from logic.records.types import Client, Photo, Site, Sward, Visit
from tests.logic.records.build import client, sward, ticking, visit
from tests.logic.records.memory import Killed, MemoryFolder
from tests.logic.records.test_backup import packed

SECRET = "Zephyrine"


def told(folder: MemoryFolder, word: str = SECRET) -> list[str]:
    """The names of the files whose raw bytes hold the word."""
    return [name for name, data in folder.contents().items() if word.lower().encode() in data.lower()]


def with_secrets(folder: MemoryFolder) -> tuple[Book, Client]:
    """A client whose every text has the word in it, in the book, the bin, the history, an emptied bin."""
    book = Book.open(folder, now=ticking())
    one = book.save(client(name=f"{SECRET} Quill", email=f"{SECRET}@example.com".lower()))
    book.save(Site(client_id=one.id, access=f"key at {SECRET}'s"))
    green = book.save(sward(one, name=f"{SECRET} green"))
    first = book.save(visit(green, notes=f"as {SECRET} asked"))
    book.save(replace(first, notes="shorter"))
    book.save(Photo(visit_id=first.id, sha256="ab" * 32, caption=SECRET))
    book.delete(book.save(visit(green, notes=f"{SECRET} again")))
    book.delete(book.save(sward(one, name=f"{SECRET} tee")))
    book.empty_bin()
    book.delete(book.save(sward(one, name=f"{SECRET} lawn")))
    return book, one


def test_no_byte_of_a_forgotten_client_is_left_in_any_file() -> None:
    folder = MemoryFolder()
    book, one = with_secrets(folder)
    other = book.save(client(name="Ada Fen", note="first"))
    other = book.save(replace(other, note="second"))
    for number in range(150):  # so that superseded versions lie in the past files too
        book.save(replace(other, note=f"note {number}"))
    book._journal.tidy(always=True)
    folder.open("book.aside").write(0, f"torn: {SECRET}".encode())
    assert {"past.a", "book.aside"} < set(told(folder))
    hashes = book.forget(one.id)
    assert told(folder) == []
    assert hashes == {"ab" * 32}
    again = Book.open(folder.killed(), now=ticking())
    for opened in (book, again):
        assert not opened.has(Client, one.id)
        assert opened.search(SECRET) == opened.search_clients(SECRET) == opened.look_up(Visit, SECRET) == []
        assert (opened.all(Site), opened.all(Photo), opened.bin()) == ([], [], [])
        assert opened.history(Client, one.id) == [] or opened.history(Client, one.id)[0].record is None
        assert [version.record.note for version in opened.history(Client, other.id) if version.record][
            -2:
        ] == ["second", "first"]
    with pytest.raises(NotFound):
        kept_of(again._journal, one.id)


def test_a_green_that_went_to_another_client_stays_with_that_one() -> None:
    folder = MemoryFolder()
    book, one = with_secrets(folder)
    other = book.save(client(name="Ada Fen"))
    moved = book.save(sward(one, name="Back green"))
    moved = book.save(replace(moved, client_id=other.id))
    stays = book.save(visit(moved, notes="moss"))
    book.forget(one.id)
    assert (book.get(Sward, moved.id), book.get(Visit, stays.id)) == (moved, stays)


def test_a_client_that_only_the_history_has_is_forgotten_too_and_no_undo_brings_it_back() -> None:
    folder = MemoryFolder()
    book, one = with_secrets(folder)
    ada = book.save(client(name="Ada Fen"))
    book.delete(one)
    book.empty_bin()
    assert told(folder) != []
    book.forget(one.id)
    assert told(folder) == []
    assert book.undo() == f"new client {ada.name}"
    with pytest.raises(NotFound):
        book.undo()
    assert told(folder) == []


@settings(max_examples=60, deadline=None)
@given(at=st.integers(0, 25), seed=st.integers(0, 5))
def test_a_kill_at_any_step_is_made_good_by_the_next_start(at: int, seed: int) -> None:
    folder = MemoryFolder()
    book, one = with_secrets(folder)
    ada = book.save(client(name="Ada Fen"))
    folder.kill_at = len(folder.steps) + at
    try:
        book.forget(one.id)
    except Killed:
        left = folder.killed(seed)
        again = Book.open(left, now=ticking())
        assert again.get(Client, ada.id) == ada
        if again.has(Client, one.id):  # the deletion itself had not been flushed: nothing was forgotten
            assert again.get(Client, one.id).name == one.name
        else:
            assert told(left) == []
    else:
        assert told(folder) == []


def test_no_file_taken_in_can_have_anything_forgotten() -> None:
    book = Book.open(MemoryFolder(), now=ticking())
    ada = book.save(client(name="Ada Fen"))
    book.save(replace(ada, note="new"))
    note = {"now": {"id": "now", "keys": [["clients", ada.id]], "names": ["Ada Fen"]}}
    book.import_all(packed({"purging": note}))
    again = Book.open(book._folder, now=ticking())
    assert len(again.history(Client, ada.id)) == 2
