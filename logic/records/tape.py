"""The two files that take turns as the live one: appending a line whole or not at all, and switching over."""

import contextlib
from collections.abc import Mapping
from dataclasses import dataclass

from logic.errors import StorageError, StorageFull, StorageTorn
from logic.records.entry import FORMAT, Entry, canonical, frame
from logic.records.folder import Folder
from logic.records.recovery import Recovery, Side, choose, keep_aside, missing_from, read_side
from logic.records.types import new_id

BALLAST = 256 * 1024

Places = dict[int, tuple[int, int]]  # entry number -> position and length in the live file


class Tape:
    """Where lines go. After a failure that could not be undone it takes nothing until it is opened again."""

    def __init__(self, folder: Folder, live: Side, spare: Side) -> None:
        self.book = live.book or spare.book or new_id()
        self.running_low = False
        self._live, self._spare = live.blob, spare.blob
        self._ballast = folder.open("ballast")
        self._generation = max(live.generation, spare.generation)
        self._torn = False
        self._end = live.blob.size()
        # A line whose own newline is missing, or damage that could not be moved, must not run
        # into the next line.
        self._ragged = self._end > 0 and live.blob.read(self._end - 1, 1) != b"\n"

    @property
    def size(self) -> int:
        """Bytes in the live file."""
        return self._end

    def read(self, at: int, size: int) -> bytes:
        """Bytes of the live file."""
        return self._live.read(at, size)

    def append(self, lines: bytes) -> int:
        """Write whole lines to the end, flushed; returns where they begin.

        Raises StorageFull or another StorageError and then the file is as before; StorageTorn when even that
        could not be made sure. The reserve is used up before the first StorageFull.
        """
        try:
            return self._append(lines)
        except StorageFull:
            if not self._drop_ballast():
                raise
            return self._append(lines)

    def rewrite(self, lines: Mapping[int, bytes]) -> Places:
        """Write these lines, by number, to the other file, seal it, switch over; returns where they are."""
        places = self._write_sealed(lines)
        self._live, self._spare = self._spare, self._live
        self._end, self._ragged = self._live.size(), False
        # From here on the old file is only waste: should emptying it fail, the next opening does it.
        with contextlib.suppress(StorageError):
            self._spare.truncate(0)
            self._spare.flush()
        return places

    def fill_ballast(self) -> None:
        """Put the reserve in place, which `append` falls back on when the device is full."""
        missing = BALLAST - self._ballast.size()
        if missing <= 0:
            return
        try:
            if self._ballast.write(self._ballast.size(), bytes(missing)) != missing:
                raise StorageFull
            self._ballast.flush()
        except StorageFull:
            self._drop_ballast()

    def stop(self) -> None:
        """Take nothing more."""
        self._torn = True

    def _append(self, lines: bytes) -> int:
        if self._torn:
            raise StorageTorn
        data = b"\n" + lines if self._ragged else lines
        try:
            if self._live.write(self._end, data) != len(data):
                raise StorageFull
            self._live.flush()
        except BaseException:
            self._cut_back()
            raise
        self._end += len(data)
        self._ragged = False
        return self._end - len(lines)

    def _cut_back(self) -> None:
        self._torn = True
        try:
            self._live.truncate(self._end)
            self._live.flush()
        except StorageError as error:
            raise StorageTorn from error
        self._torn = False

    def _drop_ballast(self) -> bool:
        self.running_low = True
        if not self._ballast.size():
            return False
        self._ballast.truncate(0)
        self._ballast.flush()
        return True

    def _write_sealed(self, lines: Mapping[int, bytes]) -> Places:
        about = {"format": FORMAT, "book": self.book, "generation": self._generation + 1}
        head = frame(canonical({**about, "part": "head"}))
        seal = frame(canonical({**about, "part": "seal"}))
        places: Places = {}
        at = len(head)
        for number, line in lines.items():
            places[number] = (at, len(line))
            at += len(line)
        out = b"".join([head, *lines.values(), seal])
        try:
            self._spare.truncate(0)
            if self._spare.write(0, out) != len(out):
                raise StorageFull
            self._spare.flush()
        except BaseException:
            # Should this fail too, the next opening finds two files and takes the newer entries of both.
            with contextlib.suppress(StorageError):
                self._spare.truncate(0)
            raise
        self._generation += 1
        return places


@dataclass(frozen=True)
class Opened:
    """A tape as it was found: its entries by number with their places, and what had to be put right."""

    tape: Tape
    entries: list[tuple[Entry, int, int]]
    recovery: Recovery
    #: Numbers that may have been in damaged bytes and must not be used again.
    skip: int
    #: True when the file is not whole and should be written afresh.
    rewrite: bool


def open_tape(folder: Folder, known: bool, now: str) -> Opened:
    """Open the two files, whatever is in them (see recovery.py for the rules)."""
    live, spare = choose([read_side(folder, name) for name in ("book.a", "book.b")])
    if not live.data and not spare.data:
        tape = Tape(folder, spare, live)
        tape.rewrite({})
        return Opened(tape, [], Recovery(cleared=known), 0, False)
    damaged = [] if live.whole else [live, spare]
    aside = keep_aside(folder, damaged, now)
    if aside and live.torn:
        live.blob.truncate(live.torn_from)
        live.blob.flush()
    tape = Tape(folder, live, spare)
    entries = {entry.number: (entry, at, size) for entry, at, size in live.entries}
    for entry, line in missing_from(live, spare):
        entries[entry.number] = (entry, tape.append(line), len(line))
    if spare.data and aside:
        spare.blob.truncate(0)
        spare.blob.flush()
    skip = sum(side.data.count(b"\n", *span) + 1 for side in damaged for span in side.damage)
    recovery = Recovery(live.torn, live.damaged, aside)
    ordered = [entries[number] for number in sorted(entries)]
    return Opened(tape, ordered, recovery, skip, aside and (live.damaged > 0 or not live.sealed))
