"""The browser window behind Python's worker: small messages to it, beside Flet's own."""

from typing import Any

import js
from pyodide.ffi import to_js


def tell_window(kind: str, data: bytes | None = None, **more: str | bool) -> None:
    """Posts `{swardwright: kind, …}` to the page; `data` arrives as its field `bytes`, moved, not copied."""
    message: dict[str, Any] = {"swardwright": kind, **more}
    moved: list[Any] = []
    if data is not None:
        message["bytes"] = to_js(data)
        moved.append(message["bytes"].buffer)
    js.postMessage(to_js(message, dict_converter=js.Object.fromEntries), to_js(moved))


def window_fact(name: str, default: Any = None) -> Any:
    """What the page told the worker.

    name: persisted, standalone, demo, known, updateReady (bool), build, hub (str).
    `default` is for one not told.
    """
    value = getattr(js.swardwright, name, default)
    return default if value is None else value
