"""What the sync promises about the line: when it speaks and waits, how it takes a no, versions, photos."""

import hashlib
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from logic.errors import NewerFormat, NotFound
from logic.records.types import Client, Message, Photo
from logic.sync import hub_rules
from logic.sync.blobs import Carrier
from logic.sync.calls import Request, Response
from logic.sync.conflicts import count
from logic.sync.engine import LONGEST_WAIT
from logic.sync.wire import CHUNK, Change, Page
from tests.logic.sync.simulator import Phone, World
from tests.logic.sync.test_guarantees import edit, meet, pair

# --- 8: edits during a sync -----------------------------------------------------------------------


@pytest.mark.parametrize("at", range(6))
def test_an_edit_made_at_any_moment_of_a_sync_survives_it(at: int) -> None:
    world, ann, bob, _ = pair()
    edit(bob, note="red gate")
    assert bob.sync()
    edit(ann, phone="01632 960001")
    ann.begin()
    for _ in range(at):
        ann.step()
    edit(ann, address="2 Fen Road")
    ann.finish()
    assert at > 1 or not ann.ledger.unsent()  # early enough to go along at once
    meet(ann, bob)
    for phone in (ann, bob):
        client = phone.book.get(Client, "c1")
        assert (client.note, client.phone, client.address) == ("red gate", "01632 960001", "2 Fen Road")
    world.check()


def test_what_is_in_hand_is_saved_before_anything_comes_in_and_nothing_comes_in_when_it_cannot_be() -> None:
    _, ann, bob, _ = pair()
    edit(bob, note="red gate")
    assert bob.sync()
    asked: list[str] = []
    ann.engine._settle = lambda: asked.append(ann.book.get(Client, "c1").note) or False  # type: ignore[func-returns-value]
    assert not ann.sync()
    assert asked == ["gate code 12"]
    assert ann.book.get(Client, "c1").note == "gate code 12"
    ann.engine._settle = lambda: True
    meet(ann)
    assert ann.book.get(Client, "c1").note == "red gate"


# --- 9: refused changes ---------------------------------------------------------------------------


def test_a_refused_change_waits_with_its_reason_while_others_go_on() -> None:
    world, ann, bob, _ = pair()
    asked: list[int] = []

    def refuses(change: Any) -> str:
        asked.append(change["number"])
        return "Not on a Sunday." if "sunday" in str(change) else ""

    world.hub.refuses = refuses
    edit(ann, note="sunday work")
    edit(ann, phone="01632 960001")
    meet(ann, bob)
    [waiting] = ann.ledger.waiting()
    assert (waiting.reason, waiting.number) == ("Not on a Sunday.", 2)
    assert bob.book.get(Client, "c1").phone == "01632 960001"
    assert ann.book.get(Client, "c1").note == "sunday work"
    assert sorted(asked) == [2, 3]  # it isn't asked about again and again
    world.hub.refuses = lambda change: ""
    ann.engine.trigger("hand")
    meet(ann, bob)
    assert ann.ledger.waiting() == []
    assert bob.book.get(Client, "c1").note == "sunday work"
    world.check()


def test_one_change_that_the_office_chokes_on_does_not_hold_up_the_rest() -> None:
    world, ann, bob, _ = pair()
    answer = world.hub.answer

    def choking(request: Request) -> Response:
        return Response(413, b"") if b"heavy" in (request.body or b"") else answer(request)

    world.hub.answer = choking
    edit(ann, phone="01632 960001")
    edit(ann, note="heavy")
    assert ann.sync()
    assert bob.sync()
    assert [one.number for one in ann.ledger.waiting()] == [3]
    assert bob.book.get(Client, "c1").phone == "01632 960001"


# --- 10: when it speaks ---------------------------------------------------------------------------


def waits(phone: Phone, failures: int) -> list[float]:
    found = []
    for _ in range(failures):
        assert not phone.sync()
        found.append(phone.engine.wait() or 0.0)
    return found


def test_failures_back_off_with_jitter_up_to_a_limit() -> None:
    world, ann, *_ = pair()
    world.fates = lambda: "lost"
    found = waits(ann, 12)
    for number, seconds in enumerate(found):
        whole = min(LONGEST_WAIT, 2.0 * 2**number)
        assert whole / 2 <= seconds <= whole
    other = World(seed=5)
    bob = other.phone("bob")
    other.fates = lambda: "lost"
    assert waits(bob, 12) != found


