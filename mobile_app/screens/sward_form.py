"""A new green with its client, or the particulars of one that is in the book."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import flet as ft

from logic.records.types import Client, Sward
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.folded import folded
from mobile_app.parts.frame import frame

_TEXTS = ("name", "kind", "address", "grass", "profile", "site_id", "note")
KINDS = ("putting green", "lawn", "tee", "bowling green", "croquet lawn", "other")


def screen(app: App, sward_id: str, client_id: str = "") -> ft.Control:
    """The form; sward_id "" for a new green, of the client that is named."""
    form = app.state.form or _begin(app, sward_id, client_id)
    name = form.get("name", "")

    def put(key: str, value: str) -> None:
        app.change(form={**(app.state.form or form), key: value})

    def box(key: str, label: str, keyboard: ft.KeyboardType = ft.KeyboardType.TEXT) -> ft.Control:
        return ft.Row(
            [text_box(label, form.get(key, ""), lambda t: put(key, t), keyboard=keyboard, key=f"box-{key}")]
        )

    body: list[ft.Control] = [
        box("name", "Name of the green"),
        ft.Column(
            [
                ft.Text("Kind", size=look.LABEL, weight=ft.FontWeight.BOLD),
                look.choices(tuple((k, k) for k in KINDS), form.get("kind", ""), lambda k: put("kind", k)),
            ],
            spacing=6,
        ),
        box("address", "Where it is", ft.KeyboardType.STREET_ADDRESS),
        *_site(app, form, put),
        folded(
            "more-of-green",
            "Grass and soil",
            lambda: more(box),
            bool(form.get("grass") or form.get("profile")),
        ),
        look.rule(),
        look.title("Client"),
        *_known_clients(app, form, put),
    ]
    if not form.get("client_id"):
        body += [
            box("client", "Client's name", ft.KeyboardType.NAME),
            box("email", "E-mail", ft.KeyboardType.EMAIL),
            box("phone", "Telephone", ft.KeyboardType.PHONE),
        ]
    body.append(box("note", "Note"))
    if form.get("problem"):
        body.append(look.remark(form["problem"], serious=True))
    body.append(look.primary("Save", lambda _: _save(app, sward_id, form)))
    back = f"/sward/{sward_id}" if sward_id else f"/client/{client_id}" if client_id else "/"
    return frame(app, name or "New green", body, back=lambda: app.go(back))


def _begin(app: App, sward_id: str, client_id: str) -> dict[str, str]:
    if not sward_id:
        return {"kind": KINDS[0], "client_id": client_id}
    sward = app.book.get(Sward, sward_id)
    return {"client_id": sward.client_id, **{key: getattr(sward, key) for key in _TEXTS}}


def more(box: Callable[[str, str], ft.Control]) -> ft.Control:
    """What is rarely filled in at first."""
    return look.stack(box("grass", "Grass"), box("profile", "What it stands on"), spacing=14)


def _site(app: App, form: dict[str, str], put: Callable[[str, str], None]) -> list[ft.Control]:
    """The client's sites, to say on which of them the green lies."""
    known = records.sites_of(app, form.get("client_id", ""))
    if not known:
        return []
    pairs = (("", "Not said"), *((site.id, site.name or site.address or "Site") for site in known))
    pick = look.choices(pairs, form.get("site_id", ""), lambda key: put("site_id", key))
    return [look.stack(ft.Text("Site", size=look.LABEL, weight=ft.FontWeight.BOLD), pick, spacing=6)]


def _known_clients(app: App, form: dict[str, str], put: object) -> list[ft.Control]:
    """Clients already in the book whose name fits what is typed."""
    chosen = form.get("client_id", "")
    if chosen and app.book.has(Client, chosen):
        client = app.book.get(Client, chosen)
        return [
            ft.Row(
                [
                    ft.Text(client.name, size=look.BODY + 1, weight=ft.FontWeight.BOLD, expand=True),
                    look.plain("Change", lambda _: app.change(form={**form, "client_id": "", "client": ""})),
                ]
            )
        ]
    typed = form.get("client", "").strip()
    found = app.book.search_clients(typed, 4) if typed else []

    def take(client: Client) -> ft.Control:
        return look.secondary(
            f"It is {client.name}", lambda _: app.change(form={**form, "client_id": client.id}), key=client.id
        )

    return [take(client) for client in found]


def _save(app: App, sward_id: str, form: dict[str, str]) -> None:
    if not form.get("name", "").strip():
        app.change(form={**form, "problem": "Give the green a name, so that you find it again."})
        return
    client_id = form.get("client_id", "")
    records: list[Client | Sward] = []
    if not client_id and form.get("client", "").strip():
        client = Client(
            name=form["client"].strip(),
            email=form.get("email", "").strip(),
            phone=form.get("phone", "").strip(),
        )
        records.append(client)
        client_id = client.id
    old = app.book.get(Sward, sward_id) if sward_id else Sward()
    typed: dict[str, Any] = {key: form.get(key, "").strip() for key in _TEXTS}
    sward = replace(old, client_id=client_id, **typed)
    if app.save_all([*records, sward], f"{'change' if sward_id else 'add'} {sward.name}"):
        app.go(f"/sward/{sward.id}")
