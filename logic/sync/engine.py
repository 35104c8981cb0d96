"""The phone's end of the line: when to speak to the office, what to say, and what to do when it goes wrong.

No clock, network or chance of its own: all are handed in, so every fault can be played in a test. A run that
is cut off anywhere leaves the book whole; the next run goes on from what both sides have kept.
"""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from typing import Literal

from logic.errors import SwardError
from logic.sync.blobs import Carrier
from logic.sync.calls import Denied, Office, Unreachable
from logic.sync.ledger import Ledger
from logic.sync.wire import CHANGES, BrokenMessage, Change, Json, Page, Push, Result, fitting

Trigger = Literal["start", "online", "visible", "saved", "hand", "timer"]

FIRST_WAIT = 2.0  # s after the first failure; doubled after each further one
LONGEST_WAIT = 300.0
EVERY = 60.0  # s between looks for the others' changes
SAVED_WAIT = 1.5  # s after a save, so that a few go together
SKEW = 120.0  # s that phone and office may differ before it is worth a word

_LOOP = "The office's records keep beginning anew. Everything is saved on this phone; try again later."
_ROUNDS = 4  # times that what was saved during a run is sent within it


@dataclass(frozen=True)
class Line:
    """How the line to the office stands: what the screens show of it."""

    busy: bool = False
    #: when everything was last exchanged, None before the first time
    met: datetime | None = None
    trouble: str = ""
    #: "revoked", "version" or another word of the office's when it will have no more of this phone
    code: str = ""
    skew: float = 0.0
    #: records put right by the checksum in the last run
    mended: int = 0
    failures: int = 0