def test_the_office_is_left_alone_for_as_long_as_it_asks_by_hand_too() -> None:
    world, ann, *_ = pair()
    world.hub.answer = lambda request: Response(429, b"{}", {"retry-after": "90"})
    assert not ann.sync()
    for what in ("hand", "online", "visible", "start"):
        ann.engine.trigger(what)  # type: ignore[arg-type]
        assert 89 < (ann.engine.wait() or 0) <= 90
    world.now += timedelta(seconds=91)
    assert ann.engine.wait() == 0


@pytest.mark.parametrize(
    ("what", "most"), [("start", 0), ("online", 0), ("visible", 0), ("hand", 0), ("saved", 2)]
)
def test_every_reason_to_speak_is_heard(what: Any, most: float) -> None:
    world, ann, *_ = pair()
    assert (ann.engine.wait() or 0) > 30
    ann.engine.trigger(what)
    assert (ann.engine.wait() or 0) <= most
    world.fates = lambda: "lost"
    waits(ann, 6)
    ann.engine.trigger("saved")  # a save is no sign that there is signal again
    assert (ann.engine.wait() or 0) > 30
    ann.engine.trigger("online")
    assert ann.engine.wait() == 0


# --- 11: older and newer --------------------------------------------------------------------------


def newer(phone: Phone, number: int, table: str, record_id: str, **values: Any) -> None:
    """What a later version of the app on another phone sends."""
    fields = {path: {"at": {}, "is": {"new": [number, value]}} for path, value in values.items()}
    change = Change(
        number, "", "", ({"table": table, "id": record_id, "fields": fields},), more={"mood": "calm"}
    )
    assert hub_rules.accept(phone.world.hub.log, "new", [change])[0].accepted


def test_fields_and_tables_of_a_later_version_are_kept_and_passed_on() -> None:
    world, ann, bob, _ = pair()
    newer(ann, 1, "clients", "c1", pronoun="she")
    newer(ann, 2, "drones", "d1", v=1, name="Hawk")
    meet(ann)
    edit(ann, note="new gate")
    meet(ann, bob)
    assert bob.book.get(Client, "c1").extra == {"pronoun": "she"}
    assert bob.book.table("drones")["d1"]["name"] == "Hawk"
    assert "calm" in str([entry.change.to_json() for entry in world.hub.log.entries])
    world.check()


def test_a_record_of_a_later_version_is_read_only_here_and_locks_nobody_out() -> None:
    _, ann, bob, _ = pair()
    newer(ann, 1, "clients", "c9", v=2, name="From the future")
    meet(ann)
    with pytest.raises(NewerFormat):
        ann.book.save(replace(ann.book.get(Client, "c9"), note="?"))
    edit(ann, note="new gate")
    meet(ann, bob)
    assert bob.book.get(Client, "c1").note == "new gate"


def test_an_office_of_another_version_stops_the_line_and_not_the_work() -> None:
    world, ann, *_ = pair()
    answer = world.hub.answer
    said = b'{"error":{"code":"version","sentence":"Update the app."}}'
    world.hub.answer = lambda request: Response(426, said)
    edit(ann, note="new gate")
    assert not ann.sync()
    assert (ann.engine.line.code, ann.engine.line.trouble) == ("version", "Update the app.")
    ann.engine.trigger("saved")
    assert ann.engine.wait() is None
    edit(ann, note="newer gate")
    world.hub.answer = answer
    ann.kill()  # the app again, another version perhaps
    assert ann.sync()
    assert not ann.ledger.unsent()


def test_a_revoked_phone_says_so_keeps_everything_and_can_still_export() -> None:
    world, ann, *_ = pair()
    world.hub.revoked.add("ann")
    edit(ann, note="new gate")
    assert not ann.sync()
    assert ann.engine.line.code == "revoked"
    assert len(ann.ledger.unsent()) == 1
    exported = ann.book.export_all()
    assert len(exported) > 500
    assert b'"token"' not in exported
    ann.ledger.unpair()
    edit(ann, note="on its own")
    assert count(ann.book, ann.ledger) == 0
    assert not ann.book.table("unsent")


def test_an_answer_that_is_no_answer_changes_nothing() -> None:
    world, ann, *_ = pair()
    before = ann.states()
    for body in (
        b"<html>Sign in to the hotel's network</html>",
        b"[]",
        b'{"changes": 3}',
        b"\xff",
        b"{" * 9999,
    ):
        world.hub.answer = lambda request, body=body: Response(200, body)
        assert not ann.sync()
        assert ann.engine.line.trouble
    assert ann.states() == before


