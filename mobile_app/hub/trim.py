"""Dropping the text of old changes from the log; records, numbers and hashes stay."""

from datetime import timedelta

from sqlalchemy import func, select, update

from mobile_app.hub.database import Database
from mobile_app.hub.log import DatabaseLog
from mobile_app.hub.offices import now
from mobile_app.hub.tables import businesses, changes


def trim(database: Database, business: str, days: int) -> int:
    """Drops the text of changes older than this many days and returns of how many.

    A phone that has not been here since is told to begin with whole records; a number that it sends again is
    still known.
    """
    with database.tenant(business, write=True) as connection:
        log = DatabaseLog(connection, business, lock=True)
        mine = changes.c.business == business
        old = mine & (changes.c.at < now() - timedelta(days=days)) & (changes.c.position > log.kept_after())
        last = connection.execute(select(func.max(changes.c.position)).where(old)).scalar_one()
        if last is None:
            return 0
        dropped = mine & (changes.c.position <= last) & (changes.c.position > log.kept_after())
        count = connection.execute(update(changes).where(dropped).values(change="")).rowcount
        this = businesses.c.business == business
        connection.execute(update(businesses).where(this).values(kept_after=last))
        return count
