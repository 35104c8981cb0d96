"""The book as the screens use it."""

import dataclasses
from dataclasses import replace

import pytest
from tinydb import where

from logic.errors import Conflict, NewerFormat, NotFound, StorageFull
from logic.records.book import Book
from logic.records.documents import to_doc
from logic.records.types import VERSION, Client, Pace, Record, Settings, Sward, Visit
from tests.logic.records.build import client, pace, sward, ticking, visit
from tests.logic.records.memory import MemoryFolder


def new_book() -> tuple[Book, MemoryFolder]:
    folder = MemoryFolder()
    return Book.open(folder, now=ticking()), folder


def reopened(folder: MemoryFolder) -> Book:
    return Book.open(MemoryFolder(folder.contents()))


def one_of_each(book: Book) -> tuple[Client, Sward, Visit]:
    ada = book.save(client())
    green = book.save(sward(ada))
    return ada, green, book.save(visit(green))


def test_what_was_saved_is_there_after_a_reopening() -> None:
    book, folder = new_book()
    ada, green, first = one_of_each(book)
    paced = book.save(pace())
    again = reopened(folder)
    for record in (ada, green, first, paced):
        assert again.get(type(record), record.id) == record
        assert again.has(type(record), record.id)
    assert again.all(Sward) == [green]
    counts = {table: n for table, n in again.counts().items() if n}
    assert counts == {"clients": 1, "swards": 1, "paces": 1, "visits": 1}


def test_a_save_sets_the_time_of_change() -> None:
    book, _ = new_book()
    ada = book.save(client())
    later = book.save(replace(ada, phone="0123"))
    assert later.changed > ada.changed


def test_saving_what_is_stored_already_writes_nothing() -> None:
    book, folder = new_book()
    ada = book.save(client())
    steps = len(folder.steps)
    assert book.save(ada) == ada
    assert book.save(replace(ada, changed=ticking()())) == ada
    assert len(folder.steps) == steps


def test_an_unknown_id_is_told_in_the_words_of_the_record() -> None:
    book, _ = new_book()
    with pytest.raises(NotFound, match="This sward is no longer in the book"):
        book.get(Sward, "none")


def test_settings_have_defaults_until_they_are_saved() -> None:
    book, folder = new_book()
    assert (book.settings.units, book.settings.confidence) == ("metric", 0.9)
    book.save(replace(book.settings, firm="Fen Turf", units="imperial"))
    assert (reopened(folder).settings.firm, reopened(folder).settings.units) == ("Fen Turf", "imperial")


def test_records_find_what_hangs_on_them() -> None:
    book, folder = new_book()
    ada, green, first = one_of_each(book)
    lawn = book.save(sward(ada, name="a lawn"))
    other = book.save(sward(book.save(client(name="Bo")), name="Other"))
    second = book.save(visit(green, started=first.started.replace(year=first.started.year + 1)))
    for opened in (book, reopened(folder)):
        assert opened.swards_of(ada.id) == [lawn, green]
        assert opened.visits_of(green.id) == [second, first]
        assert opened.latest_visit(green.id) == second
        assert opened.latest_visit(lawn.id) is None
    book.save(replace(first, sward_id=other.id))
    book.save(replace(lawn, client_id=other.client_id))
    assert book.visits_of(green.id) == [second]
    assert [item.sward_id for item in book.visits_of(other.id)] == [other.id]
    assert [item.name for item in book.swards_of(other.client_id)] == ["a lawn", "Other"]


def test_records_can_be_asked_for_by_a_query() -> None:
    book, _ = new_book()
    book.save(pace(person="Jo", surface="mown"))
    long_grass = book.save(pace(person="Jo", surface="long"))
    assert book.find(Pace, where("surface") == "long") == [long_grass]
    book.save(replace(long_grass, surface="mown"))
    assert book.find(Pace, where("surface") == "long") == []


def test_several_records_are_saved_as_one() -> None:
    book, folder = new_book()
    ada = client()
    steps = len(folder.steps)
    saved = book.save_all([ada, sward(ada)])
    assert len(folder.steps) - steps == 2, "one write, one flush"
    assert [type(record) for record in saved] == [Client, Sward]
    assert book.undo() == "2 records changed"
    assert book.counts()["clients"] == book.counts()["swards"] == 0


def test_a_record_of_a_newer_version_is_not_saved_over() -> None:
    book, _ = new_book()
    ada = book.save(client())
    book._journal.append({("clients", ada.id): {**to_doc(ada), "v": VERSION + 1, "new": 1}})
    book = Book.open(book._folder)
    newer = book.get(Client, ada.id)
    assert newer.read_only
    with pytest.raises(NewerFormat, match="Update the app"):
        book.save(replace(newer, name="x"))
    assert book.get(Client, ada.id).extra == {"new": 1}


def test_a_full_device_changes_nothing_and_keeps_what_was_saved() -> None:
    book, folder = new_book()
    ada, green, first = one_of_each(book)
    folder.quota = 0
    folder.blobs["ballast"].data.clear()
    before = book.export_all()
    for change in (
        lambda: book.save(replace(ada, note="n")),
        lambda: book.save(visit(green, notes="new words")),
        lambda: book.delete(ada),
        book.undo,
    ):
        with pytest.raises(StorageFull):
            change()
        assert book.get(Visit, first.id) == first
        assert book.search("new words") == []
        assert book.counts()["bin"] == 0
        assert contents_of(book) == contents_of(reopened(folder))
    assert before
    assert book.running_low


