"""What the user does with records: fills them in, shares and brings in contacts, merges, forgets, exports."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from logic.errors import SwardError
from logic.records import client_copy, merge, vcard
from logic.records.types import (
    Client,
    Photo,
    Product,
    Record,
    RecordT,
    Site,
    Supplier,
    Sward,
    Visit,
    new_id,
    utc_now,
)
from mobile_app import photos
from mobile_app.app import App, Notice
from mobile_app.jobs import file_name

_LONG_AGO = timedelta(days=365)


# --- a record in a form ---------------------------------------------------------------------


def in_form(app: App, kind: type[RecordT], record_id: str, **new: Any) -> RecordT:
    """The record that a form shows: as typed so far, else the book's, else a new one with these values."""
    app.keep_draft = lambda: keep(app)
    draft = app.state.draft
    if draft and draft[1].id == record_id and isinstance(draft[1], kind):
        return draft[1]
    if app.book.has(kind, record_id):
        return app.book.get(kind, record_id)
    return kind(id=record_id, **new)


def put(app: App, shown: Record, **values: Any) -> None:
    """Take what was typed into the form that shows `shown`; it is saved when the form is left."""
    draft = app.state.draft
    before, now = draft if draft and draft[1].id == shown.id else (shown, shown)
    app.change(draft=(before, replace(now, **values)))


def keep(app: App) -> bool:
    """Save the record in the form as one change that can be taken back; False when that fails."""
    draft = app.state.draft
    if draft is None or draft[0] == draft[1]:
        return True
    app.state = replace(app.state, draft=None)
    if not app.save_all([_trimmed(draft[1])], ""):
        app.state = replace(app.state, draft=draft)
        return False
    said = app.book.undoable
    app.state = replace(app.state, notice=Notice(f"Saved: {said}.", undo=True))
    return True


def _trimmed(record: Record) -> Record:
    texts = {name: value.strip() for name, value in vars(record).items() if isinstance(value, str)}
    return replace(record, **{name: text for name, text in texts.items() if name != "id"})  # type: ignore[arg-type]


def fresh(table: str) -> str:
    """The place of a form for a record that is not there yet."""
    return f"/{table}/{new_id()}/new"


# --- what there is --------------------------------------------------------------------------


def sites_of(app: App, client_id: str) -> list[Site]:
    """A client's sites by name."""
    found = [site for site in app.book.look_up(Site, "") if site.client_id == client_id]
    return found if client_id else []


def site_of(app: App, sward: Sward) -> Site | None:
    """The site that a green lies on, None when it is not said."""
    has = sward.site_id and app.book.has(Site, sward.site_id)
    return app.book.get(Site, sward.site_id) if has else None


def site_warnings(app: App, sward: Sward) -> tuple[str, ...]:
    """What is buried or dangerous where a green lies: to be said before the ground is opened."""
    site = site_of(app, sward)
    if site is None:
        return ()
    told = (("Buried services", site.buried), ("Hazards", site.hazards))
    return tuple(f"{name}: {text}" for name, text in told if text.strip())


def is_long_ago(app: App, sward: Sward) -> bool:
    """Whether a green has not been visited for a year."""
    latest = app.book.latest_visit(sward.id)
    return latest is not None and latest.started < utc_now() - _LONG_AGO


def alike(app: App, kind: type[Record]) -> list[tuple[Record, Record]]:
    """Pairs of a kind that may be one and the same."""
    return merge.alike(app.book.all(kind)) if kind in merge.CHILDREN else []


def with_the_office(app: App, table: str) -> dict[str, set[str]]:
    """Ids of the records of a table that wait to be sent and that are to be decided, by the filter's name."""
    if not app.office.standing.paired:
        return {}
    changes = (doc["change"]["records"] for doc in app.book.table("unsent").values())
    waiting = {one["id"] for records in changes for one in records if one["table"] == table}
    open_ones = {conflict.key[1] for conflict in app.office.conflicts() if conflict.key[0] == table}
    return {"Not sent yet": waiting, "To decide": open_ones}


# --- contacts -------------------------------------------------------------------------------


def share_contact(app: App, client: Client) -> None:
    """A client as a contact card, for the phone's own contacts."""
    data = vcard.write([client])
    app.device.offer(file_name(client.name, ending="vcf"), "text/vcard", data, f"Contact of {client.name}")


async def bring_contacts(app: App) -> None:
    """Contacts chosen by the user as clients, in one step; those that are in the book already are passed."""
    picked = await app.device.pick(["vcf", "vcard"])
    if picked is None:
        return
    try:
        found = vcard.read(picked[1])
    except SwardError as error:
        return app.change(notice=Notice(error.sentence, serious=True))
    new = _not_yet(app, found)
    passed = len(found) - len(new)
    said = f"{len(new)} brought in" if new else "No new contacts"
    more = f", {passed} in the book already" if passed else ""
    if not new or app.save_all([*new], f"{len(new)} contacts brought in"):
        app.change(notice=Notice(f"{said}{more}.", undo=bool(new)))


def _not_yet(app: App, found: Sequence[Client]) -> list[Client]:
    """Those of them that the book does not have, by their id or all that they say, each once."""

    def saying(one: Client) -> tuple[str, str, str]:
        return (one.name.casefold(), one.email.casefold(), one.phone)

    said = {saying(one) for one in app.book.all(Client)}
    new: dict[tuple[str, str, str], Client] = {}
    for one in found:
        if saying(one) not in said and not app.book.has(Client, one.id):
            new.setdefault(saying(one), one)
    return list(new.values())


# --- merging, history -----------------------------------------------------------------------


