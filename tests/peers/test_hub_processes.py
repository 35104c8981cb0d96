"""Real hub processes on SQLite and PostgreSQL that are killed, paused and reached over a bad line."""

import hashlib
import random
import signal
import ssl
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import httpx
import pytest
import trustme

from mobile_app.hub import tries
from tests.hub.phones import Phone
from tests.hub.postgres import Postgres
from tests.peers.hub_process import BadLine, Process, push_until_taken


@pytest.fixture(params=["sqlite", "postgresql"])
def hub(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Process]:
    server: Postgres | None = request.getfixturevalue("postgres") if request.param == "postgresql" else None
    made = Process(tmp_path, server.new_database() if server else "")
    yield made
    if made.process.poll() is None:
        made.signal(signal.SIGCONT)
        made.kill()


def log_of(phone: Phone, reader: Phone) -> list[tuple[int, int]]:
    """(position, number) of every change by a phone, as another one pulls them from the start."""
    epoch = reader.snapshot(limit=1)["epoch"]
    cursor, found = f"{epoch}:0", []
    while True:
        page = reader.pull(cursor)
        assert page["reset"] is False
        found += [(one["position"], one["number"]) for one in page["changes"] if one["device"] == phone.id]
        cursor = page["cursor"]
        if not page["more"]:
            return found


def test_what_was_accepted_outlives_kills_pauses_and_a_bad_line(hub: Process) -> None:
    office = hub.phone()
    phone = hub.phone(office)
    chance = random.Random(5)
    photo = chance.randbytes(500_000)
    name = hashlib.sha256(photo).hexdigest()
    phone.ask("POST", f"/blobs/{name}", json={"size": len(photo)})
    phone.ask("PUT", f"/blobs/{name}", params={"offset": 0}, content=photo[:200_000])

    # Killed at any moment, twice, while a phone pushes; the photo goes on where it stopped.
    positions: dict[int, int] = {}

    def push_all() -> None:
        for number in range(1, 41):
            (positions[number],) = push_until_taken(
                phone, phone.change(number, f"r{number}", name=str(number))
            )

    with ThreadPoolExecutor(1) as pool:
        pushing = pool.submit(push_all)
        for _ in range(2):
            aim = len(positions) + chance.randrange(4, 15)
            while len(positions) < aim and not pushing.done():
                time.sleep(0.005)
            hub.kill()
            hub.start()
        pushing.result(300)
    assert log_of(phone, office) == [(positions[number], number) for number in range(1, 41)]
    assert phone.ask("POST", f"/blobs/{name}", json={"size": len(photo)}).json()["have"] == 200_000
    assert phone.send_blob(name, photo)["done"] is True

    # Paused: the phone gives up waiting, comes again, and the change is there once.
    hub.signal(signal.SIGSTOP)
    with pytest.raises(httpx.ReadTimeout):
        phone.ask("POST", "/sync/push", json={"changes": [phone.change(41, "r41", name="41")]}, timeout=0.5)
    hub.signal(signal.SIGCONT)
    push_until_taken(phone, phone.change(41, "r41", name="41"))

    # A line that loses requests, answers and halves of them.
    line = BadLine(hub.port, seed=11)
    far = Phone.__new__(Phone)
    limits = httpx.Limits(max_keepalive_connections=0)
    far.__dict__ = {**phone.__dict__, "web": httpx.Client(base_url=line.address, timeout=5, limits=limits)}
    for number in range(42, 56):
        push_until_taken(far, phone.change(number, f"r{number}", name=str(number)))
    line.close()
    assert {"request", "answer", "half"} <= set(line.faults)

    # Asked to stop, it finishes what it is doing and ends; all is there afterwards.
    hub.signal(signal.SIGTERM)
    assert hub.process.wait(60) in (0, -signal.SIGTERM)
    hub.start()
    assert [number for _, number in log_of(phone, office)] == list(range(1, 56))
    assert len(office.snapshot()["records"]) == 55
    assert office.ask("GET", f"/blobs/{name}", params={"limit": 10}).content == photo[:10]


def test_two_processes_on_one_postgresql_are_one_hub(tmp_path: Path, postgres: Postgres) -> None:
    one = Process(tmp_path, postgres.new_database())
    two = Process(tmp_path, one.url)
    try:
        office = one.phone()
        phone = two.phone(office)  # a code made by one, used at the other
        cursor = office.start()
        push_until_taken(phone, phone.change(1, name="Ann"))
        assert [change["number"] for change in office.pull(cursor)["changes"]] == [1]
        # Tries are counted in the database, whichever process they come to: nine at each are too many.
        while time.time() % tries.WINDOW > tries.WINDOW - 20:  # all within one window
            time.sleep(0.2)
        webs = [one.address, two.address] * 9
        statuses = {paired_from(f"192.0.2.{at}", web) for at, web in enumerate(webs)}
        assert statuses == {403, 429}  # and nobody makes oneself many by a header
        office.ask("DELETE", f"/devices/{phone.id}")
        assert phone.ask("GET", "/devices").status_code == 401
    finally:
        one.kill()
        two.kill()


def test_it_speaks_tls_by_certificate_files_and_believes_a_proxy_only_when_told_to(tmp_path: Path) -> None:
    authority = trustme.CA()
    made = authority.issue_cert("127.0.0.1")
    made.private_key_pem.write_to_path(tmp_path / "key.pem")
    for part in made.cert_chain_pems:
        part.write_to_path(tmp_path / "cert.pem", append=True)
    trusts = ssl.create_default_context()
    authority.configure_trust(trusts)
    options = ("--tls-cert", str(tmp_path / "cert.pem"), "--tls-key", str(tmp_path / "key.pem"))
    hub = Process(tmp_path, "", (*options, "--behind-proxy"), trusts)
    try:
        answer = httpx.get(f"{hub.address}/api/health", verify=trusts, timeout=60)
        assert answer.headers["Strict-Transport-Security"].startswith("max-age=")
        # Behind a proxy the addresses are those that it names.
        assert {paired_from(f"192.0.2.{at}", hub.address, trusts) for at in range(12)} == {403}
    finally:
        hub.kill()


def paired_from(address: str, web: str, trusts: ssl.SSLContext | bool = True) -> int:
    """Status of a try at pairing that says it is for this address."""
    headers = {"X-Forwarded-For": address}
    answer = httpx.post(f"{web}/api/pair", json={"code": "x"}, headers=headers, verify=trusts, timeout=60)
    return answer.status_code
