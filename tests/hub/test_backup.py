"""Backup and restore: all comes back, a new life of the log begins, nothing half done."""

import hashlib
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from logic.errors import BrokenFile, Conflict, NewerFormat
from mobile_app.hub import offices
from mobile_app.hub.backup import back_up, restore, row_counts
from mobile_app.hub.hub import Hub, Settings, open_hub
from mobile_app.hub.pieces import InFolder
from mobile_app.hub.service import service
from mobile_app.hub.smtp import Result
from tests.hub.phones import Phone, web_of

PHOTO = bytes(range(256)) * 2000


@pytest.fixture
def new_hub(tmp_path: Path) -> Iterator[Hub]:
    """An empty hub on another database, which keeps photos in a folder."""
    made = open_hub(Settings(f"sqlite:///{tmp_path / 'new.sqlite'}", folder=tmp_path / "new-blobs"))
    made.database.upgrade()
    yield made
    made.database.close()


@pytest.fixture
def filled(hub: Hub, phone: Phone) -> str:
    """Fills the hub; the hash of the photo in it."""
    for number in range(1, 6):
        phone.push(phone.change(number, f"r{number % 3}", name=f"Odd {number} é 🌿 \x00"))
    sha256 = hashlib.sha256(PHOTO).hexdigest()
    phone.send_blob(sha256, PHOTO)
    phone.ask("POST", f"/blobs/{'1' * 64}", json={"size": 10})
    phone.ask("PUT", f"/blobs/{'1' * 64}", content=b"half")
    return sha256


def test_everything_comes_back_into_a_new_hub_and_the_phones_go_on(
    hub: Hub, new_hub: Hub, phone: Phone, filled: str, tmp_path: Path
) -> None:
    other = offices.make_business(hub.database, "Another firm")
    cursor, before = phone.start(), phone.snapshot()
    written = back_up(hub.database, hub.blobs.kept, tmp_path / "hub.zip")
    assert written == restore(new_hub.database, new_hub.blobs.kept, tmp_path / "hub.zip")
    for business in (phone.business, other):
        assert row_counts(new_hub.database, business) == row_counts(hub.database, business)

    moved = Phone.__new__(Phone)
    moved.__dict__ = {**phone.__dict__, "web": web_of(service(new_hub))}
    after = moved.snapshot()
    assert after["records"] == before["records"]
    assert after["epoch"] != before["epoch"]
    assert moved.pull(cursor)["reset"] is True
    assert moved.pull(after["cursor"])["sums"] == phone.pull(before["cursor"])["sums"]
    assert (
        b"".join(moved.ask("GET", f"/blobs/{filled}", params={"offset": at}).content for at in (0, 262_144))
        == PHOTO
    )
    assert moved.ask("POST", f"/blobs/{'1' * 64}", json={"size": 10}).json()["have"] == 4
    last = phone.change(5, "r2", name="Odd 5 é 🌿 \x00")
    old, new = moved.push(last, moved.change(6, "r1", name="after"))
    assert (old["position"], new["result"]) == (5, "accepted")


def test_the_office_never_writes_twice_under_one_number(
    hub: Hub, new_hub: Hub, phone: Phone, tmp_path: Path
) -> None:
    """What it wrote after the backup is on phones, and must not be taken for what it writes afterwards."""
    offices.set_mail(hub.database, phone.business, {"host": "mail.example.com", "sender": "o@example.com"})
    back_up(hub.database, hub.blobs.kept, tmp_path / "hub.zip")
    restore(new_hub.database, new_hub.blobs.kept, tmp_path / "hub.zip")
    new_hub.outbox.hand_over = hub.outbox.hand_over
    moved = Phone.__new__(Phone)
    moved.__dict__ = {**phone.__dict__, "web": web_of(service(new_hub))}
    numbers: list[set[int]] = []
    for one, at in ((phone, hub), (moved, new_hub)):
        cursor = one.start()
        for number in range(1, 4):
            one.push(one.change(number, f"m{number}", "messages", to=["odile@example.com"]))
        assert at.outbox.send_due() == ["sent"] * 3
        changes = one.pull(cursor)["changes"]
        numbers.append({change["number"] for change in changes if change["device"] == "hub"})
    assert len(numbers[0]) == len(numbers[1]) == 6
    assert numbers[0] & numbers[1] == set()


def test_mail_that_was_on_its_way_is_for_a_person_to_look_at(
    hub: Hub, new_hub: Hub, phone: Phone, tmp_path: Path
) -> None:
    offices.set_mail(hub.database, phone.business, {"host": "mail.example.com", "sender": "o@example.com"})
    phone.push(phone.change(1, "m", "messages", to=["odile@example.com"], subject="Your green"))
    back_up(hub.database, hub.blobs.kept, tmp_path / "hub.zip")
    assert hub.outbox.send_due() == ["sent"]  # after the backup
    sent: list[object] = []
    new_hub.outbox.hand_over = lambda *given: (sent.append(given), Result("sent", "250 ok"))[1]
    restore(new_hub.database, new_hub.blobs.kept, tmp_path / "hub.zip")
    assert new_hub.outbox.send_due() == []
    assert sent == []
    moved = Phone.__new__(Phone)
    moved.__dict__ = {**phone.__dict__, "web": web_of(service(new_hub))}
    (record,) = moved.snapshot()["records"]
    assert [value[1] for value in record["fields"]["state"]["is"].values()] == ["unknown"]


def test_only_a_whole_backup_of_this_schema_goes_only_into_an_empty_hub(
    hub: Hub, new_hub: Hub, filled: str, tmp_path: Path
) -> None:
    good = tmp_path / "hub.zip"
    back_up(hub.database, hub.blobs.kept, good)
    with pytest.raises(Conflict):
        restore(hub.database, hub.blobs.kept, good)

    cut = tmp_path / "cut.zip"
    cut.write_bytes(good.read_bytes()[:-200])
    changed, newer = tmp_path / "changed.zip", tmp_path / "newer.zip"
    with (
        zipfile.ZipFile(good) as old,
        zipfile.ZipFile(changed, "w") as one,
        zipfile.ZipFile(newer, "w") as two,
    ):
        for name in old.namelist():
            data = old.read(name)
            one.writestr(name, data.replace(b"Odd 5", b"Odd 6"))
            if name == "manifest.json":
                data = json.dumps({**json.loads(data), "schema": "9999"}).encode()
            two.writestr(name, data)
    (tmp_path / "none.zip").write_bytes(b"nothing")
    for bad, error in (
        (cut, BrokenFile),
        (changed, BrokenFile),
        (newer, NewerFormat),
        (tmp_path / "none.zip", BrokenFile),
    ):
        with pytest.raises(error):
            restore(new_hub.database, InFolder(tmp_path / "b"), bad)
        assert new_hub.database.all_businesses() == []
    restore(new_hub.database, new_hub.blobs.kept, good)
