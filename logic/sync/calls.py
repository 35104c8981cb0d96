"""What a phone asks of the office, one method for each call, over any transport that carries bytes."""

import json
from collections.abc import Awaitable, Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from logic.errors import SwardError
from logic.sync.text import text_of
from logic.sync.wire import CHUNK, PAGE, WIRE, BrokenMessage, Json, Page, Push, Pushed, Snapshot


@dataclass(frozen=True)
class Request:
    """One HTTP request; `path` below the office's address."""

    method: str
    path: str
    query: Mapping[str, str] = field(default_factory=dict)
    headers: Mapping[str, str] = field(default_factory=dict)
    body: bytes | None = None


@dataclass(frozen=True)
class Response:
    """What came back; names of headers in small letters."""

    status: int
    body: bytes = b""
    headers: Mapping[str, str] = field(default_factory=dict)


#: Carries a request; raises Unreachable when no whole answer came back.
Transport = Callable[[Request], Awaitable[Response]]


class Unreachable(SwardError):
    """No answer. What was asked for may have been done all the same."""

    default = "The office can't be reached just now. Everything is saved on this phone."


class Denied(SwardError):
    """The office said no. code: its word for why; wait: seconds that it asked to be left alone."""

    default = "The office refused."

    def __init__(self, status: int, code: str, sentence: str, wait: float = 0.0) -> None:
        super().__init__(sentence)
        self.status, self.code, self.wait = status, code, wait

    @property
    def is_passing(self) -> bool:
        """True when trying again later may help."""
        return self.status in (408, 425, 429) or self.status >= 500


class Office:
    """The office at the other end of a transport."""

    def __init__(self, transport: Transport, token: str = "", app: str = "") -> None:
        self._transport = transport
        self._token = token
        self._app = app

    async def pair(self, code: str, name: str) -> Json:
        """Give in a pairing code: {"token", "device", "business", "name", "epoch", "now"}."""
        return await self._json("POST", "/pair", {"code": code, "name": name})

    async def devices(self) -> Sequence[Json]:
        """All devices of the business."""
        said = await self._json("GET", "/devices")
        found = said.get("devices")
        if not isinstance(found, list):
            raise BrokenMessage
        return [device for device in found if isinstance(device, Mapping)]

    async def new_code(self) -> Json:
        """A code for one more device: {"code", "expires"}."""
        return await self._json("POST", "/devices/code", {})

    async def rename(self, device: str, name: str) -> None:
        """Call a device by another name."""
        await self._json("POST", f"/devices/{device}", {"name": name})

    async def revoke(self, device: str) -> None:
        """Let a device in no more."""
        await self._json("DELETE", f"/devices/{device}")

    async def push(self, push: Push, now: str) -> Pushed:
        """Send changes."""
        message = push.to_json(now)
        return Pushed.from_json(await self._json("POST", "/sync/push", message))

    async def pull(self, cursor: str, limit: int = PAGE) -> Page:
        """The others' changes after a cursor."""
        query = {"cursor": cursor, "limit": str(limit)}
        return Page.from_json(await self._json("GET", "/sync/pull", query=query))

    async def snapshot(self, cursor: str, after: str, buckets: Sequence[int] = ()) -> Snapshot:
        """Whole records after a key."""
        query = {"cursor": cursor, "after": after, "limit": str(PAGE)}
        if buckets:
            query["buckets"] = ",".join(map(str, buckets))
        return Snapshot.from_json(await self._json("GET", "/sync/snapshot", query=query))

    async def begin_blob(self, sha256: str, size: int) -> Json:
        """Announce a photo or paper: {"have", "done"}."""
        return await self._json("POST", f"/blobs/{sha256}", {"size": size})

    async def put_blob(self, sha256: str, offset: int, data: bytes) -> Json:
        """Send a piece: {"have", "done"}."""
        return await self._json("PUT", f"/blobs/{sha256}", query={"offset": str(offset)}, raw=data)

    async def get_blob(self, sha256: str, offset: int) -> tuple[bytes, int]:
        """A piece, and the size of the whole."""
        query = {"offset": str(offset), "limit": str(CHUNK)}
        answer = await self._send("GET", f"/blobs/{sha256}", query, None, "")
        size = answer.headers.get("x-size", "")
        if not (size.isascii() and size.isdigit()):
            raise BrokenMessage
        return answer.body, int(size)

    async def _json(
        self,
        method: str,
        path: str,
        message: Json | None = None,
        query: Mapping[str, str] | None = None,
        raw: bytes | None = None,
    ) -> Json:
        kind = "application/octet-stream" if raw is not None else "application/json"
        body = raw if message is None else text_of({"wire": WIRE, "app": self._app, **message}).encode()
        answer = await self._send(method, path, query or {}, body, kind if body is not None else "")
        return _parsed(answer.body)

    async def _send(
        self, method: str, path: str, query: Mapping[str, str], body: bytes | None, kind: str
    ) -> Response:
        headers = {"Content-Type": kind} if kind else {}
        if self._token:
            headers["Authorization"] = f"Bearer {self._token}"
        answer = await self._transport(Request(method, path, {"wire": str(WIRE), **query}, headers, body))
        if not 200 <= answer.status < 300:
            raise _denied(answer)
        return answer


def _parsed(body: bytes) -> Json:
    try:
        said = json.loads(body)
    except (ValueError, RecursionError) as error:
        raise BrokenMessage("The office's answer could not be read.") from error
    if not isinstance(said, Mapping):
        raise BrokenMessage("The office's answer could not be read.")
    return said


def _denied(answer: Response) -> Denied:
    try:
        error: Any = _parsed(answer.body).get("error")
    except BrokenMessage:
        error = None
    said = error if isinstance(error, Mapping) else {}
    wait = answer.headers.get("retry-after", "")
    seconds = float(wait) if wait.isascii() and wait.isdigit() else 0.0
    sentence = str(said.get("sentence") or f"The office answered with an error ({answer.status}).")
    return Denied(answer.status, str(said.get("code", "")), sentence, seconds)
