"""A client: how to reach them, their greens and sites, and what they said yes or no to."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

import flet as ft

from logic.records.types import Client
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.folded import folded
from mobile_app.parts.frame import frame, icon_button
from mobile_app.parts.record_boxes import EMAIL, PHONE, box, done, in_hand, to
from mobile_app.parts.slips import slip
from mobile_app.screens import record_tools

_ANSWERS = (("", "Not asked"), ("yes", "Yes"), ("no", "No"))
_ASKED = (
    ("photos", "May photos of the work be shown to others?"),
    ("mail", "May you write to them about later work?"),
)


def screen(app: App, client_id: str) -> ft.Control:
    """The client's page, or the form of a new one."""
    client = records.in_form(app, Client, client_id)
    is_new = not app.book.has(Client, client_id)
    body: list[ft.Control] = []
    if is_new:
        body = [_particulars(app, client), _contacts(app, client), done(app, f"/client/{client.id}")]
        return frame(app, client.name or "New client", body, back=lambda: app.go("/records/clients"))
    body += [_card(client), *_greens(app, client), *_sites(app, client)]
    body += [
        folded(f"who-{client.id}", "Name and contacts", lambda: _form(app, client)),
        folded(f"consent-{client.id}", "Consent", lambda: _consent(app, client)),
        *record_tools.tools(app, client),
    ]
    visits = records.visits_to(app, client)
    under = records.counted(len(visits), "visit")
    share = icon_button(
        ft.Icons.IOS_SHARE,
        "Share as a contact",
        lambda _: records.share_contact(app, client),
        ft.Colors.ON_SECONDARY,
    )
    name = client.name or "No name yet"
    return frame(app, name, body, back=lambda: app.go("/records/clients"), under=under, tools=[share])


def _card(client: Client) -> ft.Control:
    """How to reach them, to be read and copied."""
    lines = [text for text in (client.phone, client.email, client.address, client.note) if text]
    rows: list[ft.Control] = [_copied(text) for text in lines]
    for contact in client.contacts:
        said = ", ".join(str(contact[key]) for key in ("phone", "email", "address") if contact.get(key))
        rows.append(_copied(f"{contact.get('label') or 'Also'}: {said}"))
    if not rows:
        rows.append(
            look.quiet("No telephone, e-mail or address yet. Open “Name and contacts” to fill them in.")
        )
    return look.card(*rows, spacing=6)


def _copied(text: str) -> ft.Control:
    """Text that can be copied, and is read out: as it is, a screen reader takes it for an empty box."""
    return ft.Semantics(
        label=text, exclude_semantics=True, content=ft.Text(text, size=look.BODY, selectable=True)
    )


def _form(app: App, client: Client) -> ft.Control:
    return look.stack(
        _particulars(app, client), _contacts(app, client), done(app, f"/client/{client.id}"), spacing=16
    )


def _particulars(app: App, client: Client) -> ft.Control:
    return look.stack(
        box(app, client, "name", "Name", ft.KeyboardType.NAME),
        box(app, client, "phone", "Telephone", PHONE),
        box(app, client, "email", "E-mail", EMAIL),
        box(app, client, "address", "Address", lines=2),
        box(app, client, "note", "Note", lines=2),
        spacing=14,
    )


def _contacts(app: App, client: Client) -> ft.Control:
    """Further people, numbers and addresses."""

    def change(number: int, key: str, text: str) -> None:
        now = in_hand(app, client)
        contacts = [dict(contact) for contact in getattr(now, "contacts", ())]
        contacts[number][key] = text
        records.put(app, now, contacts=tuple(contacts))

    def take_out(number: int) -> None:
        contacts = getattr(in_hand(app, client), "contacts", ())
        records.put(app, client, contacts=(*contacts[:number], *contacts[number + 1 :]))

    rows = [
        _contact(client, number, contact, change, take_out) for number, contact in enumerate(client.contacts)
    ]

    def add(_: object) -> None:
        records.put(app, client, contacts=(*getattr(in_hand(app, client), "contacts", ()), {"label": ""}))

    return look.stack(*rows, look.secondary("Add a contact", add, ft.Icons.PERSON_ADD_OUTLINED), spacing=14)