class Engine:
    """One phone's sync. `trigger` says that something happened, `wait` how long until `run` is due."""

    def __init__(
        self,
        ledger: Ledger,
        office: Office,
        clock: Callable[[], datetime],
        chance: Callable[[], float],
        pause: Callable[[], Awaitable[None]],
        settle: Callable[[], bool] = lambda: True,
        taken: Callable[[], None] = lambda: None,
        carrier: Carrier | None = None,
    ) -> None:
        """clock: the time, aware; chance: a number in [0, 1); pause: lets others work; settle: writes what
        the user has in hand to the book before anything from elsewhere goes in, False when it cannot;
        taken: called at once when something went in."""
        self.line = Line()
        self._ledger, self._office, self._carrier = ledger, office, carrier
        self._clock, self._chance, self._pause = clock, chance, pause
        self._settle, self._taken = settle, taken
        self._next: float | None = None
        self._not_before = 0.0

    # -- when

    def trigger(self, what: Trigger) -> None:
        """Something happened after which it is worth speaking to the office."""
        now = self._seconds()
        if self.line.code and what != "hand":
            return
        if what == "hand":
            self._ledger.try_again()
        if what in ("hand", "start", "online", "visible"):
            self._next = max(now, self._not_before)
        elif self._next is None or not self.line.failures:
            at = max(now + SAVED_WAIT if what == "saved" else now, self._not_before)
            self._next = at if self._next is None else min(at, self._next)

    def wait(self) -> float | None:
        """Seconds until `run` is to be called, None: not before a trigger."""
        return None if self._next is None else max(0.0, self._next - self._seconds())

    # -- what

    async def run(self) -> bool:
        """Exchange everything with the office once; True when that was done to the end. Never raises."""
        if self.line.busy or not self._ledger.paired:
            return False
        self._next = None
        self.line = replace(self.line, busy=True)
        try:
            mended = await self._exchange()
            if self._carrier:
                await self._carrier.carry(self._office)
        except SwardError as error:
            self._failed(error)
            return False
        finally:
            self.line = replace(self.line, busy=False)
        self.line = replace(self.line, met=self._clock(), trouble="", code="", mended=mended, failures=0)
        if self._next is None:
            self._next = self._seconds() + EVERY * (0.8 + 0.4 * self._chance())
        return True

    async def _exchange(self) -> int:
        while self._ledger.enlist():
            await self._pause()
        if self._ledger.info.get("joining"):
            await self._join()
        await self._push()
        page = await self._pull()
        mended = 0
        differing = self._ledger.differing(page.sums) if page.sums else []
        if differing:
            theirs = await self._records_in(differing)
            mended = self._ledger.mend(differing, theirs)
            self._taken()
        for _ in range(_ROUNDS):
            if not self._ledger.unsent():
                break
            await self._push()
        return mended

    async def _push(self) -> None:
        changes = self._ledger.unsent()
        while changes:
            part = fitting(changes, Change.size, CHANGES)
            changes = changes[len(part) :]
            self._ledger.answered(await self._push_part(part))
            await self._pause()

    async def _push_part(self, part: list[Change]) -> list[Result]:
        try:
            sent = self._clock()
            pushed = await self._office.push(Push(tuple(part)), sent.isoformat())
        except Denied as error:
            if error.is_passing or error.status in (401, 403, 426):
                raise
            if len(part) > 1:  # one of them spoils it: each by itself
                return [result for change in part for result in await self._push_part([change])]
            return [Result(part[0].number, False, code=error.code or "denied", reason=error.sentence)]
        self._compare_clocks(sent, pushed.now)
        answered = {result.number for result in pushed.results}
        if not answered >= {change.number for change in part}:
            raise BrokenMessage("The office did not answer for every change.")
        return list(pushed.results)

    async def _pull(self) -> Page:
        """The others' changes to the last page. A reset answer begins anew, once in a run."""
        resets = 0
        while True:
            sent = self._clock()
            page = await self._office.pull(str(self._ledger.info.get("cursor", "")))
            self._compare_clocks(sent, page.now)
            if page.reset:
                resets += 1
                if resets > 1:
                    raise BrokenMessage(_LOOP)
                self._ledger.begin_again()
                await self._join()
                continue
            if page.more and page.cursor == self._ledger.info.get("cursor"):
                raise BrokenMessage(_LOOP)
            self._take(bool(page.changes), partial(self._ledger.take_page, page))
            if not page.more:
                return page
            await self._pause()

    async def _join(self) -> None:
        """The office's whole state, from where it was cut off."""
        resets = 0
        while joining := self._ledger.info.get("joining"):
            part = await self._office.snapshot(str(joining["cursor"]), str(joining["after"]))
            if part.reset:
                resets += 1
                if resets > 1:
                    raise BrokenMessage(_LOOP)
                self._ledger.begin_again()
                continue
            if part.more and part.after <= str(joining["after"]):
                raise BrokenMessage(_LOOP)
            self._take(bool(part.records), partial(self._ledger.take_snapshot, part))
            await self._pause()

    async def _records_in(self, buckets: list[int]) -> list[Json]:
        records: list[Json] = []
        cursor = after = ""
        while True:
            part = await self._office.snapshot(cursor, after, buckets)
            if part.reset or (part.more and part.after <= after):
                raise BrokenMessage(_LOOP)
            records += part.records
            if not part.more:
                self._before_taking()
                return records
            cursor, after = part.cursor, part.after

    def _take(self, anything: bool, take: Callable[[], None]) -> None:
        """Take something in between two keystrokes: what is in hand is saved before, and shown after."""
        if anything:
            self._before_taking()
        take()
        if anything:
            self._taken()

    def _before_taking(self) -> None:
        if not self._settle():
            raise SwardError("What is on the screen could not be saved, so nothing was taken in.")

    # -- when it goes wrong

    def _failed(self, error: SwardError) -> None:
        code, wait = "", 0.0
        if isinstance(error, Denied):
            wait = error.wait
            code = error.code or "denied" if error.status in (401, 426) else ""
        failures = self.line.failures + 1
        self.line = replace(self.line, trouble=error.sentence, code=code, failures=failures)
        if code:
            return  # waiting would not help: by hand, or after a start with another version
        backoff = min(LONGEST_WAIT, FIRST_WAIT * 2 ** min(failures - 1, 20))
        now = self._seconds()
        if wait:
            self._not_before = now + wait
        self._next = now + max(wait, backoff * (0.5 + 0.5 * self._chance()))

    def _compare_clocks(self, sent: datetime, theirs: str) -> None:
        """Note how far the phone's clock is from the office's; nothing is ever decided by either."""
        try:
            said = datetime.fromisoformat(theirs)
            middle = sent + (self._clock() - sent) / 2
            skew = (middle - said).total_seconds()
        except (ValueError, TypeError):
            return
        self.line = replace(self.line, skew=skew if abs(skew) > SKEW else 0.0)

    def _seconds(self) -> float:
        return self._clock().timestamp()


__all__ = ["EVERY", "FIRST_WAIT", "LONGEST_WAIT", "Engine", "Line", "Trigger", "Unreachable"]
