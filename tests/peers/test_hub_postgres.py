"""The hub on PostgreSQL: the wall between businesses, and positions in the order of commits."""

import hashlib
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import psycopg
import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import insert, select, text
from sqlalchemy.exc import DBAPIError

from logic.errors import StorageError
from logic.sync import hub_rules
from logic.sync.wire import Change
from mobile_app.hub import offices
from mobile_app.hub.backup import back_up, restore, row_counts
from mobile_app.hub.hub import Hub, Settings, open_hub
from mobile_app.hub.log import DatabaseLog
from mobile_app.hub.outbox import Outbox
from mobile_app.hub.service import service
from mobile_app.hub.smtp import Result
from mobile_app.hub.tables import WALLED, metadata
from tests.hub.phones import Phone, web_of
from tests.hub.postgres import Postgres


@pytest.fixture(scope="module")
def hub(postgres: Postgres) -> Iterator[Hub]:
    made = open_hub(Settings(postgres.new_database()))
    made.ready()
    yield made
    made.database.close()


@pytest.fixture
def phone(hub: Hub) -> Phone:
    """A phone of a business of its own."""
    business = offices.make_business(hub.database, "Cobb & Daughter")
    return Phone.paired(web_of(service(hub)), hub.database, business, admin=True)


def fill(hub: Hub, phone: Phone) -> None:
    """Something in every table."""
    offices.set_mail(hub.database, phone.business, {"host": "mail.example.com", "sender": "o@example.com"})
    Phone.paired(phone.web, hub.database, phone.business)
    data = b"a photo"
    phone.send_blob(hashlib.sha256(data).hexdigest(), data)
    phone.push(phone.change(1, name="Ann é 🌿\x00"), phone.change(2, "m", "messages", to=["a@example.com"]))


# --- the second wall ------------------------------------------------------------------------------


def test_the_database_itself_shows_a_business_nothing_of_another(hub: Hub, phone: Phone) -> None:
    fill(hub, phone)
    other = offices.make_business(hub.database, "Another firm")
    assert all(row_counts(hub.database, phone.business).values())
    for name in WALLED:
        table = metadata.tables[name]
        # What a program with a forgotten or wrong condition would ask.
        with hub.database.tenant(other) as connection:
            seen = {row.business for row in connection.execute(select(table.c.business))}
        assert seen <= {other}, name
        with hub.database.nobody() as connection:
            assert connection.execute(select(table)).all() == [], name
        with hub.database.tenant(other, write=True) as connection:
            assert connection.execute(table.delete().where(table.c.business == phone.business)).rowcount == 0
            assert connection.execute(table.update().values(business=other)).rowcount <= 1


def test_the_database_takes_nothing_under_another_business(hub: Hub, phone: Phone) -> None:
    other = offices.make_business(hub.database, "Another firm")
    row = {"business": phone.business, "bucket": 1, "sum": "0" * 16}
    with (
        pytest.raises(DBAPIError, match="row-level security"),
        hub.database.tenant(other, write=True) as connection,
    ):
        connection.execute(insert(metadata.tables["sums"]).values(row))
    with hub.database.tenant(phone.business, write=True) as connection:
        connection.execute(insert(metadata.tables["sums"]).values(row))


def test_the_wall_ends_with_the_transaction(hub: Hub, phone: Phone) -> None:
    fill(hub, phone)
    for _ in range(hub.database.engine.pool.size() + 2):  # type: ignore[attr-defined]
        with hub.database.tenant(phone.business) as connection:
            connection.execute(text("SELECT 1"))
        with hub.database.nobody() as connection:
            assert connection.execute(text("SELECT count(*) FROM changes")).scalar_one() == 0


def test_a_role_that_looks_past_the_wall_is_not_worked_with(postgres: Postgres) -> None:
    with pytest.raises(StorageError, match="past the wall"):
        open_hub(Settings(postgres.new_database(owner="postgres"))).ready()


def test_every_table_of_a_business_is_walled(hub: Hub) -> None:
    with hub.database.engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
        query = text(
            "SELECT relname FROM pg_class WHERE relkind = 'r' AND relrowsecurity AND relforcerowsecurity"
        )
        assert {row.relname for row in connection.execute(query)} == set(WALLED)


# --- commit order ---------------------------------------------------------------------------------


def change(device: str, number: int) -> Change:
    delta = {
        "table": "clients",
        "id": f"{device}{number}",
        "fields": {"n": {"at": {}, "is": {device: [number, 1]}}},
    }
    return Change(number, "", "", (delta,))


def test_who_takes_a_position_later_commits_later(hub: Hub, phone: Phone) -> None:
    """A reader never passes over a position that is still to be committed."""
    took, go = threading.Event(), threading.Event()

    def slow() -> None:
        with hub.database.tenant(phone.business, write=True) as connection:
            log = DatabaseLog(connection, phone.business, lock=True)
            hub_rules.accept(log, "aaaaaaaaaaaa", [change("aaaaaaaaaaaa", 1)])
            took.set()
            assert go.wait(60)

    def quick() -> list[int]:
        results = phone.push(phone.change(1, name="quick"))
        return [result["position"] for result in results]

    with ThreadPoolExecutor(2) as pool:
        first = pool.submit(slow)
        assert took.wait(60)
        second = pool.submit(quick)
        with hub.database.tenant(phone.business) as connection:
            assert DatabaseLog(connection, phone.business).last() == 0
            assert DatabaseLog(connection, phone.business).after(0, 10, "") == []
        assert not second.done()
        go.set()
        first.result(60)
        assert second.result(60) == [2]