def make_one(app: App, keep_it: Record, other: Record, picks: dict[str, merge.Pick]) -> bool:
    """Make one record of two: one step that can be taken back."""
    children: Iterable[Record] = [
        one for kind, _ in merge.CHILDREN[type(keep_it)] for one in app.book.all(kind)
    ]
    try:
        one = merge.merged(keep_it, other, picks)
        saved = [one, *merge.moved(children, keep_it, other)]
        app.book.delete(other, f"{other.label} merged into {one.label}", saved)
    except SwardError as error:
        app.change(notice=Notice(error.sentence, serious=True))
        return False
    app.change(
        stamp=app.state.stamp + 1,
        notice=Notice("The two are one now. The other lies in the bin.", undo=True),
    )
    return True


def bring_back(app: App, record: Record, field: str, value: Any, label: str) -> None:
    """Give a field the value that it once had, as a change of its own."""
    if app.save_all([replace(record, **{field: value})], f"{label} of {record.label} brought back"):
        app.change(notice=Notice(f"{label} is as it was then.", undo=True))


# --- the bin --------------------------------------------------------------------------------


def restore(app: App, record_id: str, label: str) -> None:
    """Take something out of the bin."""
    _try(app, lambda: app.book.restore(record_id), f"{label} is back.", undo=True)


def let_go(app: App, record_id: str | None) -> None:
    """Empty the bin of one thing, or of all."""
    _try(app, lambda: app.book.empty_bin(record_id), "Gone from the bin.", undo=True)


def _try(app: App, do: Any, said: str, undo: bool = False) -> bool:
    try:
        do()
    except SwardError as error:
        app.change(notice=Notice(error.sentence, serious=True))
        return False
    app.change(stamp=app.state.stamp + 1, notice=Notice(said, undo=undo))
    return True


# --- one client's data ----------------------------------------------------------------------


async def give_copy(app: App, client: Client) -> None:
    """All that is kept of a client in one file for that client: to read, to print, and for machines."""

    async def work(progress: Any) -> None:
        kept = app.book.kept_of(client.id)
        pictures = await photos.data_of(
            app, [one for one in app.book.all(Photo) if one.sha256 in kept.hashes()]
        )
        data = client_copy.pack(kept, app.settings.firm, utc_now(), pictures)
        name = file_name(client.name, "all data", ending="zip")
        app.device.offer(name, "application/zip", data, f"All that is kept of {client.name}")

    await app.with_progress("Putting the copy together …", work)


async def forget(app: App, client: Client) -> None:
    """Delete a client and all of its own for good, photos too."""

    async def work(progress: Any) -> None:
        hashes = app.book.forget(client.id)
        app.state = replace(app.state, made=None, visit=None, stamp=app.state.stamp + 1)
        for sha256 in hashes:
            await app.device.photos.remove(sha256)
        app.device.set_place("/records")
        app.arrive("/records")
        app.change(notice=Notice("That client's data is gone from this phone for good."))

    await app.with_progress("Deleting …", work)


# --- the whole book -------------------------------------------------------------------------


async def export_everything(app: App) -> None:
    """Everything in one file: records, bin, photos, what is not sent yet."""

    async def work(progress: Any) -> None:
        data, missing = await photos.export_book(app, progress)
        name = file_name("swardwright", f"{datetime.now():%Y-%m-%d}", ending="zip")
        app.device.offer(name, "application/zip", data, "Everything in one file")
        if missing:
            app.change(notice=Notice(f"{missing} photos are not on this phone and so not in the file."))

    await app.with_progress("Putting everything into one file …", work)


async def import_everything(app: App) -> None:
    """Take such a file in. The same file twice changes nothing the second time."""
    picked = await app.device.pick(["zip"])
    if picked is None:
        return

    async def work(progress: Any) -> None:
        came = await photos.import_book(app, picked[1])
        told = (
            (came.added, "added"),
            (came.updated, "brought up to date"),
            (came.unchanged, "the same already"),
        )
        more = (
            (came.kept, "newer here and left alone"),
            (came.photos, "photos added"),
            (came.spoilt, "photos spoilt"),
        )
        said = ", ".join(f"{count} {words}" for count, words in (*told, *more) if count)
        app.change(
            stamp=app.state.stamp + 1,
            notice=Notice(f"Taken in: {said or 'nothing new'}.", undo=bool(came.added)),
        )

    await app.with_progress("Taking the file in …", work)


def rescue_copy(app: App) -> None:
    """The store's own files as they are, for when something is wrong with them."""
    app.device.offer("swardwright-store.zip", "application/zip", app.book.raw(), "The store's own files")


# --- suppliers and products -----------------------------------------------------------------


def products_from(app: App, supplier: Supplier) -> list[Product]:
    """What is bought from a supplier."""
    return [one for one in app.book.look_up(Product, "") if one.supplier_id == supplier.id]


def visits_to(app: App, client: Client) -> list[Visit]:
    """All visits to a client's greens, the newest first."""
    found = [visit for sward in app.book.swards_of(client.id) for visit in app.book.visits_of(sward.id)]
    return sorted(found, key=lambda visit: visit.started, reverse=True)


def counted(count: int, noun: str) -> str:
    """ "1 green", "2 greens"."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


# --- days -----------------------------------------------------------------------------------


def today() -> str:
    """The day where the phone is, as it is stored."""
    return f"{datetime.now():%Y-%m-%d}"


def day_words(stored: str) -> str:
    """A stored day as people write it; what can't be read stays as it is."""
    try:
        return f"{date.fromisoformat(stored):%d %b %Y}"
    except ValueError:
        return stored
