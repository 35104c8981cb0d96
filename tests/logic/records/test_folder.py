"""What every back end must do. The browser's is put through the same by the journeys in a real browser."""

from collections.abc import Callable
from pathlib import Path

import pytest

from logic.errors import StorageBusy, StorageError, StorageFull
from logic.records.folder import Folder, read_all
from mobile_app.device.disk import DiskFolder
from tests.logic.records.memory import MemoryFolder

Make = Callable[[Path], Folder]


@pytest.fixture(params=[lambda path: MemoryFolder(), DiskFolder], ids=["memory", "disk"])
def folder(request: pytest.FixtureRequest, tmp_path: Path) -> Folder:
    made: Folder = request.param(tmp_path)
    return made


def test_a_blob_starts_empty(folder: Folder) -> None:
    blob = folder.open("book.a")
    assert (blob.size(), blob.read(0, 10)) == (0, b"")


def test_what_is_written_is_read_back_at_its_place(folder: Folder) -> None:
    blob = folder.open("book.a")
    assert blob.write(0, b"hello") == 5
    assert blob.write(5, b" world") == 6
    assert blob.write(0, b"J") == 1
    blob.flush()
    assert read_all(blob) == b"Jello world"
    assert blob.read(6, 3) == b"wor"
    assert blob.read(9, 100) == b"ld"
    assert blob.read(100, 1) == b""


def test_writing_past_the_end_fills_with_zeros(folder: Folder) -> None:
    blob = folder.open("book.a")
    assert blob.write(3, b"x") == 1
    assert read_all(blob) == b"\0\0\0x"


def test_truncating_cuts_and_writing_goes_on_there(folder: Folder) -> None:
    blob = folder.open("book.a")
    blob.write(0, b"0123456789")
    blob.truncate(4)
    assert blob.size() == 4
    blob.write(4, b"x")
    assert read_all(blob) == b"0123x"
    blob.truncate(0)
    assert blob.size() == 0


def test_a_name_is_one_blob_and_names_are_apart(folder: Folder) -> None:
    folder.open("book.a").write(0, b"a")
    folder.open("book.b").write(0, b"bb")
    assert folder.open("book.a") is folder.open("book.a")
    assert (folder.open("book.a").size(), folder.open("book.b").size()) == (1, 2)


def test_a_megabyte_goes_in_whole(folder: Folder) -> None:
    data = bytes(range(256)) * 4096
    assert folder.open("book.b").write(0, data) == len(data)
    assert read_all(folder.open("book.b")) == data


def test_files_on_disk_outlive_their_folder_object(tmp_path: Path) -> None:
    first = DiskFolder(tmp_path / "new" / "place")
    first.open("book.a").write(0, b"kept")
    first.close()
    again = DiskFolder(tmp_path / "new" / "place")
    assert read_all(again.open("book.a")) == b"kept"
    again.close()


def test_a_second_opening_of_the_same_place_is_refused_until_the_first_is_closed(tmp_path: Path) -> None:
    first = DiskFolder(tmp_path)
    with pytest.raises(StorageBusy, match="already open"):
        DiskFolder(tmp_path)
    first.close()
    DiskFolder(tmp_path).close()


def test_a_full_disk_is_told_from_other_trouble(tmp_path: Path) -> None:
    """/dev/full is Linux's file that is always full: write gives ENOSPC (full(4) in the Linux manual)."""
    folder = DiskFolder(tmp_path)
    (tmp_path / "book.a").symlink_to("/dev/full")
    with pytest.raises(StorageFull, match="no room"):
        folder.open("book.a").write(0, b"x")
    (tmp_path / "book.b").mkdir()
    with pytest.raises(StorageError, match="could not be used"):
        folder.open("book.b")


def test_only_the_user_can_read_the_files(tmp_path: Path) -> None:
    DiskFolder(tmp_path).open("book.a")
    assert (tmp_path / "book.a").stat().st_mode & 0o077 == 0
