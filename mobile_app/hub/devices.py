"""Pairing a phone, knowing it again by its token, and taking it off."""

import hashlib
import hmac
import re
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update

from logic.errors import NotFound
from mobile_app.hub.database import Database
from mobile_app.hub.errors import Refused
from mobile_app.hub.offices import now
from mobile_app.hub.tables import devices, pairing_codes

GOOD_FOR = timedelta(minutes=10)
#: Letters and digits that nobody takes for one another when reading them out.
_CODE_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
_SEEN_EVERY = timedelta(minutes=5)


@dataclass(frozen=True)
class Device:
    """A phone that has shown its token."""

    business: str
    device: str
    name: str
    admin: bool


def new_code(database: Database, business: str, *, admin: bool = False) -> tuple[str, datetime]:
    """A pairing code ("7QK4-M2XD"), good once within ten minutes, and when it ends. Only its hash is kept."""
    letters = "".join(secrets.choice(_CODE_LETTERS) for _ in range(8))
    expires = now() + GOOD_FOR
    with database.tenant(business, write=True) as connection:
        row = {"business": business, "code_hash": _code_hash(letters), "admin": admin, "expires": expires}
        over = (pairing_codes.c.business == business) & (pairing_codes.c.expires < now())
        connection.execute(delete(pairing_codes).where(over))
        connection.execute(insert(pairing_codes).values(row))
    return f"{letters[:4]}-{letters[4:]}", expires


def pair(database: Database, code: str, name: str) -> tuple[Device, str]:
    """Takes a phone in for a code and returns it with its token, which is shown this once.

    Raises Refused (403) for a code that is wrong, used or too old: which of them is not told.
    """
    wanted = _code_hash(code)
    with database.holder_of(wanted) as connection:
        query = select(pairing_codes).where(pairing_codes.c.code_hash == wanted)
        found = connection.execute(query).one_or_none()
    if found is None or not hmac.compare_digest(found.code_hash, wanted):
        raise _no_such_code()
    secret = secrets.token_urlsafe(32)
    device = Device(found.business, secrets.token_hex(6), name.strip() or "Phone", found.admin)
    with database.tenant(found.business, write=True) as connection:
        unused = (
            (pairing_codes.c.business == found.business)
            & (pairing_codes.c.code_hash == wanted)
            & pairing_codes.c.used.is_(None)
            & (pairing_codes.c.expires > now())
        )
        if connection.execute(update(pairing_codes).where(unused).values(used=now())).rowcount != 1:
            raise _no_such_code()
        row = {
            "business": device.business,
            "device": device.device,
            "name": device.name,
            "admin": device.admin,
            "token_hash": _token_hash(secret),
            "paired": now(),
        }
        connection.execute(insert(devices).values(row))
    # The token says whose it is, so that the hub looks for it within that business's wall alone.
    return device, f"{device.business}.{device.device}.{secret}"


def known(database: Database, token: str) -> Device:
    """The device that a token belongs to. Raises Refused (401) for a wrong token and for a revoked device."""
    business, _, rest = token.partition(".")
    name, _, secret = rest.partition(".")
    if not re.fullmatch("[0-9a-f]{16}", business) or not re.fullmatch("[0-9a-f]{12}", name):
        raise _unknown_token()
    mine = (devices.c.business == business) & (devices.c.device == name)
    with database.tenant(business) as connection:
        row = connection.execute(select(devices).where(mine)).one_or_none()
    if row is None or not hmac.compare_digest(row.token_hash, _token_hash(secret)):
        raise _unknown_token()
    if row.revoked is not None:
        raise Refused(
            401,
            "revoked",
            "The office has taken this phone off. What is on it stays on it: export it, and the office can "
            "take in what was not sent.",
        )
    if row.seen is None or row.seen < now() - _SEEN_EVERY:
        with database.tenant(business, write=True) as connection:
            connection.execute(update(devices).where(mine).values(seen=now()))
    return Device(business, name, row.name, row.admin)


def every_device(connection: Connection, business: str) -> list[dict[str, Any]]:
    """The devices of a business, in the order they were paired, as the office's list shows them."""
    query = select(devices).where(devices.c.business == business).order_by(devices.c.paired)
    return [
        {
            "device": row.device,
            "name": row.name,
            "admin": row.admin,
            "paired": row.paired,
            "seen": row.seen,
            "revoked": row.revoked,
        }
        for row in connection.execute(query)
    ]


def rename(database: Database, business: str, device: str, name: str) -> None:
    """Gives a device another name. Raises NotFound."""
    _change(database, business, device, name=name)


def revoke(database: Database, business: str, device: str) -> None:
    """Takes a device off: its token is good for nothing from now on. Raises NotFound."""
    _change(database, business, device, revoked=now())


def _change(database: Database, business: str, device: str, **values: Any) -> None:
    mine = (devices.c.business == business) & (devices.c.device == device)
    with database.tenant(business, write=True) as connection:
        if connection.execute(update(devices).where(mine).values(**values)).rowcount != 1:
            raise NotFound(f"This business has no device {device}.")


def _code_hash(code: str) -> str:
    plain = "".join(letter for letter in code.upper() if letter.isalnum())
    return hashlib.sha256(f"pairing {plain}".encode()).hexdigest()


def _token_hash(secret: str) -> str:
    # 256 random bits: no salt and no slow hash can make them harder to guess.
    return hashlib.sha256(secret.encode()).hexdigest()


def _no_such_code() -> Refused:
    return Refused(403, "bad-code", "This code is wrong, was used already or is older than ten minutes.")


def _unknown_token() -> Refused:
    return Refused(401, "not-paired", "The office does not know this phone. Pair it again.")
