"""Opening a journal after all kinds of damage: cuts and flips at every byte, kills, faults at every step."""

import itertools
import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import StorageError, StorageFull, StorageTorn
from logic.records.entry import HEAD, frame
from logic.records.journal import Journal
from logic.records.recovery import ASIDE_LIMIT
from tests.logic.records.build import small_journal, tables, ticking
from tests.logic.records.memory import Killed, MemoryFolder

Tables = dict[str, dict[str, Any]]


def lines_of(data: bytes) -> list[bytes]:
    return data.splitlines(keepends=True)


def replayed(lines: list[bytes]) -> Tables:
    """The tables that whole lines add up to, worked out apart from the code under test."""
    out: Tables = {}
    for line in lines:
        value = json.loads(line[HEAD:])
        for change in value.get("changes", []):
            out.setdefault(change["table"], {})[change["id"]] = change["doc"]
    kept = {name: {key: doc for key, doc in table.items() if doc is not None} for name, table in out.items()}
    return {name: table for name, table in kept.items() if table}


def opens_quietly_again(folder: MemoryFolder, expected: Tables) -> None:
    """The next opening finds nothing to tell, and saving goes on."""
    again = Journal(MemoryFolder(folder.contents()))
    assert again.recovery.sentence == ""
    assert tables(again) == expected
    again.append({("probe", "p"): {"a": 1}})
    last = Journal(MemoryFolder(again._folder.contents()))  # type: ignore[attr-defined]
    assert tables(last) == {**expected, "probe": {"p": {"a": 1}}}


def test_a_file_cut_at_any_byte_opens_with_every_whole_entry() -> None:
    folder = MemoryFolder()
    small_journal(folder)
    data = folder.contents()["book.a"]
    for cut in range(len(data)):
        part = data[:cut]
        whole = lines_of(part + b"\n" if part + b"\n" == data[: cut + 1] else part)
        whole = [line for line in whole if line.endswith(b"\n")]
        broken = MemoryFolder({"book.a": part})
        journal = Journal(broken)
        assert tables(journal) == replayed(whole), cut
        torn = cut - sum(map(len, whole))
        assert journal.recovery.torn == max(torn, 0)
        if torn > 0:
            assert "not completely written" in journal.recovery.sentence
            assert part[-torn:] in broken.contents()["book.aside"]
        opens_quietly_again(broken, replayed(whole))


@pytest.mark.parametrize("mask", [0x01, 0x20, 0x80, 0xFF])
def test_a_flip_at_any_byte_costs_at_most_the_entry_it_is_in(mask: int) -> None:
    folder = MemoryFolder()
    small_journal(folder)
    data = folder.contents()["book.a"]
    starts = list(itertools.accumulate(map(len, lines_of(data)), initial=0))
    for at in range(len(data)):
        flipped = data[:at] + bytes([data[at] ^ mask]) + data[at + 1 :]
        hit = max(index for index, start in enumerate(starts) if start <= at)
        lines = lines_of(data)
        if data[at : at + 1] != b"\n":
            del lines[hit]
        broken = MemoryFolder({"book.a": flipped})
        journal = Journal(broken)
        assert tables(journal) == replayed(lines), at
        assert journal.recovery.sentence
        assert flipped[at : at + 1] in broken.contents()["book.aside"]
        assert journal.append({("t", "x"): {}}).number > 6, (
            "a number that was in the damage is not used again"
        )
        opens_quietly_again(broken, {**replayed(lines), "t": {"x": {}}})


@settings(max_examples=200)
@given(st.binary(max_size=400), st.binary(max_size=400), st.booleans())
def test_any_bytes_at_all_can_be_opened(first: bytes, second: bytes, with_lines: bool) -> None:
    folder = MemoryFolder()
    states = small_journal(folder)
    line = folder.contents()["book.a"] if with_lines else b""
    broken = MemoryFolder({"book.a": first + line, "book.b": second})
    journal = Journal(broken)
    assert tables(journal) == (states[-1] if with_lines else {})
    opens_quietly_again(broken, tables(journal))


@pytest.mark.parametrize(
    "payload",
    [
        b"{}",
        b'{"part":"seal"}',
        b'{"part":"seal","format":"other/1"}',
        b'{"part":"seal","format":7}',
        b'{"n":"7","at":"","why":"","changes":[]}',
        b'{"n":7,"at":"","why":"","changes":[{}]}',
        b'{"n":7,"at":"","why":"","changes":[{"table":"t","id":1,"doc":null,"before":0}]}',
        b'{"n":7,"at":"","why":"","changes":[{"table":"t","id":"x","doc":[],"before":0}]}',
        b'{"n":7,"at":"","why":"","changes":[' + b"[" * 5000,
    ],
)
def test_a_whole_line_that_says_nothing_sensible_is_damage_like_any_other(payload: bytes) -> None:
    folder = MemoryFolder()
    states = small_journal(folder)
    lines = lines_of(folder.contents()["book.a"])
    broken = MemoryFolder({"book.a": b"".join([*lines[:4], frame(payload), *lines[4:]])})
    journal = Journal(broken)
    assert tables(journal) == states[-1]
    assert journal.recovery.damaged == len(frame(payload))
    assert payload in broken.contents()["book.aside"]
    opens_quietly_again(broken, states[-1])


