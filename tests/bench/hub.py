"""How fast the hub takes changes in, how many phones it bears at once, and how long a first pull lasts.

Prints figures; nothing is asserted. Targets: pushing at least 0.3 times as fast as bare bulk inserts of the
same rows into the same database, committed as often; 200 phones at once without an error.
Run: python -m tests.bench.hub
"""

import asyncio
import json
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import httpx
from sqlalchemy import MetaData, insert, select

from mobile_app.hub.hub import Hub, Settings, open_hub
from mobile_app.hub.offices import make_business
from mobile_app.hub.service import service
from mobile_app.hub.tables import changes, records
from tests.hub.phones import Phone, web_of
from tests.hub.postgres import Postgres
from tests.peers.hub_process import Process

BARE = MetaData()
for one in (changes, records):
    bare = one.to_metadata(BARE, name=f"bare_{one.name}")
    bare.indexes.clear()  # their names are taken; the keys remain
    bare.constraints = {key for key in bare.constraints if key.name is None}
PUSHES, EACH = 30, 100
PHONES, EACH_PHONE = 200, 5
RECORDS = 5000


def a_change(phone: Phone, number: int) -> dict[str, Any]:
    """A saved step: every tenth makes a visit of a dozen fields, the others edit two fields of the latest."""
    record = f"{number // 10:032x}"
    if number % 10:
        return phone.change(
            number, record, "visits", where=f"screen {number}", outline__drafts__circle__d=f"{number} m"
        )
    works = {f"works__#{n}": {"operation": f"work {n}", "values": {"rate": "8 g/m²"}} for n in range(4)}
    drafts = {f"outline__drafts__offsets__o{n}": f"{n}.5 m" for n in range(6)}
    return phone.change(
        number, record, "visits", notes="moss at the edge " * 6, title="Visit", **works, **drafts
    )


def throughput(hub: Hub, address: str) -> None:
    """Changes a second pushed and inserted bare, by turns so that both meet the same machine."""
    with httpx.Client(base_url=address, timeout=120) as web:
        phone = Phone.paired(web, hub.database, make_business(hub.database, "Bench"))
        BARE.create_all(hub.database.engine)
        pushed: list[float] = []
        inserted: list[float] = []
        for turn in range(PUSHES):
            some = [a_change(phone, turn * EACH + at) for at in range(1, EACH + 1)]
            body = json.dumps({"wire": 1, "changes": some})
            pushed.append(
                timed(lambda body=body: phone.ask("POST", "/sync/push", content=body).raise_for_status())
            )
            rows = rows_of(hub, phone, turn, {change["records"][0]["id"] for change in some})
            inserted.append(timed(lambda rows=rows: insert_bare(hub, rows)))
    ours, theirs = EACH / statistics.median(pushed), EACH / statistics.median(inserted)
    print(f"  push {ours:6.0f} changes/s, bare inserts {theirs:6.0f}/s: ratio {ours / theirs:.2f}")


def rows_of(hub: Hub, phone: Phone, turn: int, touched: set[str]) -> dict[str, list[dict[str, Any]]]:
    """The rows of log and records that a push has left."""
    log = (changes.c.business == phone.business) & (changes.c.position > turn * EACH)
    state = (records.c.business == phone.business) & records.c.record.in_(touched)
    with hub.database.tenant(phone.business) as connection:
        found = {
            table.name: [dict(row) for row in connection.execute(select(table).where(wanted)).mappings()]
            for table, wanted in ((changes, log), (records, state))
        }
    assert len(found["changes"]) == EACH
    for row in found["records"]:
        row["business"] = (
            f"{turn:016x}"  # an edit leaves a record that stands there bare from an earlier turn
        )
    return found


def insert_bare(hub: Hub, rows: dict[str, list[dict[str, Any]]]) -> None:
    """Puts the same rows into tables with the same keys but no wall, in one transaction."""
    with hub.database.nobody() as connection:
        for name, some in rows.items():
            connection.execute(insert(BARE.tables[f"bare_{name}"]), some)


def timed(act: Callable[[], object]) -> float:
    """Seconds that it takes."""
    begun = time.perf_counter()
    act()
    return time.perf_counter() - begun


async def crowd(hub: Process, phones: list[Phone]) -> None:
    """Every phone pushes and pulls, all at once."""
    limits = httpx.Limits(max_connections=len(phones), max_keepalive_connections=len(phones))
    async with httpx.AsyncClient(base_url=hub.address, timeout=120, limits=limits) as web:
        waits: list[float] = []
        statuses: list[int] = []

        async def works(phone: Phone) -> None:
            headers = {"Authorization": f"Bearer {phone.token}"}
            for number in range(1, EACH_PHONE + 1):
                body = {"wire": 1, "changes": [a_change(phone, number)]}
                begun = time.perf_counter()
                answer = await web.post("/api/sync/push", json=body, headers=headers)
                statuses.append(answer.status_code)
                answer = await web.get("/api/sync/pull", params={"limit": 20}, headers=headers)
                statuses.append(answer.status_code)
                waits.append(time.perf_counter() - begun)

        begun = time.perf_counter()
        await asyncio.gather(*map(works, phones))
        took = time.perf_counter() - begun
    bad = sum(status != 200 for status in statuses)
    waits.sort()
    rate, median, worst = len(statuses) / took, statistics.median(waits), waits[len(waits) * 95 // 100]
    print(f"  {len(phones)} phones at once, {len(statuses)} requests: {rate:.0f}/s, errors {bad}")
    print(f"  push and pull together: median {median:.2f} s, 95th percentile {worst:.2f} s")


def first_pull(hub: Hub) -> None:
    """How long a new phone takes to fetch everything, over the same ASGI."""
    phone = Phone.paired(web_of(service(hub)), hub.database, make_business(hub.database, "Pull"))
    for start in range(0, RECORDS, EACH):
        some = [a_change(phone, 10 * at) for at in range(start + 1, start + EACH + 1)]
        assert all(one["result"] == "accepted" for one in phone.push(*some))
    begun, got, size = time.perf_counter(), 0, 0
    query: dict[str, Any] = {}
    while True:
        answer = phone.ask("GET", "/sync/snapshot", params=query)
        some_ = answer.json()
        got, size = got + len(some_["records"]), size + len(answer.content)
        query = {"after": some_["after"], "cursor": some_["cursor"]}
        if not some_["more"]:
            break
    took = time.perf_counter() - begun
    print(f"  first pull of {got} records, {size / 1e6:.1f} MB: {took:.1f} s ({got / took:.0f} records/s)")


def everything(kind: str, url: str, place: Path) -> None:
    """All of it on one database."""
    print(kind, flush=True)
    process = Process(place, url)
    hub = open_hub(Settings(url or f"sqlite:///{place / 'hub' / 'hub.sqlite'}"))
    try:
        throughput(hub, process.address)
        first_pull(hub)
        web = web_of(service(hub))
        businesses = [make_business(hub.database, f"Firm {at}") for at in range(PHONES // 4)]
        phones = [Phone.paired(web, hub.database, business) for business in businesses for _ in range(4)]
        asyncio.run(crowd(process, phones))
    finally:
        hub.database.close()
        process.kill()


def main() -> None:
    """On SQLite and on PostgreSQL."""
    server = Postgres()
    try:
        with tempfile.TemporaryDirectory() as name:
            everything("SQLite", "", Path(name))
            everything("PostgreSQL", server.new_database(), Path(name))
    finally:
        server.stop()


if __name__ == "__main__":
    main()
