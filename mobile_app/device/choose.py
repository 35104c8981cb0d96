"""Files that the person chooses in the browser; the window asks for them, the worker reads them."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any

import js
from pyodide.ffi import create_proxy

from mobile_app.device.window import tell_window

_answered: Callable[[Any], None] | None = None  # takes the answer of the asking that is open


async def choose(accept: str, words: str, camera: bool = False, many: bool = False) -> list[Any]:
    """The browser's own File objects; none when the person thinks better of it.

    accept: as an HTML input has it; words: of the button that asks again when the tap has gone stale.
    """
    global _answered
    waiting: asyncio.Future[Any] = asyncio.get_running_loop().create_future()

    def arrived(message: Any) -> None:
        if not waiting.done():
            waiting.set_result(message.files if message else js.Array.new())

    if _answered is not None:  # a browser that doesn't tell when the person went back: that asking is over
        _answered(None)
    _answered = arrived
    heard = create_proxy(arrived)
    js.self.swardwrightFiles = heard
    tell_window("pick-files", accept=accept, words=words, camera=camera, many=many)
    files = await waiting
    if _answered is arrived:
        js.self.swardwrightFiles = _answered = None
    heard.destroy()
    return [files[n] for n in range(int(files.length))]


async def read(file: Any) -> bytes:
    """All bytes of a File."""
    data: bytes = (await file.arrayBuffer()).to_bytes()
    return data