def test_damage_and_a_compaction_cut_short_together_lose_nothing_that_either_file_has() -> None:
    folder = MemoryFolder()
    states = small_journal(folder)
    old = folder.contents()["book.a"]
    journal = Journal(MemoryFolder(folder.contents()))
    journal.tidy(always=True)
    new = journal._folder.contents()["book.b"]  # type: ignore[attr-defined]
    for at in (at for at in range(0, len(old), 7) if old[at] != ord("\n")):
        flipped = old[:at] + b"\0" + old[at + 1 :]
        for cut in range(0, len(new), 97):
            broken = MemoryFolder({"book.a": flipped, "book.b": new[:cut]})
            found = tables(Journal(broken))
            either = replayed(sorted({*whole_lines(flipped), *whole_lines(new[:cut])}, key=number_of))
            assert found == either
            opens_quietly_again(broken, either)
        assert tables(Journal(MemoryFolder({"book.a": flipped, "book.b": new}))) == states[-1]


def whole_lines(data: bytes) -> Iterator[bytes]:
    for line in lines_of(data):
        if b"\0" not in line and line[HEAD - 1 : HEAD] == b" " and len(line) >= HEAD + int(line[9:17]):
            yield line.rstrip(b"\n") + b"\n"


def number_of(line: bytes) -> int:
    return int(json.loads(line[HEAD:]).get("n", 0))


def test_a_cleared_store_is_told_only_where_there_was_one() -> None:
    assert "cleared" in Journal(MemoryFolder(), known=True).recovery.sentence
    assert Journal(MemoryFolder(), known=False).recovery.sentence == ""
    folder = MemoryFolder()
    small_journal(folder)
    assert Journal(MemoryFolder(folder.contents()), known=True).recovery.sentence == ""


def test_what_is_kept_aside_is_bounded_and_the_newest_stays() -> None:
    folder = MemoryFolder({"book.a": b"\x01" * (ASIDE_LIMIT + 5)})
    Journal(folder)
    assert folder.blobs["book.aside"].size() <= ASIDE_LIMIT
    contents = folder.contents()
    contents["book.b"] += b"the newest garbage"
    again = MemoryFolder(contents)
    Journal(again)
    assert b"the newest garbage" in again.contents()["book.aside"]
    assert again.blobs["book.aside"].size() <= ASIDE_LIMIT


@pytest.mark.parametrize("damage", [b"torn", b"torn\n"])
def test_without_room_to_keep_damage_aside_it_stays_and_saving_goes_on(damage: bytes) -> None:
    folder = MemoryFolder()
    states = small_journal(folder)
    broken = MemoryFolder({"book.a": folder.contents()["book.a"] + damage})
    broken.fail_at = {0}  # the write to book.aside
    journal = Journal(broken)
    assert "no room" in journal.recovery.sentence
    assert damage in broken.contents()["book.a"]
    journal.append({("t", "x"): {}})
    again = MemoryFolder(broken.contents())
    expected = {**states[-1], "t": {"x": {}}}
    assert tables(Journal(again)) == expected
    assert damage in again.contents()["book.aside"]
    opens_quietly_again(again, expected)


# -- faults and kills while working

Op = Callable[[Journal], object]

SCRIPT: list[Op] = [
    lambda journal: journal.append({("t", "x"): {"a": "1" * 50}, ("t", "y"): {"b": 1}}),
    lambda journal: journal.append({("t", "x"): {"a": "2" * 40}}),
    lambda journal: journal.tidy(always=True),
    lambda journal: journal.append({("t", "y"): None, ("t", "z"): {"c": 1}}),
    lambda journal: journal.append({("t", "x"): {"a": "3"}}),
    lambda journal: journal.tidy(always=True),
    lambda journal: journal.append({("t", "z"): {"c": 2}}),
]


def expected_after(op: Op, before: Tables) -> Tables:
    """What an operation makes of the tables when it succeeds."""
    folder = MemoryFolder()
    journal = Journal(folder)
    if before:
        journal.append({(name, key): doc for name, table in before.items() for key, doc in table.items()})
    op(journal)
    return tables(journal)


def script_steps() -> range:
    folder = MemoryFolder()
    journal = Journal(folder)
    for op in SCRIPT:
        op(journal)
    return range(len(folder.steps))


