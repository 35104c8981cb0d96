"""A hub as its own process, and a line to it that fails."""

import random
import re
import signal
import socket
import ssl
import subprocess
import sys
import threading
import time
from contextlib import suppress
from pathlib import Path

import httpx

from tests.hub.phones import Phone

ROOT = Path(__file__).parents[2]


def free_port() -> int:
    """A port that was free a moment ago."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


class Process:
    """`swardwright hub serve`, started, killed, paused and started again on the same records."""

    def __init__(
        self, data: Path, url: str = "", options: tuple[str, ...] = (), tls: ssl.SSLContext | None = None
    ) -> None:
        """tls: what to trust, when the options give the hub a certificate."""
        self.data, self.url, self.options, self.tls = data, url, options, tls
        self.port = free_port()
        self.code = ""
        self.start()

    @property
    def address(self) -> str:
        return f"{'https' if self.tls else 'http'}://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Returns when it answers; `code` is the code for the first phone if it printed one."""
        words = ["-m", "mobile_app.cli", "hub", "serve", "--no-app", "--port", str(self.port)]
        words += ["--data", str(self.data), "--database-url", self.url, *self.options]
        said = self.data / f"said-{self.port}"
        with said.open("wb") as out, (self.data / f"log-{self.port}").open("ab") as log:
            self.process = subprocess.Popen([sys.executable, *words], cwd=ROOT, stdout=out, stderr=log)
        try:
            while not self.answers():
                assert self.process.poll() is None, (self.data / f"log-{self.port}").read_text()
                time.sleep(0.05)
        except BaseException:
            self.kill()
            raise
        found = re.search(r"\b[2-9A-Z]{4}-[2-9A-Z]{4}\b", said.read_text())
        self.code = found[0] if found else ""

    def answers(self) -> bool:
        with suppress(httpx.HTTPError):
            return (
                httpx.get(f"{self.address}/api/health", timeout=10, verify=self.tls or True).status_code
                == 200
            )
        return False

    def signal(self, number: signal.Signals) -> None:
        self.process.send_signal(number)

    def kill(self) -> None:
        """As when the power goes."""
        self.process.kill()
        self.process.wait(30)

    def phone(self, admin: "Phone | None" = None) -> Phone:
        """Pairs a phone: the first one by the printed code, others by one from `admin`."""
        code = admin.ask("POST", "/devices/code").json()["code"] if admin else self.code
        said = httpx.post(
            f"{self.address}/api/pair", json={"code": code, "name": "A phone"}, timeout=60
        ).json()
        made = Phone.__new__(Phone)
        made.web = httpx.Client(base_url=self.address, timeout=60)
        made.token, made.id, made.business = said["token"], said["device"], said["business"]
        return made


def push_until_taken(phone: Phone, *changes: dict) -> list[int]:
    """Pushes as the app does: again until there is an answer. The positions."""
    end = time.monotonic() + 120
    while time.monotonic() < end:
        try:
            answer = phone.ask("POST", "/sync/push", json={"wire": 1, "changes": list(changes)})
        except httpx.TransportError:
            time.sleep(0.05)
            continue
        if answer.status_code == 200:
            results = answer.json()["results"]
            assert [one["result"] for one in results] == ["accepted"] * len(changes), results
            return [one["position"] for one in results]
        assert answer.status_code in (429, 503), answer.text
    raise AssertionError("never an answer")


class BadLine:
    """A TCP proxy that cuts, halves and holds back, as its seed says. `faults` counts what it did."""

    def __init__(self, port: int, seed: int) -> None:
        self._to, self._chance = port, random.Random(seed)
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.address = f"http://127.0.0.1:{self._listener.getsockname()[1]}"
        self.faults: dict[str, int] = {}
        threading.Thread(target=self._accept, daemon=True).start()

    def close(self) -> None:
        self._listener.close()

    def _accept(self) -> None:
        with suppress(OSError):
            while True:
                here, _ = self._listener.accept()
                fault = self._chance.choice(["none", "none", "request", "answer", "half", "slow"])
                self.faults[fault] = self.faults.get(fault, 0) + 1
                threading.Thread(target=self._carry, args=(here, fault), daemon=True).start()

    def _carry(self, here: socket.socket, fault: str) -> None:
        with here, socket.create_connection(("127.0.0.1", self._to)) as there, suppress(OSError):
            here.settimeout(0.06)
            asked = b""
            with suppress(TimeoutError):
                while data := here.recv(65536):
                    asked += data
            if fault == "request":  # half of it arrives, then the line is dead
                there.sendall(asked[: len(asked) // 2])
                return
            if fault == "slow":
                for at in range(0, len(asked), max(1, len(asked) // 5)):
                    there.sendall(asked[at : at + max(1, len(asked) // 5)])
                    time.sleep(0.02)
            else:
                there.sendall(asked)
            there.settimeout(60)
            answer = there.recv(65536)  # so the hub has done what it was asked to
            if fault == "answer":
                return
            here.sendall(answer[: len(answer) // 2] if fault == "half" else answer)
            if fault != "half":
                there.settimeout(0.06)
                with suppress(TimeoutError):
                    while data := there.recv(65536):
                        here.sendall(data)
