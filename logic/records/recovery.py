"""Opening the journal's two files whatever is in them: which one holds, what is damaged, what is kept aside.

Rules. A file is whole when it has its seal and no damage. Of two files the sealed one of the higher
generation holds; the other is a compaction that was cut short, or the file before it. Entries that only the
other has are brought over: the newer ones always, all of them when the one that holds is not whole. An entry
carries whole documents, so every entry with a right checksum counts, also after a damaged stretch; a record
whose newest version lay in the damage is shown as it was at the save before. Damaged bytes are kept in
`book.aside` before anything is cut.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from logic.errors import NewerFormat, StorageError, StorageFull
from logic.records.entry import FORMAT, Entry, entry_from, scan
from logic.records.folder import Blob, Folder, read_all

ASIDE_LIMIT = 1024 * 1024


@dataclass(frozen=True)
class Recovery:
    """What the opening found. `sentence` is "" when there is nothing to tell."""

    #: Bytes at the end that were no whole entry, and bytes damaged elsewhere.
    torn: int = 0
    damaged: int = 0
    #: False when there was no room to keep those bytes aside; they were then left where they are.
    aside: bool = True
    cleared: bool = False

    @property
    def sentence(self) -> str:
        """What to tell the user, in plain words."""
        if self.cleared:
            return (
                "This device had a book before, and its storage is empty now: it has been cleared. "
                "Restore your last backup, or start afresh."
            )
        where = "kept aside" if self.aside else "left where they are, as there is no room to keep them aside"
        if self.damaged:
            return (
                f"Part of the store was damaged and could not be read "
                f"({self.damaged + self.torn} bytes, {where}). "
                "A record changed there is shown as it was at the save before; everything else is complete."
            )
        if self.torn:
            return (
                f"The last change was not completely written when the app was stopped "
                f"({self.torn} bytes, {where}). "
                "Everything saved before it is here."
            )
        return ""


@dataclass
class Side:
    """One of the two files as read: its entries with their places, and what is wrong with it."""

    name: str
    blob: Blob
    data: bytes
    entries: list[tuple[Entry, int, int]] = field(default_factory=list)
    damage: list[tuple[int, int]] = field(default_factory=list)
    generation: int = 0
    sealed: bool = False
    book: str = ""

    @property
    def torn_from(self) -> int:
        """Where the last whole frame ends."""
        return self.damage[-1][0] if self.damage and self.damage[-1][1] == len(self.data) else len(self.data)

    @property
    def torn(self) -> int:
        """Bytes at the end that are no whole frame."""
        return len(self.data) - self.torn_from

    @property
    def damaged(self) -> int:
        """Bytes of damage anywhere else."""
        return sum(end - start for start, end in self.damage) - self.torn

    @property
    def whole(self) -> bool:
        """True when it can be relied upon alone."""
        return self.sealed and not self.damage


def read_side(folder: Folder, name: str) -> Side:
    """Read one file, whatever its bytes. Raises only NewerFormat: a later version of the app wrote it."""
    blob = folder.open(name)
    side = Side(name, blob, read_all(blob))
    found = scan(side.data)
    side.damage = list(found.damage)
    for at, size, value in found.frames:
        try:
            if "part" in value:
                _read_part(side, value)
            else:
                side.entries.append((entry_from(value), at, size))
        except (AttributeError, KeyError, TypeError, ValueError):
            side.damage.append((at, at + size))
    side.damage.sort()
    return side


def choose(sides: Sequence[Side]) -> tuple[Side, Side]:
    """The file that holds, and the other."""
    first, second = sides
    if _rank(second) > _rank(first):
        return second, first
    return first, second


def missing_from(live: Side, other: Side) -> list[tuple[Entry, bytes]]:
    """Entries with their lines that only the other file has and that count.

    Beside a whole file only what is newer: there is none, unless a compaction failed after its seal and could
    not be taken back. Beside one that is not whole, all.
    """
    have = {entry.number for entry, _, _ in live.entries}
    floor = max(have, default=0) if live.whole else 0
    return [
        (entry, whole_line(other.data, at, size))
        for entry, at, size in other.entries
        if entry.number not in have and entry.number > floor
    ]


def whole_line(data: bytes, at: int, size: int) -> bytes:
    """The line at this place, with its newline even when that is missing there."""
    line = data[at : at + size]
    return line if line.endswith(b"\n") else line + b"\n"


def keep_aside(folder: Folder, sides: Sequence[Side], now: str) -> bool:
    """Copy the damaged bytes of these files to `book.aside`, flushed; False when there is no room.

    At most ASIDE_LIMIT bytes are kept; what is newer pushes out what is older.
    """
    pieces = [
        f"\n== {now} {side.name} from byte {start}, {end - start} bytes ==\n".encode() + side.data[start:end]
        for side in sides
        for start, end in side.damage
    ]
    data = b"".join(pieces)[:ASIDE_LIMIT]
    if not data:
        return True
    blob = folder.open("book.aside")
    at = blob.size()
    if at + len(data) > ASIDE_LIMIT:
        blob.truncate(0)
        at = 0
    try:
        if blob.write(at, data) != len(data):
            raise StorageFull
        blob.flush()
    except StorageError:
        blob.truncate(at)
        return False
    return True


def _rank(side: Side) -> tuple[bool, int, int]:
    return (side.sealed, side.generation if side.sealed else 0, len(side.entries))


def _read_part(side: Side, value: dict[str, Any]) -> None:
    """Take what the head or the seal of a file says. Raises ValueError and its like on anything else."""
    name, _, version = value["format"].partition("/")
    if f"{name}/" == FORMAT[:-1] and int(version) > 1:
        raise NewerFormat(
            "The records on this device were written by a newer version of Swardwright. "
            "Update the app to open them; nothing was changed."
        )
    side.generation, side.book = int(value["generation"]), str(value["book"])
    side.sealed = side.sealed or value["part"] == "seal"