def test_a_page_reads_what_it_writes() -> None:
    page = Page("e", "now", (Change(1, "", "x", (), more={"mood": 1}),), "e:3", True, sums=tuple(range(64)))
    assert Page.from_json(page.to_json()) == page


# --- 12: photos -----------------------------------------------------------------------------------


class Drawer:
    """Photos of one phone."""

    def __init__(self, *photos: bytes) -> None:
        self.kept = {hashlib.sha256(photo).hexdigest(): photo for photo in photos}

    async def has(self, sha256: str) -> bool:
        return sha256 in self.kept

    async def get(self, sha256: str) -> bytes:
        if sha256 not in self.kept:
            raise NotFound
        return self.kept[sha256]

    async def put(self, data: bytes) -> str:
        self.kept[hashlib.sha256(data).hexdigest()] = data
        return hashlib.sha256(data).hexdigest()


PHOTO = bytes(range(256)) * 3000  # three pieces


def with_photo() -> tuple[World, Phone, Phone, str]:
    world, ann, bob, _ = pair()
    key = hashlib.sha256(PHOTO).hexdigest()
    for phone, drawer in ((ann, Drawer(PHOTO)), (bob, Drawer())):
        phone.engine._carrier = Carrier(phone.book, drawer, phone._pause)
    ann.book.save(Photo(id="p1", sha256=key))
    return world, ann, bob, key


def drawer(phone: Phone) -> Any:
    return phone.engine._carrier._blobs  # type: ignore[union-attr]


def test_a_photo_goes_in_pieces_and_goes_on_where_it_was_cut_off() -> None:
    world, ann, bob, key = with_photo()
    pieces = 0

    def fates() -> str:
        nonlocal pieces
        pieces += world.hub.requests[-1].startswith("PUT")
        return "cut" if pieces == 1 else "arrives"

    world.fates = fates
    assert not ann.sync()
    assert 0 < len(world.hub.blobs[key]) < len(PHOTO)
    assert ann.ledger.unsent() == []  # the record did not wait for it
    world.fates = lambda: "arrives"
    meet(ann, bob)
    assert drawer(bob).kept[key] == PHOTO
    sent = [one for one in world.hub.requests if one.startswith("PUT")]
    assert len(sent) == -(-len(PHOTO) // CHUNK)  # no piece twice
    assert not ann.engine._carrier.left()
    assert not bob.engine._carrier.left()


def test_records_come_first_and_a_photo_that_nobody_has_yet_holds_up_nothing() -> None:
    world, ann, bob, key = with_photo()
    drawer(ann).kept.clear()
    edit(ann, note="new gate")
    meet(ann, bob)
    assert bob.book.get(Client, "c1").note == "new gate"
    assert bob.book.has(Photo, "p1")
    assert bob.engine._carrier.left() == [key]  # type: ignore[union-attr]
    paths = [one.split()[1].split("/")[1] for one in world.hub.requests]
    assert paths.index("blobs") > paths.index("sync")


def test_a_photo_that_arrives_spoilt_is_not_kept() -> None:
    world, ann, bob, key = with_photo()
    meet(ann)
    world.hub.blobs[key][5] ^= 1
    meet(bob)
    assert key not in drawer(bob).kept
    world.hub.blobs[key][5] ^= 1
    meet(bob)
    assert drawer(bob).kept[key] == PHOTO


# --- 14: what the office says of a message --------------------------------------------------------


def test_what_the_office_did_with_a_message_comes_back_as_its_own_change() -> None:
    world, ann, bob, _ = pair()
    ann.book.save(Message(id="m1", to=("ada@example.com",), subject="Summary"))
    meet(ann)
    hub_rules.write(world.hub.log, "messages", "m1", {"state": "refused", "said": "550 no such user"}, "")
    meet(ann, bob)
    for phone in (ann, bob):
        message = phone.book.get(Message, "m1")
        assert (message.state, message.said) == ("refused", "550 no such user")
    ann.book.save(replace(ann.book.get(Message, "m1"), state="waiting", said=""))
    meet(ann, bob)
    assert bob.book.get(Message, "m1").state == "waiting"
    hub_rules.write(world.hub.log, "messages", "m1", {"state": "sent", "said": "250 ok"}, "")
    meet(ann, bob)
    assert bob.book.get(Message, "m1").state == "sent"
    assert count(bob.book, bob.ledger) == 0
