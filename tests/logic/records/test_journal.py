"""The journal in ordinary use: saving, history, compaction, and tinydb on top."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tinydb import TinyDB, where
from tinydb.storages import MemoryStorage
from tinydb.table import Document

from logic.errors import NewerFormat, NotFound, StorageError
from logic.records import journal as journal_module
from logic.records.entry import FORMAT, canonical, frame
from logic.records.journal import KEPT, Journal
from logic.records.past import Past
from logic.records.table import JournalDB
from tests.logic.records.build import small_journal, tables, ticking
from tests.logic.records.memory import MemoryFolder


def reopened(folder: MemoryFolder) -> Journal:
    return Journal(MemoryFolder(folder.contents()))


def test_a_save_is_flushed_when_it_returns() -> None:
    folder = MemoryFolder()
    small_journal(folder)
    assert not any(blob.pending for blob in folder.blobs.values())


def test_a_reopened_journal_has_the_same_documents() -> None:
    folder = MemoryFolder()
    states = small_journal(folder)
    assert tables(reopened(folder)) == states[-1]
    assert reopened(folder).recovery.sentence == ""


def test_entries_are_numbered_and_know_the_version_before() -> None:
    folder = MemoryFolder()
    small_journal(folder)
    entries = list(reopened(folder).entries())
    assert [entry.number for entry in entries] == [1, 2, 3, 4, 5, 6]
    assert [(change.id, change.before) for change in entries[3].changes] == [("v", 0), ("b", 2)]
    assert entries[2].changes[0].before == 1
    assert [entry.at for entry in entries][:2] == [
        "2026-05-01T08:00:01.000000Z",
        "2026-05-01T08:00:02.000000Z",
    ]
    assert [entry.number for entry in reopened(folder).entries(after=4)] == [5, 6]


def test_what_is_stored_is_what_json_gives_and_is_not_shared() -> None:
    journal = Journal(MemoryFolder())
    mine: dict[str, Any] = {"pair": (1, 2), "inner": {"a": 1}}
    journal.append({("t", "x"): mine})
    mine["inner"]["a"] = 2
    assert journal.table("t")["x"] == {"pair": [1, 2], "inner": {"a": 1}}


def test_what_json_cannot_hold_is_refused_and_changes_nothing() -> None:
    folder = MemoryFolder()
    journal = Journal(folder)
    before = folder.contents()
    with pytest.raises((TypeError, ValueError)):
        journal.append({("t", "x"): {"a": float("inf")}})
    assert (folder.contents(), tables(journal)) == (before, {})


def test_history_has_every_version_also_after_compaction() -> None:
    folder = MemoryFolder()
    journal = Journal(folder, now=ticking())
    for count in range(KEPT + 10):
        journal.append({("t", "x"): {"count": count}}, f"save {count}")
    journal.append({("t", "x"): None})
    before = journal.versions("t", "x")
    assert [doc for _, doc in before] == [None, *({"count": n} for n in reversed(range(KEPT + 10)))]
    assert journal.tidy(always=True)
    assert journal.entry(1) is None
    assert journal.versions("t", "x") == before
    assert reopened(folder).versions("t", "x") == before
    assert journal.document("t", "x", 3) == {"count": 2}
    assert journal.document("t", "x", 0) is None


def test_a_version_that_is_no_longer_kept_is_told() -> None:
    journal = Journal(MemoryFolder())
    with pytest.raises(NotFound, match="no longer kept"):
        journal.document("t", "x", 7)


def test_compaction_keeps_the_documents_and_the_numbers() -> None:
    folder = MemoryFolder()
    states = small_journal(folder)
    journal = reopened(folder)
    for round_ in range(3):
        assert journal.tidy(always=True)
        assert tables(journal) == states[-1]
        journal = reopened(journal._folder)  # type: ignore[arg-type]
        assert tables(journal) == states[-1]
        assert journal.recovery.sentence == ""
        entry = journal.append({("swards", "new"): {"round": round_}})
        assert entry.number == 7 + round_
        states.append(tables(journal))


def test_compaction_waits_until_most_of_the_file_is_waste() -> None:
    folder = MemoryFolder()
    journal = Journal(folder)
    big = "x" * 1000
    for count in range(500):
        journal.append({("t", str(count)): {"text": big}})
    assert not journal.tidy()
    for count in range(400):
        journal.append({("t", "0"): {"text": big, "count": count}})
    assert not journal.tidy()
    for count in range(400):
        journal.append({("t", "1"): {"text": big, "count": count}})
    size = sum(folder.blobs[name].size() for name in ("book.a", "book.b"))
    assert journal.tidy()
    assert sum(folder.blobs[name].size() for name in ("book.a", "book.b")) < size / 2
    assert not journal.tidy()


def test_big_recent_entries_do_not_make_compaction_run_again_and_again() -> None:
    journal = Journal(MemoryFolder())
    for count in range(KEPT):
        journal.append({("t", "x"): {"text": "x" * 50_000, "count": count}})
    assert not journal.tidy()


def test_a_save_costs_no_more_steps_with_many_records() -> None:
    folder = MemoryFolder()
    journal = Journal(folder)
    costs = []
    for count in range(3000):
        before = len(folder.steps), sum(blob.size() for blob in folder.blobs.values())
        journal.append({("t", f"{count:05}"): {"text": "x"}})
        grown = sum(blob.size() for blob in folder.blobs.values()) - before[1]
        costs.append((len(folder.steps) - before[0], grown))
    assert costs[100][0] == costs[-1][0] == 2
    assert costs[-1][1] - costs[100][1] < 5  # two more digits in the number


def test_the_past_files_take_turns_and_never_grow_beyond_their_limit() -> None:
    folder = MemoryFolder()
    past = Past(folder, limit=1000)
    journal = Journal(MemoryFolder(), now=ticking())
    lines = [frame(journal.append({("t", "x"): {"count": count}}).payload()) for count in range(100)]
    for count, line in enumerate(lines):
        past.add(line)
        kept = sorted(entry.number for entry in past.versions("t", "x"))
        assert kept == list(range(count + 2 - len(kept), count + 2)), "the newest ones without a gap"
        assert sum(blob.size() for blob in folder.blobs.values()) < 2 * 1000 + len(line)
        assert len(kept) == count + 1 or sum(len(line) for line in lines[: len(kept)]) >= 1000 - 2 * len(line)
        past = Past(folder, limit=1000)


def test_a_store_of_a_newer_version_is_left_alone() -> None:
    line = frame(canonical({"format": "swardwright-book/2", "part": "head", "generation": 1, "book": "x"}))
    folder = MemoryFolder({"book.a": line + b"what only that version knows\n"})
    before = folder.contents()["book.a"]
    with pytest.raises(NewerFormat, match="newer version"):
        Journal(folder)
    assert folder.contents()["book.a"] == before
    assert FORMAT == "swardwright-book/1"


def test_the_id_of_the_book_stays() -> None:
    folder = MemoryFolder()
    journal = Journal(folder)
    journal.tidy(always=True)
    assert reopened(folder).book == journal.book
    assert Journal(MemoryFolder()).book != journal.book


def test_a_closed_journal_takes_nothing() -> None:
    folder = MemoryFolder()
    journal = Journal(folder)
    journal.close()
    assert folder.closed
    with pytest.raises(StorageError):
        journal.append({("t", "x"): {}})


def test_the_reserve_is_laid_once() -> None:
    folder = MemoryFolder()
    Journal(folder)
    assert folder.blobs["ballast"].size() == 256 * 1024
    again = MemoryFolder(folder.contents())
    Journal(again)
    assert again.steps == []
    assert journal_module.KEPT >= 20


# -- tinydb on the journal does what tinydb does in memory

FIELDS = st.dictionaries(st.sampled_from("abc"), st.integers(0, 3), max_size=3)
IDS = st.sampled_from(["k1", "k2", "k3", "k4"])
STEPS = st.lists(
    st.tuples(st.just("upsert"), IDS, FIELDS)
    | st.tuples(st.just("update"), IDS, FIELDS)
    | st.tuples(st.just("update where"), st.integers(0, 3), FIELDS)
    | st.tuples(st.just("remove"), IDS, st.none())
    | st.tuples(st.just("remove where"), st.integers(0, 3), st.none())
    | st.tuples(st.sampled_from(["truncate", "drop", "drop all"]), st.none(), st.none()),
    max_size=15,
)


class TextIds(TinyDB):
    """Plain tinydb in memory with text ids, as the peer."""


TextIds.table_class = type("TextTable", (TinyDB.table_class,), {"document_id_class": str})


def play(db: TinyDB, step: tuple[str, Any, Any]) -> None:
    action, what, fields = step
    table = db.table("t")
    if action == "upsert":
        table.upsert(Document(fields, what))
    elif action == "update":
        table.update(fields, doc_ids=[what])
    elif action == "update where":
        table.update(fields, where("a") == what)
    elif action == "remove":
        table.remove(doc_ids=[what])
    elif action == "remove where":
        table.remove(where("a") == what)
    elif action == "truncate":
        table.truncate()
    else:
        db.drop_table("t") if action == "drop" else db.drop_tables()


@settings(max_examples=150)
@given(STEPS)
def test_tinydb_on_the_journal_does_what_tinydb_does_in_memory(steps: list[tuple[str, Any, Any]]) -> None:
    folder = MemoryFolder()
    ours, peer = JournalDB(Journal(folder)), TextIds(storage=MemoryStorage)
    for step in steps:
        play(ours, step)
        play(peer, step)
        for query in (where("a") == 1, where("b").exists()):
            assert ours.table("t").search(query) == peer.table("t").search(query)
    again = JournalDB(reopened(folder))
    for db in (ours, again):
        assert {doc.doc_id: dict(doc) for doc in db.table("t")} == {
            doc.doc_id: dict(doc) for doc in peer.table("t")
        }
        assert len(db.table("t")) == len(peer.table("t"))


def test_inserting_through_tinydb_gives_a_random_id_and_journals_only_what_changed() -> None:
    folder = MemoryFolder()
    db = JournalDB(Journal(folder))
    first = db.table("t").insert({"a": 1})
    assert len(str(first)) == 32
    db.table("t").insert_multiple([{"a": 2}, Document({"a": 3}, "k")])  # type: ignore[arg-type]
    steps = len(folder.steps)
    assert db.table("t").update({"a": 3}, where("a") == 3) == ["k"]
    assert len(folder.steps) == steps, "an update that changes nothing writes nothing"
    with pytest.raises(ValueError, match="already exists"):
        db.table("t").insert(Document({"a": 9}, "k"))  # type: ignore[arg-type]
