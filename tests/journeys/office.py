"""The office of a journey: the real hub on SQLite behind uvicorn, which hands out the app too."""

import socket
import threading
from pathlib import Path

import uvicorn

from mobile_app.hub.devices import new_code
from mobile_app.hub.hub import Hub, Settings, open_hub
from mobile_app.hub.offices import make_business
from mobile_app.hub.service import service
from tests.journeys.phone import until


class Office:
    """A hub on a port that stays the same when it stops and starts again; `url` is where phones open it."""

    def __init__(self, site: Path, folder: Path) -> None:
        with socket.create_server(("127.0.0.1", 0)) as free:
            self._port = free.getsockname()[1]
        self._settings = Settings(f"sqlite:///{folder / 'hub.sqlite'}", site=site)
        self.hub: Hub = open_hub(self._settings)
        self.hub.database.upgrade()
        self.business = make_business(self.hub.database, "Cobb & Daughter")
        self.start()

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self._port}"

    @property
    def url(self) -> str:
        return f"{self.origin}/"

    def code(self) -> str:
        """A pairing code for one more phone."""
        return new_code(self.hub.database, self.business, admin=True)[0]

    def start(self) -> None:
        config = uvicorn.Config(service(self.hub), port=self._port, access_log=False, log_config=None)
        self._server = uvicorn.Server(config)
        self._thread = threading.Thread(target=self._server.run)
        self._thread.start()
        until(lambda: self._server.started, 20, "the office listens")

    def stop(self) -> None:
        """No signal, as far as any phone can tell."""
        self._server.force_exit = self._server.should_exit = True
        self._thread.join(20)
        assert not self._thread.is_alive()

    def close(self) -> None:
        self.stop()
        self.hub.database.close()
