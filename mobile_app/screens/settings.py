"""The user's firm, units and preferences."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import flet as ft

from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.frame import frame

_UNITS = (("metric", "Metric"), ("imperial", "Imperial"), ("us", "US"))
_THEMES = (("system", "As the phone"), ("light", "Light"), ("dark", "Dark"))
_PAPERS = (("a4", "A4"), ("letter", "US Letter"))
_YES_NO = (("yes", "Yes"), ("no", "No"))
_SURE = (("0.5", "50 %"), ("0.8", "80 %"), ("0.9", "90 %"), ("0.95", "95 %"))


def screen(app: App) -> ft.Control:
    """Everything is saved as it is typed."""
    own = app.settings
    facts = app.device.facts()

    def put(**values: Any) -> None:
        app.edit_settings(replace(app.settings, **values))

    def box(key: str, label: str, keyboard: ft.KeyboardType, **more: Any) -> ft.Control:
        return ft.Row(
            [
                text_box(
                    label,
                    getattr(own, key),
                    lambda t: put(**{key: t}),
                    keyboard=keyboard,
                    key=f"own-{key}",
                    **more,
                )
            ]
        )

    body: list[ft.Control] = [
        _section(
            "At the head of your papers",
            box("firm", "Firm", ft.KeyboardType.TEXT),
            box("person", "Your name", ft.KeyboardType.NAME),
            box("phone", "Telephone", ft.KeyboardType.PHONE),
            box("email", "E-mail", ft.KeyboardType.EMAIL),
            box("address", "Address", ft.KeyboardType.MULTILINE, multiline=True, min_lines=2, max_lines=4),
        ),
        _section(
            "Measuring and buying",
            _pick("Units", _UNITS, own.units, lambda key: put(units=key)),
            _pick(
                "How sure amounts to buy must be",
                _SURE,
                f"{own.confidence:g}",
                lambda key: put(confidence=float(key)),
                "Seed and sand are rounded up for the ± of your measuring, so that they last this often.",
            ),
            look.plain("Your pace", lambda _: app.go("/pace"), ft.Icons.DIRECTIONS_WALK),
        ),
        _section(
            "Paper",
            _pick("Size", _PAPERS, own.paper, lambda key: put(paper=key)),
            _pick(
                "Put the working on the summary",
                _YES_NO,
                "yes" if own.working else "no",
                lambda key: put(working=key == "yes"),
                "How every amount was worked out, at the end. The first pages stay the same.",
            ),
        ),
        _section(
            "Photos",
            _pick(
                "Keep the place of a photo",
                _YES_NO,
                "yes" if own.photo_place else "no",
                lambda key: put(photo_place=key == "yes"),
                "Where on earth it was taken. What else a camera writes into a photo is always taken out.",
            ),
        ),
        _section("Screen", _pick("Light or dark", _THEMES, own.theme, lambda key: put(theme=key))),
        _section(
            "Your records",
            look.words(_kept(facts)),
            look.quiet(f"{_count(app)}."),
            look.secondary("Work with an office", lambda _: app.go("/office"), ft.Icons.LINK),
            ft.Row(
                [
                    look.plain("All records", lambda _: app.go("/records"), ft.Icons.FOLDER_OPEN_OUTLINED),
                    look.plain("Save everything", lambda _: app.go("/everything"), ft.Icons.SAVE_ALT),
                ],
                wrap=True,
                spacing=8,
            ),
        ),
    ]
    return frame(app, "Settings", body, back=lambda: app.go("/"))


def _section(heading: str, *rows: ft.Control) -> ft.Control:
    return look.card(look.title(heading), *rows, spacing=14)


def _pick(
    heading: str, pairs: tuple[tuple[str, str], ...], chosen: str, pick: Any, more: str = ""
) -> ft.Control:
    rows: list[ft.Control] = [
        ft.Text(heading, size=look.LABEL, weight=ft.FontWeight.BOLD),
        look.choices(pairs, chosen, pick),
    ]
    if more:
        rows.append(look.quiet(more))
    return ft.Column(rows, spacing=6)


def _kept(facts: dict[str, Any]) -> str:
    if facts.get("persisted"):
        return "Saved on this phone, and the browser has promised not to clear it."
    if facts.get("standalone"):
        return "Saved on this phone."
    return (
        "Saved on this phone. The browser may clear it if space runs short: put the app on your home screen, "
        "and save your jobs as files now and then."
    )


def _count(app: App) -> str:
    counts = app.book.counts()
    words = (("swards", "greens"), ("visits", "visits"), ("clients", "clients"))
    return ", ".join(f"{counts.get(table, 0)} {noun}" for table, noun in words)
