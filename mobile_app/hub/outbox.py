"""The outbox: messages that phones want sent, each wish once, and what became of them.

A wish is noticed in the transaction that brings it. A sender claims it (committed before the mail server is
spoken to), speaks to the server holding no transaction, and writes down the outcome. When it dies in between,
the claim stays, and after a while the message is "unknown": nothing is ever sent twice by itself.
"""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from email.message import EmailMessage
from typing import Any

from sqlalchemy import ColumnElement, Connection, insert, select, update

from logic.errors import BadValue
from logic.sync import hub_rules
from logic.sync.registers import Key
from logic.sync.wire import OFFICE, Json
from mobile_app.hub.blobs import LARGEST, Blobs
from mobile_app.hub.database import Database
from mobile_app.hub.log import DatabaseLog
from mobile_app.hub.messages import TABLE, Letter, email_of, is_deleted, letter_of, occasion
from mobile_app.hub.offices import business_row, now
from mobile_app.hub.smtp import Result, Server, deliver
from mobile_app.hub.tables import mail

#: A claim older than this belongs to a sender that is no more; deliver() gives up long before.
DEAD_AFTER = timedelta(minutes=20)
#: How long to wait after each passing failure; after the last the message is refused.
WAITS = tuple(timedelta(minutes=minutes) for minutes in (1, 5, 15, 60, 240, 720))
#: How long to wait for a paper that is still on its way, or for a mail server to be set.
PATIENCE = timedelta(minutes=1)

Deliver = Callable[[Server, EmailMessage, Sequence[str]], Result]


@dataclass(frozen=True)
class Claim:
    """A message that this sender alone may send now."""

    business: str
    message: str
    occasion: str
    tried: int
    server: Server
    letter: Letter
    paper: bytes | None


def notice(connection: Connection, log: DatabaseLog, business: str, keys: Collection[Key]) -> None:
    """Notes every wish to send that stands in these records, in the transaction that brought them."""
    for (_, message), state in log.states({key for key in keys if key[0] == TABLE}).items():
        wish = occasion(state)
        mine = _row_is(business, message, wish)
        if not wish or connection.execute(select(mail.c.state).where(mine)).first():
            continue
        try:
            paper = letter_of(state).paper
        except BadValue:
            paper = ""  # claiming it says what is wrong
        row = {"business": business, "message": message, "occasion": wish, "paper": paper[:64]}
        connection.execute(insert(mail).values(**row, state="new", tried=0, due=now(), made=now()))


def paper_came(connection: Connection, business: str, sha256: str) -> None:
    """A blob is whole now: what waited for it may go."""
    waits = (mail.c.business == business) & (mail.c.state == "new") & (mail.c.paper == sha256)
    connection.execute(update(mail).where(waits).values(due=now()))


