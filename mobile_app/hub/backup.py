"""Everything a hub keeps in one file, from either kind of database and into either kind.

A zip: `manifest.json` (format, schema, SHA-256 of each part), `<business>/<table>.jsonl`. A business is all
of one moment. Restoring begins a new epoch for every business, so that phones compare and send again what
the backup did not have; mail that was on its way is "unknown", since nobody can say whether it went out.
"""

import base64
import hashlib
import io
import json
import zipfile
from collections.abc import Iterator
from datetime import datetime
from itertools import islice
from pathlib import Path
from typing import Any

from alembic.runtime.migration import MigrationContext
from sqlalchemy import Connection, Table, func, insert, select, update

from logic.errors import BrokenFile, Conflict, NewerFormat
from logic.sync import hub_rules
from mobile_app.hub.database import Database
from mobile_app.hub.log import DatabaseLog
from mobile_app.hub.messages import TABLE
from mobile_app.hub.offices import new_epoch, now
from mobile_app.hub.pieces import Pieces
from mobile_app.hub.tables import WALLED, Moment, businesses, mail, metadata, pieces

FORMAT = "swardwright-hub/1"
_AT_ONCE = 200
#: Positions begin again this far on: the office numbers its own writes by them, and phones may hold some that
#: were made after the backup.
_JUMP = 1_000_000_000
_RESTORED = "The office was restored from a backup. Check whether it arrived before sending it again."


def back_up(database: Database, kept: Pieces, file: Path) -> dict[str, int]:
    """Writes a backup and returns how many rows of each table are in it. The hub may go on working."""
    part = file.with_name(f"{file.name}.part")
    counts = dict.fromkeys(WALLED, 0)
    with database.console() as connection:
        schema = _schema(connection)
    with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as archive:
        hashes: dict[str, str] = {}
        for business in database.all_businesses():
            with database.tenant(business) as connection:
                for name in WALLED:
                    entry = f"{business}/{name}.jsonl"
                    digest = hashlib.sha256()
                    with archive.open(entry, "w", force_zip64=True) as out:
                        for line in _lines(connection, kept, metadata.tables[name], business):
                            out.write(line)
                            digest.update(line)
                            counts[name] += 1
                    hashes[entry] = digest.hexdigest()
        manifest = {"format": FORMAT, "schema": schema, "made": now().isoformat()}
        archive.writestr("manifest.json", json.dumps({**manifest, "sha256": hashes}, indent=1))
    part.replace(file)
    return counts


def restore(database: Database, kept: Pieces, file: Path) -> dict[str, int]:
    """Fills an empty hub from a backup and returns how many rows of each table came back.

    Raises BrokenFile or NewerFormat for what is no whole backup, Conflict when the hub is not empty. Either
    way nothing was changed.
    """
    counts = dict.fromkeys(WALLED, 0)
    try:
        with zipfile.ZipFile(file) as archive, database.nobody() as connection:
            names = _check(archive, _schema(connection))
            if database.all_businesses():
                raise Conflict("This hub has records already. Restore into a new, empty one.")
            for business in sorted({name.partition("/")[0] for name in names}):
                database.enter(connection, business)
                _restore_one(connection, kept, archive, business, counts)
    except (zipfile.BadZipFile, KeyError, ValueError, OSError) as error:
        raise BrokenFile(f"{file} is no whole backup of a hub. Nothing was changed.") from error
    return counts


def _restore_one(
    connection: Connection, kept: Pieces, archive: zipfile.ZipFile, business: str, counts: dict[str, int]
) -> None:
    for name in WALLED:
        table = metadata.tables[name]
        with archive.open(f"{business}/{name}.jsonl") as raw:
            lines = iter(io.TextIOWrapper(raw, "utf-8"))
            while some := [_row(kept, table, json.loads(line)) for line in islice(lines, _AT_ONCE)]:
                connection.execute(insert(table), some)
                counts[name] += len(some)
    mine = businesses.c.business == business
    fresh = {"epoch": new_epoch(), "position": businesses.c.position + _JUMP}
    connection.execute(update(businesses).where(mine).values(fresh))
    _end_open_mail(connection, business)


def _end_open_mail(connection: Connection, business: str) -> None:
    still_open = (mail.c.business == business) & mail.c.state.in_(("new", "again", "sending"))
    for row in connection.execute(select(mail).where(still_open)).all():
        log = DatabaseLog(connection, business, lock=True)
        values = {"state": "unknown", "said": _RESTORED}
        hub_rules.write(log, TABLE, row.message, values, now().isoformat(timespec="seconds"), "Mail")
    connection.execute(update(mail).where(still_open).values(state="unknown"))


def _lines(connection: Connection, kept: Pieces, table: Table, business: str) -> Iterator[bytes]:
    query = select(table).where(table.c.business == business).order_by(*table.primary_key.columns)
    for row in connection.execution_options(yield_per=_AT_ONCE).execute(query).mappings():
        said = dict(row)
        if table is pieces:
            data = kept.get(business, said["sha256"], said["start"], said["data"])
            said["data"] = base64.b64encode(data).decode()
        yield json.dumps(said, default=lambda value: value.isoformat()).encode() + b"\n"


def _row(kept: Pieces, table: Table, said: dict[str, Any]) -> dict[str, Any]:
    """A row to put in; the bytes of a piece go where this hub keeps them."""
    for column in table.columns:
        if isinstance(column.type, Moment) and said[column.name]:
            said[column.name] = datetime.fromisoformat(said[column.name])
    if table is pieces:
        data = base64.b64decode(said["data"])
        said["data"] = kept.put(said["business"], said["sha256"], said["start"], data)
    return said


def _check(archive: zipfile.ZipFile, schema: str) -> list[str]:
    """The tables in a backup that is whole and of this schema."""
    manifest = json.loads(archive.read("manifest.json"))
    if manifest["format"] != FORMAT or manifest["schema"] != schema:
        raise NewerFormat("This backup is of another version of the hub. Restore it with that one.")
    for name, expected in manifest["sha256"].items():
        digest = hashlib.sha256()
        with archive.open(name) as raw:
            while data := raw.read(1 << 20):
                digest.update(data)
        if digest.hexdigest() != expected:
            raise ValueError(name)
    return list(manifest["sha256"])


def _schema(connection: Connection) -> str:
    return str(MigrationContext.configure(connection).get_current_revision())


def row_counts(database: Database, business: str) -> dict[str, int]:
    """How many rows each table has for a business: to compare a restored hub with the old one."""
    with database.tenant(business) as connection:
        return {
            name: connection.execute(
                select(func.count())
                .select_from(metadata.tables[name])
                .where(metadata.tables[name].c.business == business)
            ).scalar_one()
            for name in WALLED
        }
