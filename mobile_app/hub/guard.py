"""What every request passes through: limits, safety headers, one log line, the counters."""

import json
import time
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

from starlette.exceptions import HTTPException

from mobile_app.hub.meters import Meters, note

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Asgi = Callable[[Scope, Receive, Send], Awaitable[None]]

#: Bytes of a body: a push of one large change, and some room.
LARGEST_BODY = 2_200_000
_SENTENCE = "This is more than the office takes at once."
_TOO_LARGE = json.dumps({"wire": 1, "error": {"code": "too-large", "sentence": _SENTENCE}}).encode()
_SAFETY = (
    (b"content-security-policy", b"default-src 'none'; frame-ancestors 'none'"),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cache-control", b"no-store"),
)
_HSTS = (b"strict-transport-security", b"max-age=31536000")


class TooLarge(HTTPException):
    """The body grew beyond the limit while it was read; the framework lets this kind of error through."""

    def __init__(self) -> None:
        super().__init__(413, _SENTENCE)


class Guard:
    """Wraps the whole hub."""

    def __init__(self, app: Asgi, meters: Meters) -> None:
        self._app = app
        self._meters = meters

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers one request, or passes on what is none."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        begun = time.perf_counter()
        status = 500
        taken = 0

        async def limited() -> Message:
            nonlocal taken
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > LARGEST_BODY:
                raise TooLarge
            return message

        async def safe(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                message["headers"] = _with_safety(message.get("headers", []), scope)
            await send(message)

        try:
            if _said_length(scope) > LARGEST_BODY:
                raise TooLarge
            await self._app(scope, limited, safe)
        except TooLarge:
            await _refuse(safe)
        finally:
            self._note(scope, status, time.perf_counter() - begun)

    def _note(self, scope: Scope, status: int, seconds: float) -> None:
        # The route's pattern, not the path: paths hold ids. What has no route is the app's own files.
        route = getattr(scope.get("route"), "path", "site" if scope["method"] in ("GET", "HEAD") else "none")
        self._meters.count("swardwright_requests_total", route=route, status=str(status))
        self._meters.count("swardwright_request_seconds_total", seconds, route=route)
        if route != "site":
            facts = {"method": scope["method"], "route": route, "status": status}
            business = scope.get("state", {}).get("business", "")
            note("request", **facts, ms=round(1000 * seconds, 1), business=business)


def _said_length(scope: Scope) -> int:
    for name, value in scope["headers"]:
        if name == b"content-length" and value.isdigit():
            return int(value[:18])
    return 0


def _with_safety(headers: Any, scope: Scope) -> list[tuple[bytes, bytes]]:
    given = list(headers)
    names = {name.lower() for name, _ in given}
    wanted = (*_SAFETY, _HSTS) if scope.get("scheme") == "https" else _SAFETY
    return given + [(name, value) for name, value in wanted if name not in names]


async def _refuse(send: Send) -> None:
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(_TOO_LARGE)).encode())]
    # The rest of the body is not read, so the connection cannot be used again.
    headers.append((b"connection", b"close"))
    await send({"type": "http.response.start", "status": 413, "headers": headers})
    await send({"type": "http.response.body", "body": _TOO_LARGE})
