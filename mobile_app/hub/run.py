"""Runs a hub until it is stopped: listens, says where, and hands the rest to uvicorn."""

import gc
import socket
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from mobile_app.hub.devices import new_code
from mobile_app.hub.hub import Hub
from mobile_app.hub.service import service


@dataclass(frozen=True)
class Listening:
    """Where to listen, and how. proxy: something in front speaks TLS and says whom it speaks for."""

    host: str = "127.0.0.1"
    port: int = 8600
    certificate: Path | None = None
    key: Path | None = None
    proxy: bool = False

    @property
    def address(self) -> str:
        """The address to open, as far as this machine knows it."""
        host = f"[{self.host}]" if ":" in self.host else self.host
        return f"{'https' if self.certificate else 'http'}://{host}:{self.port}/"


def run(hub: Hub, listening: Listening, started: Callable[[str], None]) -> None:
    """Serves until a signal ends it; requests that are being answered are finished first.

    started: called with a code for the first phone, or "" when there was a business already.
    Raises OSError when the port cannot be had or a certificate cannot be read, StorageError when the database
    cannot be used.
    """
    family = socket.AF_INET6 if ":" in listening.host else socket.AF_INET
    with socket.create_server((listening.host, listening.port), family=family, backlog=1024) as listener:
        made = hub.ready()
        config = uvicorn.Config(
            service(hub),
            ssl_certfile=listening.certificate,
            ssl_keyfile=listening.key,
            proxy_headers=listening.proxy,
            forwarded_allow_ips="*" if listening.proxy else None,
            server_header=False,
            access_log=False,
            log_config=None,
            lifespan="on",
            timeout_graceful_shutdown=10,
            timeout_keep_alive=75,  # a slow phone must not find its connection shut between two calls
        )
        config.load()
        gc.freeze()  # what is loaded now stays: no use in looking through it again and again
        started(new_code(hub.database, made, admin=True)[0] if made else "")
        uvicorn.Server(config).run(sockets=[listener])
