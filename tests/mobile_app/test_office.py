"""The app and the office: joining, how it says things stand, what comes in while a visit is in hand."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from logic.records.types import Client, Message, Visit
from logic.sync.calls import Request, Response, Unreachable
from logic.sync.engine import Line
from logic.sync.text import text_of
from mobile_app import sending
from mobile_app.parts.office_mark import heading, lines
from mobile_app.screens import decide
from mobile_app.sync_runner import Standing
from tests.logic.sync.memory_hub import MemoryHub
from tests.mobile_app.stand import Stand, played


class Desk:
    """An office that phones of the app can join, and a line to it that may be down."""

    def __init__(self) -> None:
        self.hub = MemoryHub(lambda: datetime.now(UTC))
        self.down = False
        self.joined = 0
        self.names: dict[str, str] = {}

    async def line(self, request: Request) -> Response:
        await asyncio.sleep(0)
        if self.down:
            raise Unreachable
        if request.path == "/pair":
            self.joined += 1
            device = f"phone{self.joined}"
            self.names[device] = "Jo's phone"
            return _json(
                {"token": device, "device": device, "business": "b", "name": "Fen Turf", "epoch": ""}
            )
        if request.path == "/devices":
            listed = [{"device": device, "name": name, "self": False} for device, name in self.names.items()]
            return _json({"devices": listed})
        return self.hub.answer(request)

    def hear(self, table: str, record_id: str, path: str, value: Any) -> None:
        """Another phone's first change."""
        fields = {path: {"at": {}, "is": {"other": [1, value]}}}
        records = [{"table": table, "id": record_id, "fields": fields}]
        body = text_of({"changes": [{"number": 1, "at": "", "why": "", "records": records}]}).encode()
        request = Request("POST", "/sync/push", {}, {"Authorization": "Bearer other"}, body)
        assert self.hub.answer(request).status == 200


def _json(value: Any) -> Response:
    return Response(200, text_of(value).encode())


async def join(hand: Stand, desk: Desk) -> None:
    """Join the office and sync."""
    hand.app.office._transport = desk.line
    await hand.app.office.pair(" ABCD-EFGH ", "Jo's phone")
    assert await hand.app.office._made_engine().run()


def test_joining_sends_what_the_phone_has_and_says_so() -> None:
    desk = Desk()

    async def story(hand: Stand) -> None:
        hand.open_visit()
        await join(hand, desk)
        assert hand.app.state.place == "/office"
        standing = hand.app.office.standing
        assert (standing.paired, standing.office, standing.unsent) == (True, "Fen Turf", 0)
        assert len(desk.hub.log.texts) == 3
        assert hand.app.office.name_of("phone1") == "this phone"

    played(story)


def test_what_comes_in_is_shown_in_the_visit_in_hand_and_what_is_typed_stays() -> None:
    desk = Desk()

    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        hand.app.office._transport = desk.line
        await hand.app.office.pair("ABCD", "Jo's phone")
        engine = hand.app.office._made_engine()
        assert await engine.run()
        delta = {
            "table": "visits",
            "id": visit.id,
            "fields": {"title": {"at": {}, "is": {"other": [1, "Spring"]}}},
        }
        push = {"changes": [{"number": 1, "at": "", "why": "", "records": [delta]}]}
        request = Request("POST", "/sync/push", {}, {"Authorization": "Bearer other"}, text_of(push).encode())
        assert desk.hub.answer(request).status == 200
        hand.app.go(f"/visit/{visit.id}/paper")
        hand.app.edit(replace(hand.app.visit_in_hand(), notes="typed just now"))
        assert await engine.run()
        shown = hand.app.visit_in_hand()
        assert (shown.title, shown.notes) == ("Spring", "typed just now")
        assert (hand.stored().title, hand.stored().notes) == ("Spring", "typed just now")
        assert "typed just now" in desk.hub.log.texts["visits", visit.id]

    played(story)


