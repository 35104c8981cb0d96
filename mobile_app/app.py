"""The App: the one object that screens are handed. It holds the state, the book and the device.

Each change makes a new frozen State and draws again. Screens call the methods here, never book or device.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Coroutine
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from logic.errors import NewerFormat, SwardError
from logic.records.book import Book
from logic.records.types import Client, Pace, Record, Settings, Site, Sward, Visit
from mobile_app.device.shelf import Shelf
from mobile_app.notice import Notice as Notice
from mobile_app.places import PLACES
from mobile_app.protocols import Device, Listening, Sample
from mobile_app.standings import Standings
from mobile_app.sync_runner import Syncing

if TYPE_CHECKING:
    from logic.records.standing import Standing

_LOW = "This phone is nearly full. Your records are safe, but free some space soon."
_PAUSE = 0.4  # seconds after the last keystroke before a draft is written


@dataclass(frozen=True)
class State:
    """All that the screens draw from. `stamp` grows with every change to the book."""

    place: str = "/"
    stamp: int = 0
    query: str = ""
    visit: Visit | None = None
    notice: Notice | None = None
    busy: str = ""
    progress: float = 0.0
    counting: str = ""
    tally: tuple[int, ...] = ()
    form: dict[str, str] = field(default_factory=dict)
    draft: tuple[Record, Record] | None = None  # a record in a form: as it was, as it is
    made: Any = None  # the document last made: (key, visit, stamp, pages)


class App:
    """The state, the book and the device, and what can be done with them."""

    def __init__(self, book: Book, device: Device) -> None:
        self.book = book
        self.device = device
        self.state = State()
        self._draw: Callable[[State], None] | None = None
        self._saving: asyncio.Task[None] | None = None
        self._stood = Standings()
        self._new_pace = Pace()
        self._warned = False
        self._trouble: Notice | None = None
        self._begun: set[asyncio.Task[None]] = set()
        self.shelf = Shelf(device)
        self.office = Syncing(self)
        self.keep_draft: Callable[[], bool] = lambda: True  # set by the form that has a record in hand
        if book.recovery.sentence:
            self.state = State(notice=Notice(book.recovery.sentence, serious=True))

    # --- state ------------------------------------------------------------------------------

    def bind(self, draw: Callable[[State], None]) -> None:
        """Tell the App how to have the screens drawn again."""
        self._draw = draw

    def change(self, **values: Any) -> None:
        """Change the state and draw."""
        self.state = replace(self.state, **values)
        if self._draw:
            self._draw(self.state)

    @property
    def settings(self) -> Settings:
        """The user's settings."""
        return self.book.settings

    @property
    def system(self) -> str:
        """The system of units in use."""
        return self.settings.units

    # --- places -----------------------------------------------------------------------------

    def go(self, place: str) -> None:
        """Go to a place ("/", "/sward/ID", "/visit/ID/measure" …), saving what is in hand first."""
        if self.save_now():
            self.device.set_place(place)
            self.arrive(place)

    def arrive(self, place: str) -> None:
        """Show a place, for `go` and the phone's back button. Readings that can't be saved keep one here."""
        if place == self.state.place and (self.state.visit or not place.startswith("/visit/")):
            return
        if not self.save_now():
            self.device.set_place(self.state.place)
        elif self._is_there(place):
            visit, notice = self._visit_at(place), self.state.notice
            stays = notice.carried() if notice else None
            self.change(place=place, visit=visit, counting="", form={}, draft=None, notice=stays)
        else:
            self.lose_place("That record is no longer in the book.")

    def _is_there(self, place: str) -> bool:
        kind, _, rest = place.strip("/").partition("/")
        record_id, _, more = rest.partition("/")
        return kind not in PLACES or more.startswith("new") or self.book.has(PLACES[kind], record_id)

    def _visit_at(self, place: str) -> Visit | None:
        """The visit that a place shows, which is remembered to be open there."""
        if not place.startswith("/visit/"):
            return None
        visit = self.book.get(Visit, place.split("/")[2])
        if visit.where == place or visit.read_only:
            return visit
        return self._store(replace(visit, where=place), "", quiet=True) or visit

    def lose_place(self, sentence: str) -> None:
        """What was on the screen is gone: back to the list, with a sentence on why."""
        self.device.set_place("/")
        self.change(place="/", visit=None, notice=Notice(sentence))

    def back_where_left(self) -> None:
        """On start: the visit that was open when the app was last left, if it was left open."""
        visit = self._visit_left()
        if visit:
            self.go(visit.where)

    def leave_visit(self) -> None:
        """Close the visit in hand and go to its sward; the next start opens on the list."""
        visit = self.state.visit
        if visit is None:
            return self.go("/")
        if not self.save_now():
            return
        if not visit.read_only:
            self._store(replace(self.state.visit or visit, where=""), "", quiet=True)
        self.state = replace(self.state, visit=None)
        self.go(f"/sward/{visit.sward_id}")

    # --- saving -----------------------------------------------------------------------------

    def _store(self, record: Record, why: str, quiet: bool = False) -> Any:
        """The record as saved; None, and the sentence on the screen, when it could not be."""
        try:
            saved = self.book.save(record, why, quiet)
        except SwardError as error:
            return self._tell(error)
        self._kept()
        return saved

    def say(self, sentence: str) -> None:
        """Say one sentence until it is put away."""
        self.change(notice=Notice(sentence, serious=True))

    def _tell(self, error: SwardError) -> None:
        """Say what went wrong: until it is put away, or the next save succeeds."""
        self._trouble = Notice(error.sentence, serious=True)
        self.change(notice=self._trouble)

    def _kept(self) -> None:
        """After every save: the device remembers that there is a book; that room is short is said once."""
        self.state = replace(self.state, stamp=self.state.stamp + 1)
        if self._trouble and self.state.notice is self._trouble:
            self.state = replace(self.state, notice=None)
        if self.state.stamp == 1:
            self.device.has_book()
        if self.book.running_low and not self._warned:
            self._warned = True
            self.state = replace(self.state, notice=Notice(_LOW, serious=True))

    async def settle(self) -> None:
        """After the first page is drawn: what can wait, so that nobody waits for it."""
        await asyncio.sleep(0.5)
        if self.book.counts().get("swards"):
            self.device.has_book()
        self.book.get_ready()
        self.book.tidy()
        await self.shelf.tidy(self.book.hashes)

    def leave(self) -> None:
        """The page goes away: write what is in hand, give the store back."""
        self.save_now()
        self.book.close()

    def save(self, record: Record, why: str) -> None:
        """Save a record at once and draw."""
        self._store(record, why)
        self.change()

    def edit(self, visit: Visit) -> None:
        """Take a change to the visit in hand: figures follow at once, the book after the last key."""
        if visit.read_only:
            return self._tell(NewerFormat())
        self.change(visit=visit)
        if self._saving:
            self._saving.cancel()
        self._saving = asyncio.get_running_loop().create_task(self._save_soon())

    async def _save_soon(self) -> None:
        await asyncio.sleep(_PAUSE)
        self._saving = None
        self.save_now()

    def save_now(self) -> bool:
        """Write the visit in hand if it differs from the book; False, with a notice, when that fails."""
        if self._saving:
            self._saving.cancel()
            self._saving = None
        visit = self.state.visit
        if not self.keep_draft():
            return False
        if visit is None or visit.read_only:
            return True
        saved = self._store(visit, "readings")
        self.state = replace(self.state, visit=saved or visit)
        return saved is not None

    def save_all(self, records: list[Any], why: str) -> bool:
        """Save several records as one step; False, with a notice, when that fails."""
        try:
            self.book.save_all(records, why)
        except SwardError as error:
            self._tell(error)
            return False
        self._kept()
        self.change()
        return True

    def edit_undoable(self, visit: Visit, why: str) -> None:
        """Take a change to the visit in hand that throws something away: saved at once, with a way back."""
        saved = self._store(visit, why) if self.save_now() else None
        if saved:
            self.change(visit=saved, notice=Notice(f"Done: {why}.", undo=True))

    def delete(self, record: Record) -> None:
        """Put a record into the bin and offer the way back. A visit stays in hand beside goods."""
        self.save_now()
        try:
            self.book.delete(record)
        except SwardError as error:
            return self._tell(error)
        said = f"{record.label} is in the bin."
        visit = None if isinstance(record, Client | Site | Sward | Visit) else self.state.visit
        self.state = replace(self.state, visit=visit, stamp=self.state.stamp + 1)
        self.change(notice=Notice(said[:1].upper() + said[1:], undo=True))

    def undo(self) -> None:
        """Take the last saved change back."""
        if not self.save_now():
            return
        try:
            words = self.book.undo()
        except SwardError as error:
            return self._tell(error)
        self._kept()
        if self._is_there(self.state.place):
            self.change(visit=self._visit_at(self.state.place), notice=Notice(f"Taken back: {words}."))
        else:
            self.lose_place(f"Taken back: {words}.")

    # --- the visit in hand ------------------------------------------------------------------

    def visit_in_hand(self) -> Visit:
        """The visit as it stands now, with all that has been typed."""
        if self.state.visit is None:
            raise LookupError("no visit is open")
        return self.state.visit

    def sward_of(self, visit: Visit) -> Sward:
        """The sward of a visit."""
        return self.book.get(Sward, visit.sward_id)

    def client_of(self, sward: Sward) -> Client | None:
        """The client of a sward, None when it has none."""
        has = sward.client_id and self.book.has(Client, sward.client_id)
        return self.book.get(Client, sward.client_id) if has else None

    def pace_of(self, visit: Visit) -> Pace | None:
        """The pace that a visit is measured with."""
        has = visit.pace_id and self.book.has(Pace, visit.pace_id)
        return self.book.get(Pace, visit.pace_id) if has else None

    def latest_pace(self) -> Pace | None:
        """The pace measured last, offered to new visits."""
        return max((p for p in self.book.all(Pace) if p.counts), key=lambda p: p.measured, default=None)

    def standing(self, visit: Visit) -> Standing:
        """How the visit stands; what a change did not touch is not worked out again."""
        return self._stood.of(visit, self.pace_of(visit), self.settings.confidence)

    def start_visit(self, sward: Sward) -> None:
        """Start a visit to a sward with the pace measured last and the outline of the visit before."""
        pace = self.latest_pace()
        before = self.book.latest_visit(sward.id)
        visit = Visit(
            sward_id=sward.id,
            pace_id=before.pace_id if before and before.outline else pace.id if pace else "",
            outline=before.outline if before else {},
        )
        if self._store(visit, "start a visit"):
            self.go(f"/visit/{visit.id}/measure")

    # --- settings and pace ------------------------------------------------------------------

    def edit_settings(self, settings: Settings) -> None:
        """Take a change to the settings."""
        self.save(settings, "settings")

    def pace_in_hand(self) -> Pace:
        """The pace on the pace screen: the visit's, the latest, or a new one."""
        chosen = self.state.form.get("pace", "")
        if chosen:
            return self.book.get(Pace, chosen) if self.book.has(Pace, chosen) else self._new_pace
        visit = self._visit_left()
        return (visit and self.pace_of(visit)) or self.latest_pace() or self._new_pace

    def edit_pace(self, pace: Pace) -> None:
        """Take a change to the pace on the pace screen."""
        self._new_pace = pace
        self.state = replace(self.state, form={**self.state.form, "pace": pace.id})
        self.save(pace, "pace")

    def use_pace(self, pace: Pace) -> None:
        """Use this pace for the visit that was left for it, and go back there."""
        visit = self._visit_left()
        if visit:
            self._store(replace(visit, pace_id=pace.id), "pace of the visit")
        self.leave_pace()

    def leave_pace(self) -> None:
        """Back to the visit that was left, or to the list."""
        visit = self._visit_left()
        self.go(visit.where if visit else "/")

    def paces(self) -> list[Pace]:
        """Each person's latest pace, the newest first."""
        newest: dict[str, Pace] = {}
        for pace in sorted(self.book.all(Pace), key=lambda p: p.measured):
            if pace.counts:
                newest[pace.person.strip().casefold()] = pace
        return sorted(newest.values(), key=lambda p: p.measured, reverse=True)

    def show_pace(self, pace: Pace) -> None:
        """Take a pace in hand on the pace screen: one of the book's, or a new one."""
        self._new_pace = pace
        self.change(form={**self.state.form, "pace": pace.id}, counting="")

    def _visit_left(self) -> Visit | None:
        latest = self.book.last_changed(Visit)
        return latest if latest and latest.where else None

    # --- while pacing -----------------------------------------------------------------------

    def tick(self) -> None:
        """Let the hand feel that a tap was taken."""
        self.device.tick()

    def listen_to_motion(
        self, on_samples: Callable[[list[Sample]], None], on_state: Callable[[str], None]
    ) -> Listening:
        """Listen to the phone's motion sensor until told to stop."""
        return self.device.listen_to_motion(on_samples, on_state)

    # --- long work --------------------------------------------------------------------------

    def begin(self, work: Coroutine[Any, Any, None]) -> None:
        """Start something that takes its time, from a handler that doesn't."""
        task = asyncio.get_running_loop().create_task(work)
        self._begun.add(task)
        task.add_done_callback(self._begun.discard)

    async def with_progress(
        self, what: str, work: Callable[[Callable[[float], None]], Awaitable[None]]
    ) -> None:
        """Do long work with its progress on the screen; an error becomes a sentence."""
        self.change(busy=what, progress=0.0)
        await asyncio.sleep(0)
        try:
            await work(lambda share: self.change(progress=share))
        except SwardError as error:
            self._tell(error)
        finally:
            self.change(busy="")
