"""A folder in memory that can fail in every way a browser or a disk does, and can be killed.

What has been flushed survives `killed`; of what has not, any part may. Writes, truncations and flushes are
counted, so that a test can let the n-th one fail.
"""

import random
from collections.abc import Callable

from logic.errors import StorageError, StorageFull

QUIETLY_SHORT = 4294967288  # what a private browser profile was seen to return when over its quota

Fault = Callable[["MemoryBlob", str, bytes], None]


class MemoryBlob:
    """One blob: the bytes as read now, those safe on the medium, and the steps that lie between."""

    def __init__(self, folder: "MemoryFolder", data: bytes = b"") -> None:
        self.folder = folder
        self.data = bytearray(data)
        self.safe = bytes(data)
        self.pending: list[tuple[str, int, bytes]] = []

    def size(self) -> int:
        return len(self.data)

    def read(self, at: int, n: int) -> bytes:
        return bytes(self.data[at : at + n])

    def write(self, at: int, data: bytes) -> int:
        room = self.folder.room(self, at, len(data))
        short = self.folder.step("write")
        taken = data[: len(data) // 2] if short else data[:room]
        self._put(at, taken)
        if len(taken) == len(data):
            return len(data)
        if self.folder.quota_raises:
            raise StorageFull
        return QUIETLY_SHORT

    def truncate(self, n: int) -> None:
        if self.folder.step("truncate"):
            raise StorageError
        del self.data[n:]
        self.pending.append(("truncate", n, b""))

    def flush(self) -> None:
        if self.folder.step("flush"):
            raise StorageError
        self.safe = bytes(self.data)
        self.pending.clear()

    def survivor(self, chance: random.Random) -> bytes:
        """The bytes after a kill: what was flushed, and any part of the steps since."""
        data = bytearray(self.safe)
        for kind, at, piece in self.pending:
            fate = chance.random()
            if fate < 0.3:
                continue
            if kind == "truncate":
                del data[at:]
                continue
            piece = piece if fate > 0.6 else piece[: chance.randrange(len(piece) + 1)]
            data[len(data) :] = bytes(max(0, at - len(data)))
            data[at : at + len(piece)] = piece
        return bytes(data)

    def _put(self, at: int, data: bytes) -> None:
        self.data[len(self.data) :] = bytes(max(0, at - len(self.data)))
        self.data[at : at + len(data)] = data
        self.pending.append(("write", at, data))


class MemoryFolder:
    """The folder. Set `quota` (bytes in all) or `fail_at` (index of the step that fails) to make trouble."""

    def __init__(self, contents: dict[str, bytes] | None = None) -> None:
        self.blobs = {name: MemoryBlob(self, data) for name, data in (contents or {}).items()}
        self.quota: int | None = None
        self.quota_raises = False
        self.fail_at: set[int] = set()
        self.steps: list[str] = []
        self.kill_at: int | None = None
        self.closed = False

    def open(self, name: str) -> MemoryBlob:
        return self.blobs.setdefault(name, MemoryBlob(self))

    def close(self) -> None:
        self.closed = True

    def contents(self) -> dict[str, bytes]:
        """All bytes as they are read now."""
        return {name: bytes(blob.data) for name, blob in self.blobs.items()}

    def killed(self, seed: int = 0) -> "MemoryFolder":
        """What the next start finds after a kill at this moment."""
        chance = random.Random(seed)
        return MemoryFolder({name: blob.survivor(chance) for name, blob in self.blobs.items()})

    def step(self, kind: str) -> bool:
        """Count a step; True when it is one that has to fail. Raises Killed when the process ends here."""
        self.steps.append(kind)
        number = len(self.steps) - 1
        if self.kill_at is not None and number >= self.kill_at:
            raise Killed
        return number in self.fail_at

    def room(self, blob: MemoryBlob, at: int, n: int) -> int:
        """How many of these bytes still fit."""
        if self.quota is None:
            return n
        others = sum(len(other.data) for other in self.blobs.values() if other is not blob)
        return max(0, min(n, self.quota - others - at))


class Killed(BaseException):
    """The process ends at this step; nothing after it happens."""