def test_a_visit_deleted_elsewhere_while_it_is_in_hand_is_said() -> None:
    desk = Desk()

    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        await join(hand, desk)
        covers = {"phone1": hand.app.office.ledger.info["number"]}
        gone = {"deleted": "2026-05-01T08:00:00+00:00", "root": visit.id, "noun": "visit", "covers": covers}
        desk.hear("visits", visit.id, "", gone)
        hand.app.go(f"/visit/{visit.id}/paper")
        assert await hand.app.office._made_engine().run()
        assert hand.app.state.place == "/"
        assert "deleted on another phone" in hand.said

    played(story)


def test_joining_with_no_signal_is_a_sentence_and_changes_nothing() -> None:
    desk = Desk()
    desk.down = True

    async def story(hand: Stand) -> None:
        hand.app.office._transport = desk.line
        await hand.app.office.pair("ABCD", "Jo's phone")
        assert "can't be reached" in hand.said
        assert not hand.app.office.standing.paired

    played(story)


def test_leaving_keeps_every_record_and_works_with_no_signal() -> None:
    desk = Desk()

    async def story(hand: Stand) -> None:
        hand.open_visit()
        await join(hand, desk)
        desk.down = True
        await hand.app.office.unpair()
        assert not hand.app.office.standing.paired
        assert hand.app.book.counts()["visits"] == 1

    played(story)


def test_a_document_goes_into_the_outbox_with_its_bytes_and_again_only_when_asked() -> None:
    desk = Desk()

    async def story(hand: Stand) -> None:
        from logic.records.visits import with_method, with_reading

        visit = hand.open_visit()
        visit = with_method(visit, "circle")
        hand.app.edit(with_reading(visit, "diameter", "9 m"))
        await join(hand, desk)
        visit = hand.app.book.get(Visit, visit.id)
        form = {**sending.first_words(hand.app, visit, "summary"), "to": "ada@example.com"}
        await sending.send(hand.app, visit, "summary", form, "office")
        [message] = hand.app.book.all(Message)
        assert (message.state, message.to) == ("waiting", ("ada@example.com",))
        assert (await hand.app.shelf.read(message.paper["sha256"])).startswith(b"%PDF")
        await sending.send(hand.app, visit, "summary", {**form, "to": "nobody"}, "draft")
        assert "no e-mail address" in hand.said
        await sending.send(hand.app, visit, "summary", form, "draft")
        name, mime, data, _ = hand.device.offered[-1]
        assert (name[-4:], mime) == (".eml", "message/rfc822")
        assert b"X-Unsent: 1" in data
        hand.app.book.save(replace(message, state="unknown"))
        sending.send_again(hand.app, hand.app.book.get(Message, message.id))
        assert hand.app.book.get(Message, message.id).state == "waiting"
        assert hand.app.book.has(Client, hand.app.sward_of(visit).client_id)

    played(story)


def test_the_state_is_said_plainly() -> None:
    since = datetime(2026, 5, 1, 8, 0, tzinfo=UTC)
    met = Line(met=since)
    assert heading(Standing(False)) == "Saved on this phone"
    assert heading(Standing(True, line=met)) == "Saved on this phone and with the office"
    waiting = Standing(True, unsent=3, since=since, line=replace(met, skew=-180.0, trouble="No signal."))
    assert heading(waiting) == "Saved on this phone, 3 changes to send"
    said = lines(waiting)
    assert said[0].startswith("3 changes waiting since")
    assert "No signal." in said
    assert any("3 minutes slow" in line for line in said)
    assert heading(Standing(True, conflicts=1)) == "1 thing to decide"
    assert "taken off" in heading(Standing(True, line=Line(code="revoked")))


def test_values_side_by_side_read_as_words() -> None:
    assert decide.said_of("wet") == "wet"
    assert decide.said_of(object()) == "(nothing)"
    assert decide.said_of({"id": "x", "kind": "moisture", "values": {"depth": "5 cm"}}) == (
        "kind: moisture\ndepth: 5 cm"
    )