@pytest.mark.parametrize("also_next", [0, 1, 2], ids=["one step", "two steps", "three steps"])
def test_a_fault_at_any_step_leaves_what_was_saved_and_says_so(also_next: int) -> None:
    for step in script_steps():
        folder = MemoryFolder()
        folder.fail_at = set(range(step, step + also_next + 1))
        try:
            journal = Journal(folder, now=ticking())
        except StorageError:
            continue  # said at the opening: nothing can have been saved yet
        state: Tables = {}
        for op in SCRIPT:
            try:
                op(journal)
            except StorageTorn:
                assert also_next, "one fault alone can always be undone"
                break
            except StorageError:
                assert tables(journal) == state
            else:
                state = expected_after(op, state)
                assert tables(journal) == state
        else:
            found = Journal(MemoryFolder(folder.contents()))
            assert tables(found) == state, step
            continue
        with pytest.raises(StorageTorn):
            journal.append({("t", "x"): {}})
        found = Journal(MemoryFolder(folder.contents()))
        assert tables(found) in (state, expected_after(op, state)), step


@pytest.mark.parametrize("seed", range(12))
def test_a_kill_at_any_step_loses_nothing_that_was_acknowledged(seed: int) -> None:
    for step in script_steps():
        folder = MemoryFolder()
        folder.kill_at = step
        state: Tables = {}
        possible: list[Tables] = [state]
        try:
            journal = Journal(folder, now=ticking())
            for op in SCRIPT:
                possible = [state, expected_after(op, state)]
                op(journal)
                state = possible[1]
        except Killed:
            pass
        left = folder.killed(seed * 1000 + step)
        found = tables(Journal(left))
        assert found in possible, (step, folder.steps[step])
        opens_quietly_again(left, found)


@pytest.mark.parametrize("seed", range(6))
def test_a_kill_while_recovering_loses_nothing_either(seed: int) -> None:
    folder = MemoryFolder()
    small_journal(folder)
    data = folder.contents()["book.a"]
    at = data.index(b"twice")
    flipped = data[:at] + b"X" + data[at + 1 :] + b"a torn end"
    whole = replayed([line for line in lines_of(data) if b"twice" not in line])
    for step in range(30):
        broken = MemoryFolder({"book.a": flipped})
        broken.kill_at = step
        try:
            Journal(broken)
        except Killed:
            left = broken.killed(seed * 100 + step)
            assert tables(Journal(left)) == whole
            opens_quietly_again(left, whole)
        else:
            assert step > 8, "the recovery takes several steps"


# -- a full device


@pytest.mark.parametrize("quota_raises", [True, False], ids=["raises", "quietly short"])
def test_a_full_device_uses_the_reserve_then_says_so_and_loses_nothing(quota_raises: bool) -> None:
    folder = MemoryFolder()
    states = small_journal(folder)
    folder = MemoryFolder(folder.contents())
    folder.quota_raises = quota_raises
    folder.quota = sum(blob.size() for blob in folder.blobs.values()) + 10
    journal = Journal(folder)
    assert not journal.running_low
    journal.append({("t", "x"): {"text": "x" * 1000}})
    assert journal.running_low
    assert folder.blobs["ballast"].size() == 0
    before = folder.contents(), tables(journal)
    with pytest.raises(StorageFull, match=r"no room left on this device.*What was saved before is safe"):
        journal.append({("t", "y"): {"text": "y" * 300_000}})
    assert (folder.contents(), tables(journal)) == before
    assert not any(blob.pending for blob in folder.blobs.values()), "the cut is flushed"
    journal.append({("t", "small"): {"a": 1}})
    folder.quota = None
    journal.append({("t", "y"): {"text": "y" * 300_000}})
    found = tables(Journal(MemoryFolder(folder.contents())))
    assert set(found.pop("t")) == {"x", "small", "y"}
    assert found == states[-1]


@pytest.mark.parametrize(
    "room", [10, 5_000, 12_000], ids=["for nothing", "for some history", "for all history"]
)
def test_without_room_for_a_compaction_everything_stays_as_it_is(room: int) -> None:
    folder = MemoryFolder()
    journal = Journal(folder, now=ticking())
    for count in range(100):
        journal.append({("t", "x"): {"count": count}, ("t", str(count)): {"text": "x" * 100}})
        journal.append({("t", "y"): {"count": count}})
    before, versions = tables(journal), journal.versions("t", "y")
    folder.quota = sum(blob.size() for blob in folder.blobs.values()) + room
    assert not journal.tidy(always=True)
    assert journal.running_low
    for found in (journal, Journal(MemoryFolder(folder.contents()))):
        assert tables(found) == before
        assert found.versions("t", "y") == versions
    folder.quota = None
    assert journal.tidy(always=True)
    assert tables(journal) == before
    assert journal.versions("t", "y") == versions


def test_without_room_for_the_reserve_the_book_opens_and_says_that_room_is_short() -> None:
    folder = MemoryFolder()
    folder.quota = 10_000
    journal = Journal(folder)
    assert journal.running_low
    assert folder.blobs["ballast"].size() == 0
    journal.append({("t", "x"): {"a": 1}})
    assert tables(journal) == {"t": {"x": {"a": 1}}}
