"""The history of a record: who changed what, when and why, and the way to bring an old value back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import flet as ft

from logic.records.types import KINDS, Record, Visit
from logic.records.words import Told, changes
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import frame
from mobile_app.parts.slips import empty

_SHOWN = 30
_LINKS = ("client_id", "site_id", "sward_id", "visit_id", "pace_id", "supplier_id")
_NOTHING = "nothing"


def screen(app: App, table: str, record_id: str) -> ft.Control:
    """The history of one record, the newest change first."""
    kind = KINDS.get(table, Visit)
    versions = app.book.history(kind, record_id)
    now = app.book.get(kind, record_id) if app.book.has(kind, record_id) else None
    cards = _cards(app, versions, now)
    shown = int(app.state.form.get("shown", _SHOWN))
    body: list[ft.Control] = cards[:shown] or [
        empty(ft.Icons.HISTORY, "No history", "Every change that you save to a record is kept here.")
    ]
    if len(cards) > shown:
        more = look.secondary("Show more", lambda _: app.change(form={"shown": str(shown + _SHOWN)}))
        body.append(more)
    under = (
        _named(app, "sward_id", now.sward_id) if isinstance(now, Visit) else now.label if now else "deleted"
    )
    return frame(app, "History", body, back=_back(app, table, record_id), under=under)


def _back(app: App, table: str, record_id: str) -> Callable[[], None]:
    places = {
        "visits": f"/visit/{record_id}/paper",
        "swards": f"/sward/{record_id}",
        "settings": "/settings",
    }
    place = places.get(table, f"/{table.removesuffix('s')}/{record_id}")
    return lambda: app.go(place)


def _cards(app: App, versions: Sequence[Any], now: Record | None) -> list[ft.Control]:
    """A card for each save that changed something a person would see."""
    cards: list[ft.Control] = []
    for place, version in enumerate(versions):
        before = versions[place + 1].record if place + 1 < len(versions) else None
        if version.record is None:
            cards.append(_card(app, version, [], None, now))
            continue
        told = changes(before, version.record)
        if told:
            cards.append(_card(app, version, told, before, now))
    return cards


def _card(
    app: App, version: Any, told: Sequence[Told], before: Record | None, now: Record | None
) -> ft.Control:
    who = getattr(version, "who", "") or app.settings.person or "You, on this phone"
    when = f"{version.at.astimezone():%d %b %Y, %H:%M}"
    why = version.why[:1].upper() + version.why[1:]
    lines: list[ft.Control] = [
        ft.Text(when, size=look.BODY, weight=ft.FontWeight.BOLD),
        look.quiet(" · ".join(filter(None, (who, why)))),
    ]
    if version.record is None:
        lines.append(look.words("Deleted."))
    for one in told:
        lines.append(_change(app, version, one, before, now))
    return look.card(*lines, spacing=8, key=f"version-{version.number}")


def _change(app: App, version: Any, one: Told, before: Record | None, now: Record | None) -> ft.Control:
    """Old and new of one field, and the button that brings the old one back where it is not there now."""
    old, new = _named(app, one.field, one.old), _named(app, one.field, one.new)
    said: list[ft.Control] = [ft.Text(one.label, size=look.LABEL, weight=ft.FontWeight.BOLD)]
    if before is None:
        said.append(look.words(new))
    else:
        said.append(look.quiet(f"was: {old or _NOTHING}"))
        said.append(
            look.words(f"now: {new or _NOTHING}" if version.record == now else f"then: {new or _NOTHING}")
        )
    if before is not None and now is not None and not now.read_only:
        was = getattr(before, one.field)
        if was != getattr(now, one.field):
            button = look.plain(
                f"Bring back: {one.label.lower()}",
                lambda _: records.bring_back(app, now, one.field, was, one.label),
                ft.Icons.RESTORE,
            )
            said.append(ft.Row([button], wrap=True))
    return look.stack(*said, spacing=2)


def _named(app: App, field: str, text: str) -> str:
    """A link to another record by that record's name."""
    if field not in _LINKS or not text:
        return text
    kind = KINDS[f"{field.removesuffix('_id')}s"]
    return app.book.get(kind, text).label if app.book.has(kind, text) else "one that is no longer in the book"