def contents_of(book: Book) -> list[Record]:
    return [record for kind in (Client, Sward, Pace, Visit, Settings) for record in book.all(kind)]


# -- bin


def test_a_client_goes_to_the_bin_with_everything_and_comes_back_with_everything() -> None:
    book, folder = new_book()
    ada, green, first = one_of_each(book)
    bo = book.save(client(name="Bo"))
    before = contents_of(book)
    book.delete(ada)
    assert contents_of(book) == [bo]
    (binned,) = reopened(folder).bin()
    assert (binned.id, binned.noun, binned.label, binned.count) == (ada.id, "client", "Ada Fen", 3)
    book.restore(ada.id)
    assert book.bin() == []
    assert sorted(map(repr, contents_of(book))) == sorted(map(repr, before))
    assert book.visits_of(green.id) == [first]
    with pytest.raises(NotFound, match="no longer in the bin"):
        book.restore(ada.id)


def test_a_sward_does_not_come_back_without_its_client() -> None:
    book, _ = new_book()
    ada, green, first = one_of_each(book)
    book.delete(first)
    book.delete(green)
    book.delete(ada)
    assert [item.label for item in book.bin()] == ["Ada Fen", "Back green", "visit"]
    with pytest.raises(Conflict, match="client of this sward is not in the book"):
        book.restore(green.id)
    with pytest.raises(Conflict, match="sward of this visit is not in the book"):
        book.restore(first.id)
    for record in (ada, green, first):
        book.restore(record.id)
    assert contents_of(book) == [ada, green, first]


def test_what_came_back_on_another_way_is_not_overwritten_by_a_restore() -> None:
    book, _ = new_book()
    ada, green, _ = one_of_each(book)
    backup = book.export_all()
    book.delete(ada)
    book.import_all(backup)
    renamed = book.save(replace(ada, name="Ada Marsh"))
    book.restore(ada.id)
    assert book.get(Client, ada.id) == renamed
    assert book.has(Sward, green.id)


def test_deleting_again_keeps_what_was_in_the_bin_before() -> None:
    book, _ = new_book()
    ada, green, first = one_of_each(book)
    book.delete(ada)
    book.save(ada)
    book.delete(ada)
    book.restore(ada.id)
    assert book.has(Sward, green.id)
    assert book.has(Visit, first.id)


def test_an_emptied_bin_is_empty() -> None:
    book, folder = new_book()
    ada, green, first = one_of_each(book)
    book.delete(first)
    book.delete(green)
    book.empty_bin(first.id)
    assert [item.id for item in book.bin()] == [green.id]
    book.empty_bin()
    assert reopened(folder).bin() == []
    book.empty_bin()
    assert book.undo() == "bin emptied"
    assert [item.id for item in book.bin()] == [green.id]
    assert book.get(Client, ada.id) == ada


# -- undo and history


def test_undo_takes_back_one_change_after_another_and_says_which() -> None:
    book, folder = new_book()
    ada, green, first = one_of_each(book)
    book.save(replace(first, notes="wet"), "notes changed")
    book.delete(green)
    assert book.undoable == "sward Back green deleted"
    words = [book.undo() for _ in range(3)]
    assert words == ["sward Back green deleted", "notes changed", "new visit"]
    assert contents_of(book) == [ada, green]
    assert book.undoable == "new sward Back green"
    again = reopened(folder)
    assert again.undoable == "new sward Back green"
    again.undo()
    again.undo()
    assert again.undoable == ""
    with pytest.raises(NotFound, match="nothing to undo"):
        again.undo()


def test_after_an_undo_and_a_new_change_undo_takes_back_the_new_one_first() -> None:
    book, _ = new_book()
    ada = book.save(client())
    book.save(replace(ada, note="one"))
    book.undo()
    book.save(replace(ada, note="two"))
    assert [book.undo(), book.get(Client, ada.id).note] == ["client Ada Fen changed", ""]
    assert book.undo() == "new client Ada Fen"
    assert book.undoable == ""


def test_undo_passes_a_quiet_change_over() -> None:
    book, folder = new_book()
    _, _, first = one_of_each(book)
    renamed = book.save(replace(first, title="Autumn"), "name")
    book.save(replace(renamed, where="/visit/1/works"), quiet=True)
    again = reopened(folder)
    assert again.undoable == "name"
    assert again.undo() == "name"
    assert again.get(Visit, first.id).title == first.title


def test_twenty_changes_can_be_undone_also_after_compaction() -> None:
    book, folder = new_book()
    ada = book.save(client())
    for count in range(60):
        ada = book.save(replace(ada, note=f"note {count}"))
    book._journal.tidy(always=True)
    again = reopened(folder)
    for count in range(20):
        assert again.get(Client, ada.id).note == f"note {59 - count}"
        again.undo()
    assert again.get(Client, ada.id).note == "note 39"


def test_history_tells_every_version_with_its_time_and_reason() -> None:
    book, folder = new_book()
    ada = book.save(client())
    changed = book.save(replace(ada, note="gate code 1234"), "note changed")
    book.delete(ada)
    book._journal.tidy(always=True)
    history = reopened(folder).history(Client, ada.id)
    assert [(version.why, version.record) for version in history] == [
        ("client Ada Fen deleted", None),
        ("note changed", changed),
        ("new client Ada Fen", ada),
    ]
    assert [version.number for version in history] == [3, 2, 1]
    assert history[0].at > history[1].at > history[2].at
    assert history[0].at.tzinfo is not None
    assert book.history(Client, "none") == []


def test_records_cannot_be_changed_in_place() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        client().name = "x"  # type: ignore[misc]
