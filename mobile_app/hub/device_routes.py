"""Pairing, and the list of phones."""

from datetime import datetime
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request, Response
from pydantic import BaseModel, Field

from logic.errors import NotFound
from mobile_app.hub.devices import Device, every_device, new_code, pair, rename, revoke
from mobile_app.hub.hub import Hub
from mobile_app.hub.offices import business_row
from mobile_app.hub.replies import reply
from mobile_app.hub.tries import count_try
from mobile_app.hub.who import admin_only, phone_of

Name = Annotated[str, Field(max_length=100)]


class Pairing(BaseModel):
    """A phone that wants to join."""

    code: str = Field(max_length=40)
    name: Name = ""


class Naming(BaseModel):
    """A name for a phone."""

    name: Annotated[str, Field(min_length=1, max_length=100)]


class Inviting(BaseModel):
    """A wish for a code. admin: whether the phone that uses it may run the office too."""

    admin: bool = False


def device_routes(hub: Hub) -> APIRouter:
    """The routes over phones."""
    routes = APIRouter(prefix="/api", tags=["devices"])
    asks = phone_of(hub)
    Asking = Annotated[Device, Depends(asks)]

    @routes.post("/pair", summary="Pair a phone by a code; the token is shown this once")
    def join(body: Pairing, request: Request) -> Response:
        count_try(hub.database, request.client.host if request.client else "")
        device, token = pair(hub.database, body.code, _clean(body.name))
        with hub.database.tenant(device.business) as connection:
            row = business_row(connection, device.business)
        said = {"token": token, "device": device.device, "admin": device.admin}
        return reply({**said, "business": device.business, "name": row.name, "epoch": row.epoch})

    @routes.get("/devices", summary="Every phone of the business")
    def listed(phone: Asking) -> Response:
        return reply({"devices": _listed(hub, phone)})

    @routes.post("/devices/code", summary="A code for another phone, good once within ten minutes")
    def invite(phone: Asking, body: Inviting | None = None) -> Response:
        admin_only(phone)
        code, expires = new_code(hub.database, phone.business, admin=bool(body and body.admin))
        return reply({"code": code, "expires": expires.isoformat(timespec="seconds")})

    @routes.post("/devices/{device}", summary="Rename a phone")
    def named(device: str, body: Naming, phone: Asking) -> Response:
        if device != phone.device:
            admin_only(phone)
        rename(hub.database, phone.business, device, _clean(body.name))
        return reply({"device": _one(hub, phone, device)})

    @routes.delete("/devices/{device}", summary="Take a phone off; its token is good for nothing then")
    def taken_off(device: str, phone: Asking) -> Response:
        if device != phone.device:
            admin_only(phone)
        revoke(hub.database, phone.business, device)
        return reply({"device": _one(hub, phone, device)})

    return routes


def _listed(hub: Hub, phone: Device) -> list[dict[str, Any]]:
    with hub.database.tenant(phone.business) as connection:
        rows = every_device(connection, phone.business)
    mine = phone.device
    return [
        {name: _said(value) for name, value in row.items()} | {"self": row["device"] == mine} for row in rows
    ]


def _one(hub: Hub, phone: Device, device: str) -> dict[str, Any]:
    for row in _listed(hub, phone):
        if row["device"] == device:
            return row
    raise NotFound(f"This business has no device {device}.")


def _said(value: Any) -> Any:
    return value.isoformat(timespec="seconds") if isinstance(value, datetime) else value


def _clean(name: str) -> str:
    return " ".join("".join(ch if ch.isprintable() else " " for ch in name).split())
