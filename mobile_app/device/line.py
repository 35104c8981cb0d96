"""The line to the office: requests through the browser's own fetch, or through the standard library."""

from __future__ import annotations

import asyncio
from urllib.error import HTTPError, URLError
from urllib.parse import urlencode

from logic.sync.calls import Request, Response, Transport, Unreachable
from mobile_app.device.where import in_browser

_PATIENCE = 30  # s for an answer


def office_address() -> str:
    """Where the office is: the hub that the app was built for, or its own origin; "" out of a browser."""
    if not in_browser():
        return ""
    import js

    from mobile_app.device.window import window_fact

    return str(window_fact("hub", "") or js.location.origin)


def open_line(address: str) -> Transport:
    """A transport to the office at an origin such as "https://office.example.com"."""
    carry = _fetch if in_browser() else _ask

    async def transport(request: Request) -> Response:
        query = f"?{urlencode(request.query)}" if request.query else ""
        return await carry(f"{address}/api{request.path}{query}", request)

    return transport


async def _fetch(url: str, request: Request) -> Response:
    import js
    from pyodide.ffi import JsException, to_js
    from pyodide.http import pyfetch

    body = {} if request.body is None else {"body": to_js(request.body)}
    signal = js.AbortSignal.timeout(_PATIENCE * 1000)
    try:
        answer = await pyfetch(
            url,
            method=request.method,
            headers=dict(request.headers),
            cache="no-store",
            credentials="omit",
            redirect="error",
            signal=signal,
            **body,
        )
        data = await answer.bytes()
    except (OSError, JsException) as error:
        raise Unreachable from error
    return Response(answer.status, data, {name.lower(): value for name, value in answer.headers.items()})


async def _ask(url: str, request: Request) -> Response:
    return await asyncio.to_thread(_ask_now, url, request)


def _ask_now(url: str, request: Request) -> Response:
    from urllib.request import Request as Asked
    from urllib.request import urlopen

    if not url.startswith(("https://", "http://")):
        raise Unreachable("The office's address begins with https://.")
    asked = Asked(url, data=request.body, headers=dict(request.headers), method=request.method)
    try:
        with urlopen(asked, timeout=_PATIENCE) as answer:
            headers = {name.lower(): value for name, value in answer.headers.items()}
            return Response(answer.status, answer.read(), headers)
    except HTTPError as error:
        headers = {name.lower(): value for name, value in error.headers.items()}
        return Response(error.code, error.read(), headers)
    except (URLError, OSError, ValueError) as error:
        raise Unreachable from error
