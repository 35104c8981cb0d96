"""What the hub keeps: one schema for SQLite and PostgreSQL, the business first in every key."""

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    Dialect,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
)


class Moment(TypeDecorator[datetime]):
    """An aware moment, kept as text in UTC: sorts as time does, and SQLite loses no zone."""

    impl = String(32)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        return value.astimezone(UTC).isoformat(timespec="microseconds") if value else None

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        return datetime.fromisoformat(value) if value else None


def _business() -> Column[str]:
    return Column("business", String(16), primary_key=True)


metadata = MetaData()

#: Names of records: sorted by their letters' numbers everywhere, as Python does.
key_text = Text().with_variant(Text(collation="C"), "postgresql")

#: A tenant. `position` is the last place given out in its log: the row is locked while changes are added.
businesses = Table(
    "businesses",
    metadata,
    _business(),
    Column("name", Text, nullable=False),
    Column("made", Moment, nullable=False),
    Column("epoch", String(32), nullable=False),
    Column("position", BigInteger, nullable=False),
    Column("kept_after", BigInteger, nullable=False),
    Column("mail", JSON, nullable=False),
)

devices = Table(
    "devices",
    metadata,
    _business(),
    Column("device", String(16), primary_key=True),
    Column("name", Text, nullable=False),
    Column("admin", Boolean, nullable=False),
    Column("token_hash", String(64), nullable=False),
    Column("paired", Moment, nullable=False),
    Column("seen", Moment),
    Column("revoked", Moment),
)

pairing_codes = Table(
    "pairing_codes",
    metadata,
    _business(),
    Column("code_hash", String(64), primary_key=True),
    Column("admin", Boolean, nullable=False),
    Column("expires", Moment, nullable=False),
    Column("used", Moment),
    Index("pairing_codes_by_hash", "code_hash"),
)

#: Tries at something that may be guessed, by place (a hash of the address, or "" for everywhere) and window.
tries = Table(
    "tries",
    metadata,
    Column("place", String(64), primary_key=True),
    Column("starts", BigInteger, primary_key=True),
    Column("count", Integer, nullable=False),
)

#: The append-only log: what a device pushed under a number, and where it stands for good. A change whose text
#: was dropped to save room keeps its row, so that its number is still known.
changes = Table(
    "changes",
    metadata,
    _business(),
    Column("position", BigInteger, primary_key=True, autoincrement=False),
    Column("device", String(16), nullable=False),
    Column("number", BigInteger, nullable=False),
    Column("hash", String(64), nullable=False),
    Column("change", Text, nullable=False),
    Column("at", Moment, nullable=False),
    UniqueConstraint("business", "device", "number", name="changes_once"),
)

#: Every record as it stands: the join of all changes to it.
records = Table(
    "records",
    metadata,
    _business(),
    Column("kind", key_text, primary_key=True),
    Column("record", key_text, primary_key=True),
    Column("bucket", Integer, nullable=False),
    Column("state", Text, nullable=False),
    Index("records_by_bucket", "business", "bucket", "kind", "record"),
)

#: The check sums of the records, by bucket, as 16 hexadecimal digits.
sums = Table(
    "sums",
    metadata,
    _business(),
    Column("bucket", Integer, primary_key=True, autoincrement=False),
    Column("sum", String(16), nullable=False),
)

#: Photos and papers by the hash of their bytes; `have` counts what has come so far.
blobs = Table(
    "blobs",
    metadata,
    _business(),
    Column("sha256", String(64), primary_key=True),
    Column("size", BigInteger, nullable=False),
    Column("have", BigInteger, nullable=False),
    Column("whole", Boolean, nullable=False),
    Column("at", Moment, nullable=False),
)

#: The pieces of a file. `data` is empty when they are kept in a folder.
pieces = Table(
    "pieces",
    metadata,
    _business(),
    Column("sha256", String(64), primary_key=True),
    Column("start", BigInteger, primary_key=True, autoincrement=False),
    Column("length", Integer, nullable=False),
    Column("data", LargeBinary),
)

#: The outbox. `occasion` names the wish to send: another one needs another wish, which a person makes.
mail = Table(
    "mail",
    metadata,
    _business(),
    Column("message", key_text, primary_key=True),
    Column("occasion", String(32), primary_key=True),
    Column("state", String(16), nullable=False),
    Column("paper", String(64), nullable=False),
    Column("tried", Integer, nullable=False),
    Column("due", Moment, nullable=False),
    Column("made", Moment, nullable=False),
    Index("mail_by_state", "business", "state", "due"),
)

#: Tables walled off by business; `tries` holds nobody's data.
WALLED = tuple(name for name in metadata.tables if name != "tries")
