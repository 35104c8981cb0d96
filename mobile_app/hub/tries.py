"""How often something that can be guessed may be tried: counted in the database, for every process alike."""

import hashlib

from sqlalchemy import delete, select, update
from sqlalchemy.dialects import postgresql, sqlite

from mobile_app.hub.database import Database
from mobile_app.hub.errors import Refused
from mobile_app.hub.offices import now
from mobile_app.hub.tables import tries

WINDOW = 60  # s
FROM_ONE_ADDRESS = 10
FROM_EVERYWHERE = 60


def count_try(database: Database, address: str) -> None:
    """Notes one try from an address. Raises Refused (429) when there were too many in this minute.

    Codes of 40 random bits, good for ten minutes: 600 tries in that time guess one with a chance of 5e-10.
    """
    moment = now().timestamp()
    starts = int(moment // WINDOW * WINDOW)
    hidden = hashlib.sha256(f"{starts} {address}".encode()).hexdigest()  # no addresses are kept
    with database.nobody() as connection:
        connection.execute(delete(tries).where(tries.c.starts < starts))
        counts = []
        dialect = sqlite if database.sqlite else postgresql
        # Always in this order, so that two processes never wait for each other.
        for place in ("", hidden):
            row = dialect.insert(tries).values(place=place, starts=starts, count=0)
            connection.execute(row.on_conflict_do_nothing())
            mine = (tries.c.place == place) & (tries.c.starts == starts)
            connection.execute(update(tries).where(mine).values(count=tries.c.count + 1))
            counts.append(connection.execute(select(tries.c.count).where(mine)).scalar_one())
    if counts[0] > FROM_EVERYWHERE or counts[1] > FROM_ONE_ADDRESS:
        wait = max(1, int(starts + WINDOW - moment) + 1)
        raise Refused(429, "slow-down", "Too many codes were tried. Wait a minute and try again.", wait=wait)
