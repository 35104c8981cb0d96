"""The hub's parts together, and the thread that sends mail."""

import threading
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy.exc import SQLAlchemyError

from mobile_app.hub.blobs import Blobs
from mobile_app.hub.database import Database
from mobile_app.hub.meters import Meters, note
from mobile_app.hub.offices import make_business
from mobile_app.hub.outbox import Deliver, Outbox
from mobile_app.hub.pieces import InDatabase, InFolder
from mobile_app.hub.smtp import deliver

#: Seconds between looks for mail that is due, when nothing calls.
_LOOK_EVERY = 20.0


@dataclass(frozen=True)
class Settings:
    """How a hub is to run.

    url: of the database; folder: where photos and papers go, None for the database itself; origins: where the
    app may come from besides the hub's own address; site: folder of the built app, None for no app.
    """

    url: str
    folder: Path | None = None
    origins: tuple[str, ...] = ()
    site: Path | None = None


@dataclass
class Hub:
    """One process's hub. Everything that lasts is in the database."""

    settings: Settings
    database: Database
    hand_over: Deliver = deliver
    meters: Meters = field(default_factory=Meters)

    def __post_init__(self) -> None:
        folder = self.settings.folder
        self.blobs = Blobs(self.database, InFolder(folder) if folder else InDatabase())
        self.outbox = Outbox(self.database, self.blobs, self.hand_over)
        self._call = threading.Event()
        self._stopped = threading.Event()
        self._sender: threading.Thread | None = None

    def ready(self) -> str:
        """Brings the schema up to date; returns the id of the first business if it had to be made."""
        self.database.upgrade()
        return "" if self.database.all_businesses() else make_business(self.database, "My business")

    def call_sender(self) -> None:
        """There may be mail to send."""
        self._call.set()

    def start_sender(self) -> None:
        """Begins to send what is due, in a thread of its own."""
        self._sender = threading.Thread(target=self._send_for_ever, name="sender", daemon=True)
        self._sender.start()

    def stop(self) -> None:
        """Ends the sender (a message being handed over gets some seconds) and leaves the database."""
        self._stopped.set()
        self._call.set()
        if self._sender:
            self._sender.join(timeout=10)
        self.database.close()

    def _send_for_ever(self) -> None:
        while not self._stopped.is_set():
            self._call.clear()
            try:
                for outcome in self.outbox.send_due():
                    self.meters.count("swardwright_mail_total", outcome=outcome)
                    note("mail", outcome=outcome)
            except SQLAlchemyError as error:  # it will be due again
                note("mail-failed", error=type(error).__name__)
            self._call.wait(_LOOK_EVERY)


def open_hub(settings: Settings) -> Hub:
    """A hub on its database. Raises StorageError."""
    return Hub(settings, Database(settings.url))
