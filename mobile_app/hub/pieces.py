"""Where the bytes of blobs are kept: three calls, so a folder, the database or an object store can do it."""

import os
import re
import shutil
from pathlib import Path
from typing import Protocol


class Pieces(Protocol):
    """Keeps pieces of blobs, each under (business, hash of the whole blob, where it starts)."""

    def put(self, business: str, sha256: str, start: int, data: bytes) -> bytes | None:
        """Keeps a piece and returns None, or returns what its row is to hold."""

    def get(self, business: str, sha256: str, start: int, row: bytes | None) -> bytes:
        """The piece that was put there; row: what its row holds."""

    def drop(self, business: str, sha256: str) -> None:
        """Forgets every piece of a blob, whose rows go too."""


class InDatabase:
    """Pieces in their rows: nothing else to look after."""

    def put(self, business: str, sha256: str, start: int, data: bytes) -> bytes:
        return data

    def get(self, business: str, sha256: str, start: int, row: bytes | None) -> bytes:
        return row or b""

    def drop(self, business: str, sha256: str) -> None:
        """Nothing: the bytes go with their rows."""


class InFolder:
    """Pieces as files of a folder that every process of the hub sees."""

    def __init__(self, root: Path) -> None:
        self.root = root

    def put(self, business: str, sha256: str, start: int, data: bytes) -> None:
        place = self._place(business, sha256) / str(start)
        place.parent.mkdir(parents=True, exist_ok=True)
        part = place.with_name(f"{start}.part")
        with part.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(place)

    def get(self, business: str, sha256: str, start: int, row: bytes | None) -> bytes:
        return (self._place(business, sha256) / str(start)).read_bytes()

    def drop(self, business: str, sha256: str) -> None:
        shutil.rmtree(self._place(business, sha256), ignore_errors=True)

    def _place(self, business: str, sha256: str) -> Path:
        if not re.fullmatch(r"[a-z0-9]{16}", business) or not re.fullmatch(r"[0-9a-f]{64}", sha256):
            raise ValueError("not the name of a blob kept here")  # nothing outside names a path
        return self.root / business / sha256[:2] / sha256