def test_a_reader_among_many_writers_misses_nothing(hub: Hub, phone: Phone) -> None:
    writers = [Phone.paired(phone.web, hub.database, phone.business) for _ in range(4)]
    each, seen = 12, []
    done = threading.Event()

    def write(one: Phone) -> None:
        for number in range(1, each + 1):
            one.push(one.change(number, f"{one.id}-{number}", name=str(number)))

    def read(cursor: str) -> None:
        while True:
            last = done.is_set()
            page = phone.pull(cursor, limit=5)
            seen.extend((entry["position"], entry["device"], entry["number"]) for entry in page["changes"])
            cursor = page["cursor"]
            if last and not page["more"]:
                return

    with ThreadPoolExecutor(5) as pool:
        reading = pool.submit(read, phone.start())
        try:
            for writing in [pool.submit(write, one) for one in writers]:
                writing.result(120)
        finally:
            done.set()
        reading.result(120)
    assert [position for position, _, _ in seen] == list(range(1, 4 * each + 1))
    assert {(device, number) for _, device, number in seen} == {
        (one.id, number) for one in writers for number in range(1, each + 1)
    }


def test_one_push_that_comes_twice_at_once_is_taken_once(hub: Hub, phone: Phone) -> None:
    with ThreadPoolExecutor(6) as pool:
        pushes = [
            pool.submit(phone.push, phone.change(1, name="Ann"), phone.change(2, name="Ann T."))
            for _ in range(6)
        ]
        results = [push.result(60) for push in pushes]
    assert all(result == results[0] for result in results)
    assert row_counts(hub.database, phone.business)["changes"] == 2


# --- and the rest ---------------------------------------------------------------------------------


def test_odd_text_and_keys_come_back_in_the_order_of_their_letters(hub: Hub, phone: Phone, tmp_path) -> None:  # type: ignore[no-untyped-def]
    names = ["a", "B", "é", "Z", "_", "10", "9", "😀", "ｆ", "b"]
    for number, name in enumerate(names, start=1):
        phone.push(phone.change(number, name, note=f"{name}\x00\ud800".encode("utf-8", "replace").decode()))
    some, ids = phone.snapshot(limit=3), []
    while True:
        ids += [record["id"] for record in some["records"]]
        if not some["more"]:
            break
        some = phone.snapshot(limit=3, after=some["after"], cursor=some["cursor"])
    assert ids == sorted(names)


def test_a_backup_moves_from_postgresql_to_sqlite_and_back(
    hub: Hub, phone: Phone, postgres: Postgres, tmp_path
) -> None:  # type: ignore[no-untyped-def]
    fill(hub, phone)
    back_up(hub.database, hub.blobs.kept, tmp_path / "one.zip")
    small = open_hub(Settings(f"sqlite:///{tmp_path / 'small.sqlite'}"))
    small.database.upgrade()
    restore(small.database, small.blobs.kept, tmp_path / "one.zip")
    back_up(small.database, small.blobs.kept, tmp_path / "two.zip")
    large = open_hub(Settings(postgres.new_database()))
    large.database.upgrade()
    restore(large.database, large.blobs.kept, tmp_path / "two.zip")
    moved = Phone.__new__(Phone)
    moved.__dict__ = {**phone.__dict__, "web": web_of(service(large))}
    before = {record["id"]: record for record in phone.snapshot()["records"]}
    after = {record["id"]: record for record in moved.snapshot()["records"]}
    assert after["a"] == before["a"]
    for one in (small, large):
        one.database.close()


def test_senders_of_several_processes_send_one_message_once(hub: Hub, phone: Phone) -> None:
    fill(hub, phone)
    sent: list[str] = []

    def post(server: object, message: object, to: list[str]) -> Result:
        sent.extend(to)
        return Result("sent", "250 ok")

    senders = [Outbox(hub.database, hub.blobs, post) for _ in range(5)]
    with ThreadPoolExecutor(5) as pool:
        outcomes = [one for some in pool.map(lambda sender: sender.send_due(), senders) for one in some]
    waiting = sum(row_counts(hub.database, business)["mail"] for business in hub.database.all_businesses())
    assert outcomes == ["sent"] * waiting
    assert sent == ["a@example.com"] * waiting


def test_no_connection_is_left_in_a_transaction(hub: Hub, phone: Phone) -> None:
    fill(hub, phone)
    address = hub.database.engine.url.set(drivername="postgresql").render_as_string()
    with psycopg.connect(address) as connection:
        query = "SELECT count(*) FROM pg_stat_activity WHERE state LIKE 'idle in%' AND usename = current_user"
        assert connection.execute(query).fetchone() == (0,)
