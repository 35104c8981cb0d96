"""The office: joining it, what is with it and what waits, the phones that belong to it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import flet as ft

from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.folded import folded
from mobile_app.parts.frame import frame
from mobile_app.parts.office_mark import heading, lines
from mobile_app.parts.record_boxes import to
from mobile_app.parts.slips import slip, sure


def screen(app: App, code: str = "", *_: str) -> ft.Control:
    """The office as this phone knows it. code: out of a pairing link."""
    standing = app.office.standing
    if not standing.paired:
        return frame(app, "Office", _joining(app, code), back=lambda: app.go("/settings"))
    body: list[ft.Control] = [_state(app)]
    if standing.conflicts:
        body.append(
            slip(
                "Decide",
                ("Where two phones wrote different things.",),
                to(app, "/decide"),
                icon=ft.Icons.CALL_SPLIT,
                count=str(standing.conflicts),
            )
        )
    body += _refused(app)
    body.append(slip("Outbox", ("What goes out by e-mail.",), to(app, "/outbox"), icon=ft.Icons.OUTBOX))
    body.append(folded("phones", "Phones of the office", lambda: _phones(app)))
    body.append(
        sure(
            "leave",
            "Leave the office",
            "Every record stays on this phone. What has not been sent yet stays here only.",
            "Leave the office now",
            lambda: app.begin(app.office.unpair()),
            ft.Icons.LINK_OFF,
        )
    )
    return frame(app, "Office", body, back=lambda: app.go("/"), under=standing.office)


def _joining(app: App, code: str) -> list[ft.Control]:
    form = {"code": code, "phone": app.settings.person and f"{app.settings.person}'s phone", **app.state.form}

    def put(name: str) -> Any:
        return lambda text: app.change(form={**app.state.form, name: text})

    def join(_: object) -> None:
        now = {**form, **app.state.form}
        app.begin(app.office.pair(now["code"], now["phone"], now.get("address", "")))

    boxes = [
        ft.Row([text_box("Pairing code", form["code"], put("code"), key="pair-code", hint="ABCD-EFGH")]),
        ft.Row([text_box("Name of this phone", form["phone"], put("phone"), key="pair-phone")]),
    ]
    if not app.office.address:
        address = form.get("address", "")
        box = text_box("Address of the office", address, put("address"), key="pair-address")
        boxes.append(ft.Row([box]))
    return [
        look.card(
            look.title("Work with an office"),
            look.words(
                "Several phones and an office keep the same records. Each works on its own without signal, "
                "and they meet when there is some. Nothing is overwritten: where two wrote different things, "
                "both are kept and you choose."
            ),
            *boxes,
            look.primary("Join", join, ft.Icons.LINK),
            look.quiet(
                "The code comes from whoever runs the office, or from another phone under “Phones of the "
                "office”. It works once, within ten minutes."
            ),
        )
    ]


def _state(app: App) -> ft.Control:
    standing = app.office.standing
    serious = bool(standing.line.code or standing.refused)
    rows: list[ft.Control] = [look.title(heading(standing))]
    rows += [look.words(line) for line in lines(standing)]
    if standing.line.code == "revoked":
        rows.append(
            look.remark(
                "Your records are all here and can be saved in one file. To go on together, leave the office "
                "and join again with a new code.",
                serious=serious,
            )
        )
        rows.append(look.secondary("Save everything", lambda _: app.go("/everything"), ft.Icons.SAVE_ALT))
    rows.append(look.primary("Sync now", lambda _: app.office.sync_now(), ft.Icons.SYNC))
    return look.card(*rows)


def _refused(app: App) -> list[ft.Control]:
    refused = app.office.refused()
    if not refused:
        return []
    rows: list[ft.Control] = [look.title("Refused by the office")]
    for one in refused[:20]:
        rows.append(look.words(f"{one.why}: {one.reason}"))
    rows.append(look.quiet("These stay on this phone. “Sync now” tries them again."))
    return [look.card(*rows)]


def _phones(app: App) -> ft.Control:
    office = app.office
    rows: list[ft.Control] = [_phone(app, one) for one in office.devices]
    if not office.devices:
        rows.append(look.quiet("Ask the office for the list; that needs signal."))
    rows.append(
        ft.Row(
            [
                look.secondary("Ask again", lambda _: app.begin(office.look()), ft.Icons.REFRESH),
                look.secondary("Add a phone", lambda _: app.begin(office.invite()), ft.Icons.ADD),
            ],
            wrap=True,
            spacing=8,
        )
    )
    if office.code:
        code = str(office.code.get("code", ""))
        rows.append(
            look.card(
                look.words("Type this code on the other phone, or open the link there:"),
                ft.Text(code, size=look.TITLE + 8, weight=ft.FontWeight.BOLD, selectable=True),
                ft.Text(f"{office.address}/#pair={code}", size=look.LABEL, selectable=True),
                look.quiet("It works once, within ten minutes."),
            )
        )
    return look.stack(*rows)


def _phone(app: App, one: Mapping[str, Any]) -> ft.Control:
    device, name = str(one.get("device", "")), str(one.get("name", ""))
    mine, off = bool(one.get("self")), bool(one.get("revoked"))
    said = "this phone" if mine else "taken off" if off else f"seen {str(one.get('seen') or 'never')[:10]}"
    key = f"phone-{device}"

    def rename(_: object) -> None:
        app.begin(app.office.rename(device, app.state.form.get(key, name)))

    rows: list[ft.Control] = [
        ft.Row(
            [
                text_box(
                    f"Name ({said})",
                    app.state.form.get(key, name),
                    lambda text: app.change(form={**app.state.form, key: text}),
                    key=key,
                ),
                look.plain("Rename", rename),
            ]
        )
    ]
    if not mine and not off:
        rows.append(
            sure(
                key,
                "Take off",
                f"{name or 'This phone'} gets no more records. It can still save what it has in a file.",
                "Take it off now",
                lambda: app.begin(app.office.revoke(device)),
                ft.Icons.PHONELINK_ERASE,
            )
        )
    return look.card(*rows)
