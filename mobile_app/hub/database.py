"""The hub's database: SQLite with one writer, or PostgreSQL with a wall between businesses."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine, create_engine, event, select, text
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError

from logic.errors import StorageError
from mobile_app.hub.tables import businesses

#: Threads that answer requests, and so the connections that can be in use at once.
WORKERS = 16
_UPGRADE_LOCK = 0x5CA2D


class Database:
    """Transactions on one database. `tenant` is the only way to a business's rows."""

    def __init__(self, url: str) -> None:
        """url: as SQLAlchemy takes it; "postgresql://" means the psycopg driver."""
        try:
            parsed = make_url(url)
        except ArgumentError as error:
            raise StorageError(f"{url!r} is not the address of a database.") from error
        if parsed.drivername in ("postgresql", "postgres"):
            parsed = parsed.set(drivername="postgresql+psycopg")
        self.sqlite = parsed.get_backend_name() == "sqlite"
        if not self.sqlite and parsed.get_backend_name() != "postgresql":
            raise StorageError("The hub keeps its records in SQLite or PostgreSQL only.")
        try:
            self.engine: Engine = create_engine(parsed, pool_size=WORKERS + 4, pool_pre_ping=not self.sqlite)
        except ImportError as error:
            raise StorageError("PostgreSQL needs one more package: pip install '.[postgres]'") from error
        # SQLite lets one write at a time; waiting in turn here is fairer than its own polling.
        self._turn = threading.Lock() if self.sqlite else nullcontext()
        if self.sqlite:
            event.listen(self.engine, "connect", _prepare_sqlite)
            event.listen(self.engine, "begin", _begin_sqlite)

    @contextmanager
    def tenant(self, business: str, *, write: bool = False) -> Iterator[Connection]:
        """One transaction that sees this business alone; a reading one sees one moment throughout."""
        with self._transaction(write) as connection:
            self.enter(connection, business)
            yield connection

    def enter(self, connection: Connection, business: str) -> None:
        """From here on this transaction sees this business alone."""
        self._say(connection, "app.business", business)

    @contextmanager
    def holder_of(self, code_hash: str) -> Iterator[Connection]:
        """A transaction that sees the pairing code with this hash, whosever it is, and nothing else."""
        with self._transaction(write=False) as connection:
            self._say(connection, "app.code", code_hash)
            yield connection

    @contextmanager
    def nobody(self) -> Iterator[Connection]:
        """A writing transaction on what belongs to no business."""
        with self._transaction(write=True) as connection:
            yield connection

    @contextmanager
    def console(self) -> Iterator[Connection]:
        """A transaction that reads which businesses there are, and whose mail is due."""
        with self._transaction(write=False) as connection:
            self._say(connection, "app.console", "yes")
            yield connection

    def all_businesses(self) -> list[str]:
        """The ids of every business, oldest first."""
        with self.console() as connection:
            rows = connection.execute(select(businesses.c.business).order_by(businesses.c.made))
            return [row.business for row in rows]

    def upgrade(self) -> None:
        """Brings the schema up to date. Raises StorageError when PostgreSQL would not wall businesses off."""
        with self._transaction(write=True) as connection:
            if not self.sqlite:
                self._check_role(connection)
                connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _UPGRADE_LOCK})
            config = Config()
            config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
            config.attributes["connection"] = connection
            command.upgrade(config, "head")

    def close(self) -> None:
        """Gives back every connection."""
        self.engine.dispose()

    @contextmanager
    def _transaction(self, write: bool) -> Iterator[Connection]:
        with self._turn if write else nullcontext(), self.engine.connect() as connection:
            if self.sqlite:
                connection = connection.execution_options(hub_write=write)
            elif not write:
                connection = connection.execution_options(isolation_level="REPEATABLE READ")
            with connection.begin():
                yield connection

    def _say(self, connection: Connection, setting: str, value: str) -> None:
        if not self.sqlite:  # as SET LOCAL does: it ends with the transaction
            connection.execute(
                text("SELECT set_config(:setting, :value, true)"), {"setting": setting, "value": value}
            )

    def _check_role(self, connection: Connection) -> None:
        over = connection.execute(
            text("SELECT rolsuper OR rolbypassrls FROM pg_roles WHERE rolname = current_user")
        ).scalar_one()
        if over:
            raise StorageError(
                "This PostgreSQL role may look past the wall between businesses. "
                "Use one that is neither superuser nor has BYPASSRLS, and owns the database."
            )


def _prepare_sqlite(connection: Any, record: object) -> None:
    connection.isolation_level = None  # begins and ends are said by _begin_sqlite, not guessed by the driver
    for pragma in ("journal_mode = WAL", "synchronous = FULL", "busy_timeout = 15000"):
        connection.execute(f"PRAGMA {pragma}")


def _begin_sqlite(connection: Connection) -> None:
    write = connection.get_execution_options().get("hub_write", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")
