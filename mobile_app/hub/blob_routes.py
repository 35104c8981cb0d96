"""Photos and papers by the hash of their bytes."""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Query, Request, Response
from fastapi.concurrency import run_in_threadpool
from pydantic import BaseModel

from mobile_app.hub.blobs import LARGEST_PIECE, State
from mobile_app.hub.devices import Device
from mobile_app.hub.hub import Hub
from mobile_app.hub.outbox import paper_came
from mobile_app.hub.replies import reply
from mobile_app.hub.who import phone_of

Sha256 = Annotated[str, Path(max_length=64)]
Offset = Annotated[int, Query(ge=0, le=1 << 40)]


class Opening(BaseModel):
    """How large a blob is as a whole [bytes]."""

    size: int


def blob_routes(hub: Hub) -> APIRouter:
    """The routes over blobs."""
    routes = APIRouter(prefix="/api", tags=["blobs"])
    Asking = Annotated[Device, Depends(phone_of(hub))]

    @routes.post("/blobs/{sha256}", summary="Say how large a photo or paper is, and hear how much is here")
    def opened(sha256: Sha256, body: Opening, phone: Asking) -> Response:
        return _state(hub.blobs.open(phone.business, sha256, body.size))

    @routes.put(
        "/blobs/{sha256}",
        summary="Send the next piece, up to 256 KiB; 409 with `have` when another one is next",
        openapi_extra={"requestBody": {"content": {"application/octet-stream": {}}, "required": True}},
    )
    async def added(sha256: Sha256, request: Request, phone: Asking, offset: Offset = 0) -> Response:
        data = await request.body()
        return await run_in_threadpool(_add, hub, phone.business, sha256, offset, data)

    @routes.get(
        "/blobs/{sha256}",
        summary="Bytes of a whole photo or paper; X-Size says how many there are",
        response_class=Response,
        responses={200: {"content": {"application/octet-stream": {}}}},
    )
    def given(
        sha256: Sha256,
        phone: Asking,
        offset: Offset = 0,
        limit: Annotated[int, Query(ge=1, le=LARGEST_PIECE)] = LARGEST_PIECE,
    ) -> Response:
        size, data = hub.blobs.read(phone.business, sha256, offset, limit)
        headers = {"X-Size": str(size), "Content-Disposition": "attachment"}
        return Response(data, media_type="application/octet-stream", headers=headers)

    return routes


def _add(hub: Hub, business: str, sha256: str, offset: int, data: bytes) -> Response:
    state = hub.blobs.add(business, sha256, offset, data)
    hub.meters.count("swardwright_blob_bytes_total", len(data))
    if state.done:
        with hub.database.tenant(business, write=True) as connection:
            paper_came(connection, business, sha256)
        hub.call_sender()
    return _state(state)


def _state(state: State) -> Response:
    return reply({"have": state.have, "done": state.done})
