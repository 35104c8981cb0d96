"""The app drawn for a client that only takes note: what is on the screen, without a browser."""

from __future__ import annotations

import asyncio
import dataclasses
from collections.abc import Callable, Iterator
from typing import Any

import flet as ft
import msgpack
from flet.controls.base_control import BaseControl
from flet.controls.context import _context_page
from flet.messaging.connection import Connection
from flet.messaging.protocol import (
    Message,
    MessageAction,
    RegisterClientResponseBody,
    configure_encode_object_for_msgpack,
)
from flet.messaging.session import Session
from flet.pubsub.pubsub_hub import PubSubHub

from mobile_app.app import App
from mobile_app.screens.root import Root, dress

_SKIPPED = ("_i", "_parent", "_internals", "ref", "data")


class Noted(Connection):
    """A connection that packs every message as the browser's does. `sent`: bytes of each."""

    def __init__(self) -> None:
        super().__init__()
        self.pubsubhub = PubSubHub()
        self.loop = asyncio.get_running_loop()
        self.page_url = "http://app.example.com/"
        self.sent: list[int] = []

    def send_message(self, message: Message) -> None:
        encode = configure_encode_object_for_msgpack(BaseControl)
        self.sent.append(len(msgpack.packb([message.action, message.body], default=encode)))


class Glass:
    """A page with the app on it."""

    def __init__(self, app: App) -> None:
        self.app = app
        self.connection = Noted()
        self.session = Session(self.connection)
        self.session.apply_page_patch({"platform": "android", "route": "/", "width": 390.0, "height": 844.0})
        page = RegisterClientResponseBody(session_id="", page_patch=self.session.get_page_patch(), error="")
        self.connection.send_message(Message(MessageAction.REGISTER_CLIENT, page))
        _context_page.set(self.session.page)
        self.session.start_updates_scheduler()
        dress(self.session.page, app)
        self.session.page.render(Root, app)

    async def settled(self) -> None:
        """Lets everything that is to be drawn be drawn."""
        for _ in range(10):
            await asyncio.sleep(0)

    def all(self) -> Iterator[BaseControl]:
        """Every control on the page, from the top down."""
        return _within(self.session.page.views)

    def find(self, wanted: Callable[[Any], bool]) -> Any:
        """The first control that is wanted."""
        return next(control for control in self.all() if wanted(control))

    def button(self, name: str) -> Any:
        """The button with this name."""
        return self.find(
            lambda c: (
                (getattr(c, "label", None) == name and getattr(c, "on_tap", None))
                or (isinstance(c, ft.Button | ft.OutlinedButton | ft.TextButton) and c.content == name)
            )
        )

    async def tap(self, name: str) -> None:
        """Tap a button."""
        button = self.button(name)
        await self.session.dispatch_event(button._i, "tap" if hasattr(button, "on_tap") else "click", None)
        await self.settled()

    async def type(self, box: ft.TextField, text: str) -> None:
        """Type into a text field, key by key."""
        for end in range(1, len(text) + 1):
            self.session.apply_patch(box._i, {"value": text[:end]})
            await self.session.dispatch_event(box._i, "change", text[:end])
            await self.settled()

    def shows(self) -> Any:
        """All that the client has been told: the tree of controls with what each shows."""
        return _told(self.session.page.views)

    async def drawn_anew(self) -> Any:
        """What another page would show that has never shown anything else."""
        draw = self.app._draw
        assert draw is not None
        fresh = Glass(self.app)
        await fresh.settled()
        shown = fresh.shows()
        fresh.close()
        _context_page.set(self.session.page)
        self.app.bind(draw)
        return shown

    def lost(self) -> list[BaseControl]:
        """Controls that an event would not reach, or that have lost their page."""
        return [c for c in self.all() if self.session.index.get(c._i) is not c or not _has_page(c)]

    def close(self) -> None:
        """Stops drawing."""
        self.session.close()


def _has_page(control: BaseControl) -> bool:
    try:
        return bool(control.page)
    except RuntimeError:
        return False


def _within(value: Any) -> Iterator[BaseControl]:
    if isinstance(value, list):
        for one in value:
            yield from _within(one)
    elif isinstance(value, BaseControl):
        yield value
        for name in _fields(value):
            yield from _within(getattr(value, name))


def _fields(value: Any) -> list[str]:
    return [
        f.name for f in dataclasses.fields(value) if not f.metadata.get("skip") and f.name not in _SKIPPED
    ]


def _told(value: Any) -> Any:
    if isinstance(value, list | tuple):
        return [_told(one) for one in value]
    if dataclasses.is_dataclass(value):
        return {name: told for name in _fields(value) if (told := _told(getattr(value, name))) is not None}
    return True if callable(value) else value
