"""The app's end of sync: opens the line, keeps the engine going, and tells the screens how things stand.

Screens know only what is here. The engine decides when and what; this module gives it the clock, the network
and the chance, writes what is in hand before anything comes in, and shows what came.
"""

from __future__ import annotations

import asyncio
import secrets
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from logic.errors import SwardError
from logic.records.types import Visit
from logic.sync import conflicts as deciding
from logic.sync.blobs import Carrier
from logic.sync.calls import Office, Transport
from logic.sync.conflicts import Conflict
from logic.sync.engine import Engine, Line, Trigger
from logic.sync.ledger import Ledger, Waiting
from logic.sync.shown import Choice
from mobile_app.device.line import office_address, open_line

if TYPE_CHECKING:
    from mobile_app.app import App

_DELETED = "This visit was deleted on another phone. It is in the bin."


@dataclass(frozen=True)
class Standing:
    """How this phone stands with the office, for the screens."""

    paired: bool
    office: str = ""
    unsent: int = 0
    refused: int = 0
    conflicts: int = 0
    photos: int = 0
    #: when the oldest change that waits was made
    since: datetime | None = None
    line: Line = field(default_factory=Line)


class Syncing:
    """Sync as the screens see it. Made with the App, so that nothing is saved without being noted."""

    def __init__(self, app: App) -> None:
        self._app = app
        self.ledger = Ledger(app.book)
        self.ledger.noted = lambda: self.happened("saved")
        self.address = str(self.ledger.info.get("url", "")) or office_address()
        self.devices: Sequence[Mapping[str, Any]] = ()
        self.code: Mapping[str, Any] = {}
        self._engine: Engine | None = None
        self._transport: Transport | None = None
        self._wake: asyncio.Event | None = None
        self._stood: tuple[Any, Standing] | None = None

    # -- keeping it going

    async def keep_going(self) -> None:
        """Sync whenever there is reason to, as long as the app runs."""
        self._wake = asyncio.Event()
        self.happened("start")
        while True:
            wait = self._engine.wait() if self._engine else None
            try:
                await asyncio.wait_for(self._wake.wait(), wait)
            except TimeoutError:
                await self._run()
            self._wake.clear()

    def happened(self, what: Trigger) -> None:
        """Something happened after which it may be time to sync."""
        if self.ledger.paired:
            self._engine = self._engine or self._made_engine()
            self._engine.trigger(what)
        if self._wake:
            self._wake.set()

    def noticed(self, what: str) -> None:
        """The window noticed something: signal again, or that the app is looked at again."""
        reasons: dict[str, Trigger] = {"online": "online", "visible": "visible"}
        if what in reasons:
            self.happened(reasons[what])

    def sync_now(self) -> None:
        """Sync at once, by hand; what was refused is tried again."""
        self.happened("hand")

    async def _run(self) -> None:
        if self._engine is None:
            return
        work = asyncio.ensure_future(self._engine.run())
        await asyncio.sleep(0)
        self._draw()
        await work
        self._draw()

    def _made_engine(self) -> Engine:
        info = self.ledger.info
        return Engine(
            self.ledger,
            self._office(str(info.get("token", ""))),
            clock=lambda: datetime.now(UTC),
            chance=lambda: secrets.randbelow(1 << 20) / (1 << 20),
            pause=lambda: asyncio.sleep(0),
            settle=self._app.save_now,
            taken=self._taken,
            carrier=Carrier(self._app.book, self._app.device.photos, lambda: asyncio.sleep(0)),
        )

    def _office(self, token: str = "") -> Office:
        return Office(self._transport or open_line(self.address), token)

    def _taken(self) -> None:
        """Records came in: what is on the screen follows the book at once."""
        app = self._app
        visit = app.state.visit
        if visit is None:
            app.change(stamp=app.state.stamp + 1)
        elif app.book.has(Visit, visit.id):
            app.change(stamp=app.state.stamp + 1, visit=app.book.get(Visit, visit.id))
        else:
            app.lose_place(_DELETED)

    def _draw(self) -> None:
        self._app.change(stamp=self._app.state.stamp + 1)

    # -- how it stands

    @property
    def standing(self) -> Standing:
        """How this phone stands with the office now."""
        line = self._engine.line if self._engine else Line()
        key = (self._app.state.stamp, line, self.ledger.paired)
        if self._stood is None or self._stood[0] != key:  # it takes a look at every record
            self._stood = (key, self._stand(line))
        return self._stood[1]

    def _stand(self, line: Line) -> Standing:
        if not self.ledger.paired:
            return Standing(False)
        refused = len(self.ledger.waiting())
        left = len(self._app.book.hashes() - set(self._app.book.table("carried")))
        unsent = self._app.book.table("unsent")
        oldest = min((str(doc["change"]["at"]) for doc in unsent.values()), default="")
        return Standing(
            True,
            str(self.ledger.info.get("name", "")),
            len(unsent) - refused,
            refused,
            deciding.count(self._app.book, self.ledger),
            left,
            datetime.fromisoformat(oldest) if oldest else None,
            line,
        )

    def refused(self) -> list[Waiting]:
        """Changes that the office refused, with its reasons."""
        return self.ledger.waiting()

    def conflicts(self) -> list[Conflict]:
        """What stands side by side."""
        return deciding.conflicts(self._app.book, self.ledger)

    def decide(self, conflict: Conflict, choice: Choice) -> None:
        """Let one of them stand."""
        if not self._app.save_now():
            return
        try:
            deciding.decide(self._app.book, self.ledger, conflict, choice)
        except SwardError as error:
            self._app.say(error.sentence)
        self._taken()

    def name_of(self, device: str) -> str:
        """What a phone is called."""
        names = self.ledger.info.get("names") or {}
        if device and device == self.ledger.device:
            return "this phone"
        return "the office" if device == "hub" else str(names.get(device) or "another phone")

    # -- pairing and the list of phones

    async def pair(self, code: str, name: str, address: str = "") -> None:
        """Join the office that this code is for."""
        if not self._app.save_now():
            return
        self.address = (address.strip().rstrip("/") or self.address or office_address()).rstrip("/")
        await self._ask(self._pair(code, name))

    async def _pair(self, code: str, name: str) -> None:
        said = await self._office().pair(code.strip(), name.strip())
        self.ledger.pair({**{key: said.get(key, "") for key in _GIVEN}, "url": self.address})
        self._engine = None
        self.happened("hand")
        await self._look()
        self._app.go("/office")

    async def unpair(self) -> None:
        """Leave the office. Every record stays on this phone."""
        with suppress(SwardError):  # no signal, or taken off already: it is left here all the same
            await self._mine().revoke(self.ledger.device)
        self.ledger.unpair()
        self._engine, self.devices, self.code = None, (), {}
        self._draw()

    async def look(self) -> None:
        """Ask who else belongs to the office."""
        await self._ask(self._look())

    async def invite(self) -> None:
        """Have a code for another phone."""
        await self._ask(self._invite())

    async def rename(self, device: str, name: str) -> None:
        """Call a phone by another name."""
        await self._ask(self._then_look(self._mine().rename(device, name)))

    async def revoke(self, device: str) -> None:
        """Let a phone in no more."""
        await self._ask(self._then_look(self._mine().revoke(device)))

    def _mine(self) -> Office:
        return self._office(str(self.ledger.info.get("token", "")))

    async def _then_look(self, work: Any) -> None:
        await work
        await self._look()

    async def _look(self) -> None:
        self.devices = await self._mine().devices()
        names = {str(one.get("device")): str(one.get("name", "")) for one in self.devices}
        if names != self.ledger.info.get("names"):
            self.ledger.note(names=names)

    async def _invite(self) -> None:
        self.code = await self._mine().new_code()

    async def _ask(self, work: Any) -> None:
        """Do what asks the office; what goes wrong becomes a sentence."""
        try:
            await work
        except SwardError as error:
            self._app.say(error.sentence)
        self._draw()


_GIVEN = ("token", "device", "business", "name", "epoch", "admin")
