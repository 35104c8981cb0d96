"""The log and the records of one business in the database, as logic.sync's rules want them."""

import json
from collections.abc import Collection, Mapping, Sequence
from typing import Any, TypeVar

from sqlalchemy import Connection, Table, insert, select, tuple_, update
from sqlalchemy.dialects import postgresql, sqlite

from logic.sync.hub_rules import Logged
from logic.sync.registers import BUCKETS, Key, bucket
from logic.sync.text import text_of
from logic.sync.wire import Change, Json
from mobile_app.hub.offices import now
from mobile_app.hub.tables import businesses, changes, records, sums

T = TypeVar("T")

#: Values in one question to the database; both kinds take more.
_AT_ONCE = 300


class DatabaseLog:
    """A `Log` within one transaction of `Database.tenant`. To write, ask for the lock."""

    def __init__(self, connection: Connection, business: str, *, lock: bool = False) -> None:
        """lock: hold the business's row until the transaction ends, so that positions commit in order."""
        self._connection = connection
        self._business = business
        query = select(businesses).where(businesses.c.business == business)
        row = connection.execute(query.with_for_update() if lock else query).one()
        self.epoch: str = row.epoch
        self._last: int = row.position
        self._kept_after: int = row.kept_after

    def last(self) -> int:
        return self._last

    def kept_after(self) -> int:
        return self._kept_after

    def results(self, device: str, numbers: Collection[int]) -> Mapping[int, tuple[str, int]]:
        columns = (changes.c.number, changes.c.hash, changes.c.position)
        mine = (changes.c.business == self._business) & (changes.c.device == device)
        found: dict[int, tuple[str, int]] = {}
        for some in _portions(sorted(numbers)):
            query = select(*columns).where(mine, changes.c.number.in_(some))
            found |= {row.number: (row.hash, row.position) for row in self._connection.execute(query)}
        return found

    def states(self, keys: Collection[Key]) -> Mapping[Key, Json]:
        found: dict[Key, Json] = {}
        for some in _portions(sorted(keys)):
            query = select(records.c.kind, records.c.record, records.c.state).where(
                records.c.business == self._business, tuple_(records.c.kind, records.c.record).in_(some)
            )
            for row in self._connection.execute(query):
                found[row.kind, row.record] = json.loads(row.state)
        return found

    def sums(self) -> Sequence[int]:
        totals = [0] * BUCKETS
        query = select(sums.c.bucket, sums.c.sum).where(sums.c.business == self._business)
        for row in self._connection.execute(query):
            totals[row.bucket] = int(row.sum, 16)
        return totals

    def append(self, entries: Sequence[Logged]) -> None:
        moment = now()
        rows = [
            {
                "business": self._business,
                "position": entry.position,
                "device": entry.device,
                "number": entry.number,
                "hash": entry.hash,
                "change": text_of(entry.change.to_json()),
                "at": moment,
            }
            for entry in entries
        ]
        self._connection.execute(insert(changes), rows)
        self._last = entries[-1].position
        mine = businesses.c.business == self._business
        self._connection.execute(update(businesses).where(mine).values(position=self._last))

    def put(self, states: Mapping[Key, Json], sums_: Mapping[int, int]) -> None:
        rows: list[dict[str, Any]] = [
            {
                "business": self._business,
                "kind": kind,
                "record": record,
                "bucket": bucket(kind, record),
                "state": text_of(state),
            }
            for (kind, record), state in states.items()
        ]
        totals = [
            {"business": self._business, "bucket": at, "sum": f"{total:016x}"} for at, total in sums_.items()
        ]
        self._put(records, rows, "state")
        self._put(sums, totals, "sum")

    def _put(self, table: Table, rows: list[dict[str, Any]], changing: str) -> None:
        """Rows that are new, or take the place of older ones of the same key."""
        dialect = sqlite if self._connection.dialect.name == "sqlite" else postgresql
        new = dialect.insert(table)
        keys = list(table.primary_key.columns)
        if rows:
            put = new.on_conflict_do_update(index_elements=keys, set_={changing: new.excluded[changing]})
            self._connection.execute(put, rows)

    def after(self, position: int, limit: int, but: str) -> Sequence[Logged]:
        query = (
            select(changes)
            .where(changes.c.business == self._business)
            .where(changes.c.position > position, changes.c.device != but)
            .order_by(changes.c.position)
            .limit(limit)
        )
        return [
            Logged(row.position, row.device, row.number, row.hash, Change.from_json(json.loads(row.change)))
            for row in self._connection.execute(query)
        ]

    def records(self, after: Key | None, limit: int, buckets: Collection[int] | None) -> Sequence[Json]:
        query = select(records.c.state).where(records.c.business == self._business)
        if buckets is not None:
            query = query.where(records.c.bucket.in_(sorted(buckets)))
        if after is not None:
            query = query.where(tuple_(records.c.kind, records.c.record) > after)
        query = query.order_by(records.c.kind, records.c.record).limit(limit)
        return [json.loads(row.state) for row in self._connection.execute(query)]


def _portions(items: Sequence[T]) -> list[Sequence[T]]:
    return [items[at : at + _AT_ONCE] for at in range(0, len(items), _AT_ONCE)]