class Outbox:
    """Sends what is due, one message at a time."""

    def __init__(self, database: Database, blobs: Blobs, hand_over: Deliver = deliver) -> None:
        self._database = database
        self._blobs = blobs
        self.hand_over = hand_over

    def send_due(self) -> list[str]:
        """Sends every message that is due and returns what became of each: "sent", "refused", …"""
        outcomes: list[str] = []
        for business in self._businesses_with_mail():
            for message, wish in self._due(business):
                claimed = self._claim(business, message, wish)
                if isinstance(claimed, Claim):
                    outcomes.append(self._send(claimed))
                elif claimed:
                    outcomes.append(claimed)
        return outcomes

    def _businesses_with_mail(self) -> list[str]:
        with self._database.console() as connection:
            query = select(mail.c.business).where(_is_due(now())).distinct()
            return [row.business for row in connection.execute(query)]

    def _due(self, business: str) -> list[tuple[str, str]]:
        with self._database.tenant(business) as connection:
            query = select(mail.c.message, mail.c.occasion).where(mail.c.business == business, _is_due(now()))
            return [(row.message, row.occasion) for row in connection.execute(query.order_by(mail.c.due))]

    def _claim(self, business: str, message: str, wish: str) -> Claim | str:
        """The message to send, or what became of it without sending, or ""."""
        mine = _row_is(business, message, wish)
        with self._database.tenant(business, write=True) as connection:
            log = DatabaseLog(connection, business, lock=True)
            row = connection.execute(select(mail).where(mine, _is_due(now()))).one_or_none()
            if row is None:  # another sender was quicker
                return ""
            if row.state == "sending":
                said = "The office stopped while sending. Check whether it arrived before sending it again."
                return _end(connection, log, row, "unknown", said)
            state = log.states({(TABLE, message)}).get((TABLE, message))
            if state is None or not _still_wanted(state, row):
                connection.execute(update(mail).where(mine).values(state="dropped"))
                return "dropped"
            try:
                claim = self._ready(connection, business, row, state)
            except BadValue as error:
                return _end(connection, log, row, "refused", error.sentence)
            if claim is None:
                connection.execute(update(mail).where(mine).values(due=now() + PATIENCE))
                return ""
            values = {"state": "sending", "tried": row.tried + 1, "due": now() + DEAD_AFTER}
            connection.execute(update(mail).where(mine).values(values))
            if row.state == "new":
                _write(log, message, "queued", "")
            return claim

    def _ready(self, connection: Connection, business: str, row: Any, state: Json) -> Claim | None:
        """What is needed for sending; None while something is still to come. Raises BadValue."""
        settings = business_row(connection, business).mail
        letter = letter_of(state)
        if not settings or (letter.paper and not self._blobs.is_whole(connection, business, letter.paper)):
            return None
        paper = self._blobs.take(connection, business, letter.paper, LARGEST) if letter.paper else None
        server = Server.of(settings)
        email_of(letter, server, paper)  # refused here, before anything is claimed
        return Claim(business, row.message, row.occasion, row.tried + 1, server, letter, paper)

    def _send(self, claim: Claim) -> str:
        message, to = email_of(claim.letter, claim.server, claim.paper)
        result = self.hand_over(claim.server, message, to)
        mine = _row_is(claim.business, claim.message, claim.occasion)
        with self._database.tenant(claim.business, write=True) as connection:
            log = DatabaseLog(connection, claim.business, lock=True)
            row = connection.execute(select(mail).where(mine, mail.c.state == "sending")).one_or_none()
            if row is None:  # given up for dead meanwhile: what was said then stands
                return "unknown"
            if result.outcome != "again":
                return _end(connection, log, row, result.outcome, result.said)
            if claim.tried > len(WAITS):
                return _end(connection, log, row, "refused", f"Given up after many tries. {result.said}")
            due = now() + WAITS[claim.tried - 1]
            connection.execute(update(mail).where(mine).values(state="again", due=due))
            _write(log, claim.message, "queued", result.said)
            return "again"


def _end(connection: Connection, log: DatabaseLog, row: Any, state: str, said: str) -> str:
    mine = _row_is(row.business, row.message, row.occasion)
    connection.execute(update(mail).where(mine).values(state=state))
    _write(log, row.message, state, said)
    return state


def _write(log: DatabaseLog, message: str, state: str, said: str) -> None:
    values = {"state": state, "said": said}
    hub_rules.write(log, TABLE, message, values, now().isoformat(timespec="seconds"), "Mail")


def _still_wanted(state: Json, row: Any) -> bool:
    """Whether the wish stands as it was noticed, or the office's own "queued" stands in its place."""
    if row.state == "new":
        return occasion(state) == str(row.occasion)
    standing: Json = state["fields"].get("state", {"is": {}})["is"]
    return set(standing) == {OFFICE} and bool(standing[OFFICE][1] == "queued") and not is_deleted(state)


def _is_due(moment: datetime) -> ColumnElement[bool]:
    return mail.c.state.in_(("new", "again", "sending")) & (mail.c.due <= moment)


def _row_is(business: str, message: str, wish: str) -> ColumnElement[bool]:
    return (mail.c.business == business) & (mail.c.message == message) & (mail.c.occasion == wish)
