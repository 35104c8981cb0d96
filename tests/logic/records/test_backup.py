"""Everything out in one file and in again."""

import hashlib
import io
import json
import zipfile
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BrokenFile, NewerFormat, StorageFull
from logic.records import backup
from logic.records.backup import Imported, raw_copy, zipped
from logic.records.book import Book
from logic.records.types import KINDS, Client, Sward, Visit
from tests.logic.records.build import client, sward, ticking, visit
from tests.logic.records.memory import MemoryFolder


def filled() -> Book:
    book = Book.open(MemoryFolder(), now=ticking())
    ada = book.save(client())
    green = book.save(sward(ada))
    book.save(visit(green))
    book.delete(book.save(client(name="Gone")))
    return book


def packed(tables: Any, form: str = backup.FORMAT) -> bytes:
    """A backup with these tables and a right hash."""
    records = json.dumps(tables).encode()
    files = {"records.json": {"sha256": hashlib.sha256(records).hexdigest(), "size": len(records)}}
    return zipped(
        {"manifest.json": json.dumps({"format": form, "files": files}).encode(), "records.json": records}
    )


def test_a_backup_brings_everything_to_an_empty_book() -> None:
    book = filled()
    other = Book.open(MemoryFolder())
    assert other.import_all(book.export_all()) == Imported(added=4)
    assert [other.all(kind) for kind in (Client, Sward, Visit)] == [
        book.all(kind) for kind in (Client, Sward, Visit)
    ]
    assert other.bin() == book.bin()
    assert other.search("ada back moss") == book.search("ada back moss") != []


def test_a_backup_is_a_zip_that_names_its_hashes() -> None:
    with zipfile.ZipFile(io.BytesIO(filled().export_all())) as archive:
        assert archive.testzip() is None
        manifest = json.loads(archive.read("manifest.json"))
        records = archive.read("records.json")
    assert manifest["format"] == "swardwright-backup/1"
    assert manifest["files"]["records.json"]["sha256"] == hashlib.sha256(records).hexdigest()
    assert {table: n for table, n in manifest["counts"].items() if n} == {
        "clients": 1,
        "swards": 1,
        "visits": 1,
        "bin": 1,
    }
    assert manifest["counts"].keys() == {*KINDS, "bin"}
    assert next(iter(json.loads(records)["clients"].values()))["name"] == "Ada Fen"


def test_taking_the_same_backup_in_twice_changes_nothing_the_second_time() -> None:
    book = filled()
    data = book.export_all()
    folder = MemoryFolder()
    other = Book.open(folder)
    other.import_all(data)
    steps = len(folder.steps)
    assert other.import_all(data) == Imported(unchanged=4)
    assert book.import_all(data) == Imported(unchanged=4)
    assert len(folder.steps) == steps


def test_the_record_saved_later_stays_and_the_other_remains_in_the_history() -> None:
    book = filled()
    old = book.export_all()
    ada = book.all(Client)[0]
    newer = book.save(replace(ada, name="Ada Marsh"))
    assert book.import_all(old) == Imported(unchanged=3, kept=1)
    assert book.get(Client, ada.id) == newer
    other = Book.open(MemoryFolder())
    other.import_all(old)
    assert other.import_all(book.export_all()) == Imported(updated=1, unchanged=3)
    assert other.get(Client, ada.id) == newer
    assert [version.record for version in other.history(Client, ada.id)] == [newer, ada]
    assert other.undo() == "backup taken in"
    assert other.get(Client, ada.id) == ada


def test_without_room_nothing_of_a_backup_is_taken_in() -> None:
    folder = MemoryFolder()
    book = Book.open(folder)
    folder.quota = 1000
    folder.blobs["ballast"].data.clear()
    with pytest.raises(StorageFull):
        book.import_all(filled().export_all())
    assert book.all(Client) == []


def test_a_newer_backup_is_refused() -> None:
    with pytest.raises(NewerFormat, match="newer version"):
        filled().import_all(packed({}, "swardwright-backup/2"))


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"not a zip",
        zipped({"other.txt": b""}),
        zipped({"manifest.json": b"{}"}),
        zipped({"manifest.json": b"[" * 100_000}),
        packed({}, "another-format/1"),
        packed({}, "swardwright-backup/x"),
        packed([]),
        packed({"clients": []}),
        packed({"clients": {"a": 1}}),
        packed({"clients": {"a": {"id": "b"}}}),
        packed({"clients": {"a": {"id": "a", "x": float("nan")}}}),
        packed({"clients": {"a": {"id": "a", "x": json.loads("[" * 60 + "]" * 60)}}}),
        packed({"bin": {"a": {"id": "a"}}}),
        packed({"bin": {"a": {"id": "a", "noun": "n", "label": "l", "deleted": "never", "records": [1]}}}),
        packed(
            {"bin": {"a": {"id": "a", "noun": "n", "label": "l", "deleted": "2026-05-01", "records": []}}}
        ),
    ],
)
def test_a_file_that_is_no_good_backup_is_refused_and_changes_nothing(data: bytes) -> None:
    book = filled()
    before = book.raw()
    with pytest.raises(BrokenFile, match="Nothing was changed"):
        book.import_all(data)
    assert book.raw() == before


def test_a_backup_changed_on_the_way_is_refused() -> None:
    with zipfile.ZipFile(io.BytesIO(filled().export_all())) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    files["records.json"] = files["records.json"].replace(b"Ada Fen", b"Eve Fen")
    with pytest.raises(BrokenFile, match="do not match"):
        filled().import_all(zipped(files))


def test_a_small_file_that_unpacks_to_something_huge_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(backup, "LARGEST", 10_000)
    with pytest.raises(BrokenFile, match="too large"):
        filled().import_all(zipped({"manifest.json": b" " * 10_001}))


SPOTS = st.lists(st.tuples(st.integers(0, 10**6), st.integers(0, 255)), min_size=1, max_size=4)


@settings(max_examples=150)
@given(SPOTS)
def test_any_spoilt_backup_is_taken_in_as_it_was_or_refused(spots: list[tuple[int, int]]) -> None:
    book = filled()
    spoilt = bytearray(book.export_all())
    for at, byte in spots:
        spoilt[at % len(spoilt)] = byte
    other = Book.open(MemoryFolder())
    try:
        other.import_all(bytes(spoilt))
    except (BrokenFile, NewerFormat):
        assert not any(other.counts().values())
    else:
        assert other.all(Client) == book.all(Client)


def test_the_raw_copy_holds_the_stores_own_bytes_also_when_the_book_is_not_open() -> None:
    book = filled()
    contents = book._folder.contents()  # type: ignore[attr-defined]
    for data in (book.raw(), raw_copy(MemoryFolder(contents))):
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            assert archive.read("book.a") == contents["book.a"]
            assert set(archive.namelist()) == {"book.a", "book.b", "past.a", "past.b", "book.aside"}


def test_a_zip_that_unpacks_to_more_than_any_book_is_refused_by_what_it_says_and_by_what_it_is(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(backup, "LARGEST", 50_000)
    honest = zipped({"manifest.json": b" " * 60_000, "records.json": b"{}"})
    size = (60_000).to_bytes(4, "little")
    assert honest.count(size) == 2  # in the member's own head and in the directory
    lying = honest.replace(size, (100).to_bytes(4, "little"))
    for data in (honest, lying):
        with pytest.raises(BrokenFile):
            Book.open(MemoryFolder()).import_all(data)
