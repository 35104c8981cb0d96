"""Businesses: making one, finding the one that is meant, its epoch."""

import secrets
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, insert, select, update

from logic.errors import NotFound
from mobile_app.hub.database import Database
from mobile_app.hub.tables import businesses


def now() -> datetime:
    """The hub's own time, aware."""
    return datetime.now(UTC)


def new_epoch() -> str:
    """A fresh name for the life of a business's log: 32 hexadecimal digits."""
    return secrets.token_hex(16)


def make_business(database: Database, name: str) -> str:
    """Makes a business and returns its id."""
    business = secrets.token_hex(8)
    with database.tenant(business, write=True) as connection:
        row = {
            "business": business,
            "name": name,
            "made": now(),
            "epoch": new_epoch(),
            "position": 0,
            "kept_after": 0,
            "mail": {},
        }
        connection.execute(insert(businesses).values(row))
    return business


def the_business(database: Database, wanted: str = "") -> str:
    """The id of the business that is meant: `wanted`, or the only one there is.

    Raises NotFound when there is none, or more than one and none was named.
    """
    found = database.all_businesses()
    if wanted:
        if wanted not in found:
            raise NotFound(f"There is no business {wanted} on this hub.")
        return wanted
    if not found:
        raise NotFound("This hub has no business yet: start it once, or run swardwright hub init.")
    if len(found) > 1:
        raise NotFound(f"Say which business with --business: {', '.join(found)}.")
    return found[0]


def business_row(connection: Connection, business: str) -> Any:
    """The row of the business whose transaction this is."""
    return connection.execute(select(businesses).where(businesses.c.business == business)).one()


def set_mail(database: Database, business: str, settings: dict[str, Any]) -> None:
    """Keeps how this business sends mail (see smtp.Server)."""
    with database.tenant(business, write=True) as connection:
        connection.execute(update(businesses).where(businesses.c.business == business).values(mail=settings))
