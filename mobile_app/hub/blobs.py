"""Photos and papers: taken in by pieces, on from where they stopped, checked by the hash of the whole."""

import hashlib
import re
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, delete, insert, select, update
from sqlalchemy.exc import IntegrityError

from mobile_app.hub.database import Database
from mobile_app.hub.errors import Refused
from mobile_app.hub.offices import now
from mobile_app.hub.pieces import Pieces
from mobile_app.hub.tables import blobs, pieces

LARGEST = 10 * 1024 * 1024
LARGEST_PIECE = 256 * 1024


@dataclass(frozen=True)
class State:
    """How many bytes of a blob are here, and whether that is all of it."""

    have: int
    done: bool


class Blobs:
    """The blobs of every business, on one database and one keeper of pieces."""

    def __init__(self, database: Database, kept: Pieces) -> None:
        self.database = database
        self.kept = kept

    def open(self, business: str, sha256: str, size: int) -> State:
        """Says what is here of a blob, and makes room for it if it is new. Raises Refused."""
        _check_name(sha256)
        if not 0 < size <= LARGEST:
            raise Refused(413, "too-large", "A photo or paper may have up to 10 MB.")
        with self.database.tenant(business, write=True) as connection:
            row = _row(connection, business, sha256, lock=True)
            if row is None:
                values = {"business": business, "sha256": sha256, "size": size, "at": now()}
                with suppress(IntegrityError), connection.begin_nested():  # another phone was quicker
                    connection.execute(insert(blobs).values(have=0, whole=False, **values))
                row = _row(connection, business, sha256, lock=True)
            if row.size != size and not row.whole:  # a first size that was wrong must not stand for ever
                self._start_again(connection, business, sha256, size)
                return State(0, False)
            return State(row.have, row.whole)

    def add(self, business: str, sha256: str, offset: int, data: bytes) -> State:
        """Takes the next piece of an opened blob. A piece that is here already changes nothing.

        Raises Refused: 404 when it was not opened, 409 with `have` when this is not the next piece, 422 when
        the whole is not what its hash names; then it begins at 0 again.
        """
        _check_name(sha256)
        if not 0 < len(data) <= LARGEST_PIECE:
            raise Refused(413, "too-large", "A piece may have up to 256 KiB.")
        with self.database.tenant(business, write=True) as connection:
            row = _row(connection, business, sha256, lock=True)
            if row is None:
                raise Refused(404, "not-found", "Say first how large this is.")
            if row.whole or 0 <= offset <= offset + len(data) <= row.have:
                return State(row.have, row.whole)
            if offset != row.have or offset + len(data) > row.size:
                raise Refused(409, "not-next", "Another piece of this is the next one.", have=row.have)
            state = self._keep(connection, business, sha256, offset, data, row.size)
        if state is None:
            raise Refused(422, "bad-hash", "This changed on its way. Send it again from the start.", have=0)
        return state

    def read(self, business: str, sha256: str, offset: int, limit: int) -> tuple[int, bytes]:
        """The size of a whole blob, and up to `limit` of its bytes from `offset` on. Raises Refused (404)."""
        _check_name(sha256)
        with self.database.tenant(business) as connection:
            row = _row(connection, business, sha256)
            if row is None or not row.whole:
                raise Refused(404, "not-found", "This is not here, or not whole yet.")
            return row.size, self.take(connection, business, sha256, limit, offset)

    def is_whole(self, connection: Connection, business: str, sha256: str) -> bool:
        """Whether all of a blob is here."""
        row = _row(connection, business, sha256)
        return row is not None and bool(row.whole)

    def take(self, connection: Connection, business: str, sha256: str, limit: int, offset: int = 0) -> bytes:
        """Up to `limit` bytes of what is here of a blob, within the caller's transaction."""
        parts = []
        end = offset + limit
        query = select(pieces).where(_pieces_of(business, sha256)).order_by(pieces.c.start)
        here = pieces.c.start + pieces.c.length > offset
        for row in connection.execute(query.where(pieces.c.start < end, here)):
            data = self.kept.get(business, sha256, row.start, row.data)
            parts.append(data[max(0, offset - row.start) : end - row.start])
        return b"".join(parts)

    def _keep(
        self, connection: Connection, business: str, sha256: str, offset: int, data: bytes, size: int
    ) -> State | None:
        """The state with this piece, or None when the whole turned out to be something else."""
        kept = self.kept.put(business, sha256, offset, data)
        piece = {"business": business, "sha256": sha256, "start": offset, "length": len(data), "data": kept}
        connection.execute(insert(pieces).values(piece))
        have = offset + len(data)
        done = have == size
        if done:
            whole = self.take(connection, business, sha256, size)
            if hashlib.sha256(whole).hexdigest() != sha256:
                self._start_again(connection, business, sha256, size)
                return None
        connection.execute(update(blobs).where(_mine(business, sha256)).values(have=have, whole=done))
        return State(have, done)

    def _start_again(self, connection: Connection, business: str, sha256: str, size: int) -> None:
        self.kept.drop(business, sha256)
        connection.execute(delete(pieces).where(_pieces_of(business, sha256)))
        connection.execute(update(blobs).where(_mine(business, sha256)).values(size=size, have=0))


def _check_name(sha256: str) -> None:
    if not re.fullmatch("[0-9a-f]{64}", sha256):
        raise Refused(404, "not-found", "There is nothing of this name.")


def _pieces_of(business: str, sha256: str) -> ColumnElement[bool]:
    return (pieces.c.business == business) & (pieces.c.sha256 == sha256)


def _row(connection: Connection, business: str, sha256: str, lock: bool = False) -> Any:
    query = select(blobs).where(_mine(business, sha256))
    return connection.execute(query.with_for_update() if lock else query).one_or_none()


def _mine(business: str, sha256: str) -> ColumnElement[bool]:
    return (blobs.c.business == business) & (blobs.c.sha256 == sha256)
