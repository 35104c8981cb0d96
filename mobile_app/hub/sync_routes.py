"""Push, pull and snapshot: logic.sync's rules over HTTP."""

from typing import Annotated, Any

from fastapi import APIRouter, Body, Depends, Query, Response
from sqlalchemy import select

from logic.errors import NotFound
from logic.sync import hub_rules
from logic.sync.registers import BUCKETS, key_of
from logic.sync.wire import PAGE, WIRE, BrokenMessage, Change, Pushed, Result, changes_in
from mobile_app.hub.devices import Device
from mobile_app.hub.errors import Refused
from mobile_app.hub.hub import Hub
from mobile_app.hub.log import DatabaseLog
from mobile_app.hub.outbox import notice
from mobile_app.hub.replies import moment, reply
from mobile_app.hub.tables import devices
from mobile_app.hub.who import admin_only, phone_of

Message = Annotated[dict[str, Any], Body(description="See logic/sync/wire.py.")]
Limit = Annotated[int, Query(ge=1, le=PAGE)]


def sync_routes(hub: Hub) -> APIRouter:
    """The routes over changes."""
    routes = APIRouter(prefix="/api", tags=["sync"])
    Asking = Annotated[Device, Depends(phone_of(hub))]

    @routes.post("/sync/push", summary="Send changes; each is accepted, or refused with a reason")
    def push(body: Message, phone: Asking) -> Response:
        return reply(_take_in(hub, phone.business, phone.device, body))

    @routes.post("/devices/{device}/rescue", summary="Send what another phone, perhaps taken off, never sent")
    def rescue(device: str, body: Message, phone: Asking) -> Response:
        admin_only(phone)
        mine = (devices.c.business == phone.business) & (devices.c.device == device)
        with hub.database.tenant(phone.business) as connection:
            if connection.execute(select(devices.c.device).where(mine)).first() is None:
                raise NotFound(f"This business has no device {device}.")
        return reply(_take_in(hub, phone.business, device, body))

    @routes.get("/sync/pull", summary="Changes of others after a cursor; sums on the last page")
    def pull(phone: Asking, cursor: str = "", limit: Limit = PAGE, wire: int = WIRE) -> Response:
        _check_wire(wire)
        with hub.database.tenant(phone.business) as connection:
            log = DatabaseLog(connection, phone.business)
            page = hub_rules.page(log, cursor, limit, phone.device, moment())
        return reply(page.to_json())

    @routes.get("/sync/snapshot", summary="Whole records, page by page, for the first meeting and for repair")
    def snapshot(
        phone: Asking,
        cursor: str = "",
        after: str = "",
        limit: Limit = PAGE,
        buckets: str | None = None,
        wire: int = WIRE,
    ) -> Response:
        _check_wire(wire)
        wanted = None if buckets is None else _buckets(buckets)
        with hub.database.tenant(phone.business) as connection:
            log = DatabaseLog(connection, phone.business)
            some = hub_rules.snapshot(log, cursor, after, limit, moment(), wanted)
        return reply(some.to_json())

    return routes


def _take_in(hub: Hub, business: str, device: str, body: dict[str, Any]) -> dict[str, Any]:
    """Judges every change of a push and stores those accepted, with their results, in one transaction."""
    _check_wire(body.get("wire", WIRE))
    read = changes_in(body)
    good = [one for one in read if isinstance(one, Change)]
    with hub.database.tenant(business, write=True) as connection:
        log = DatabaseLog(connection, business, lock=True)
        judged = iter(hub_rules.accept(log, device, good))
        results = tuple(one if isinstance(one, Result) else next(judged) for one in read)
        accepted = {result.number for result in results if result.accepted}
        keys = {key_of(r) for change in good if change.number in accepted for r in change.records}
        notice(connection, log, business, keys)
        answer = Pushed(log.epoch, moment(), results)
    hub.call_sender()
    for result in results:
        hub.meters.count("swardwright_changes_total", outcome=result.code or "accepted")
    return answer.to_json()


def _check_wire(said: Any) -> None:
    if said != WIRE:
        raise Refused(
            426, "version", "The app and the office are of different versions. Update both.", speaks=[WIRE]
        )


def _buckets(text: str) -> set[int]:
    parts = [part for part in text.split(",") if part]
    if not all(part.isascii() and part.isdigit() and len(part) < 4 and int(part) < BUCKETS for part in parts):
        raise BrokenMessage("“buckets” are numbers from 0 to 63.")
    return {int(part) for part in parts}