def _contact(
    client: Client, number: int, contact: Mapping[str, Any], change: Any, take_out: Any
) -> ft.Control:
    def one(key: str, label: str, keyboard: ft.KeyboardType) -> ft.Control:
        return ft.Row(
            [
                text_box(
                    label,
                    str(contact.get(key, "")),
                    lambda text: change(number, key, text),
                    keyboard=keyboard,
                    key=f"{client.id}-{number}-{key}",
                    spoken=f"{label} of contact {number + 1}",
                )
            ]
        )

    head = ft.Row(
        [
            ft.Container(look.title(f"Contact {number + 1}", look.BODY), expand=True),
            icon_button(
                ft.Icons.DELETE_OUTLINE, f"Take contact {number + 1} out", lambda _: take_out(number)
            ),
        ]
    )
    return look.card(
        head,
        one("label", "Who or where", ft.KeyboardType.TEXT),
        one("phone", "Telephone", PHONE),
        one("email", "E-mail", EMAIL),
        one("address", "Address", ft.KeyboardType.STREET_ADDRESS),
        key=f"contact-{client.id}-{number}",
    )


def _consent(app: App, client: Client) -> ft.Control:
    """What they said yes or no to, and when. Saved at once: it is a thing of record."""

    def say(key: str, answer: str) -> None:
        now = in_hand(app, client)
        rest = {name: said for name, said in getattr(now, "consent", {}).items() if name != key}
        consent = {**rest, key: {"given": answer, "on": records.today()}} if answer else rest
        records.put(app, now, consent=consent)
        records.keep(app)
        app.change()

    rows: list[ft.Control] = []
    for key, question in _ASKED:
        said = client.consent.get(key) or {}
        answer = str(said.get("given", ""))
        rows.append(look.words(question, weight=ft.FontWeight.BOLD))
        rows.append(look.choices(_ANSWERS, answer, partial(say, key)))
        if answer:
            rows.append(look.quiet(f"Said on {records.day_words(str(said.get('on', '')))}."))
    rows.append(
        look.quiet("Without a yes, keep photos to your own records. The day is kept with the answer.")
    )
    return look.card(*rows, spacing=8)


def _greens(app: App, client: Client) -> list[ft.Control]:
    greens = app.book.swards_of(client.id)
    rows: list[ft.Control] = [_head("Greens", "Add a green", to(app, f"/new/{client.id}"))]
    for sward in greens:
        latest = app.book.latest_visit(sward.id)
        state = f"Last visit {latest.started.astimezone():%d %b %Y}" if latest else "No visit yet"
        where = f"/sward/{sward.id}"
        rows.append(
            slip(
                sward.name,
                (sward.kind, sward.address),
                to(app, where),
                state,
                key=sward.id,
            )
        )
    if not greens:
        rows.append(look.quiet("No green yet."))
    return rows


def _sites(app: App, client: Client) -> list[ft.Control]:
    add = to(app, f"{records.fresh('site')}/{client.id}")
    rows: list[ft.Control] = [_head("Sites", "Add a site", add)]
    found = records.sites_of(app, client.id)
    for site in found:
        where = f"/site/{site.id}"
        told = ("Hazards noted" if site.hazards else "", "Buried services noted" if site.buried else "")
        rows.append(
            slip(
                site.label,
                (site.address, site.access),
                to(app, where),
                " · ".join(filter(None, told)),
                key=site.id,
            )
        )
    if not found:
        rows.append(look.quiet("A site says how to get in, where the water is, and what is buried there."))
    return rows


def _head(name: str, add: str, on_add: Callable[[], None]) -> ft.Control:
    return ft.Row(
        [look.title(name), look.plain(add, lambda _: on_add(), ft.Icons.ADD)],
        wrap=True,
        alignment=ft.MainAxisAlignment.SPACE_BETWEEN,
        vertical_alignment=ft.CrossAxisAlignment.CENTER,
    )
