"""The root: the theme, and the screen of the place the user is in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module

import flet as ft

from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.screens import greens


def _screen(name: str, function: str = "screen") -> Callable[..., ft.Control]:
    """The screen of a module that is imported when it is first shown: see `later`."""
    return lambda *given: getattr(import_module(f"mobile_app.screens.{name}"), function)(*given)


#: First part of a place → its screen, of the parts after it.
_SCREENS: Mapping[str, Callable[..., ft.Control]] = {
    "sward": _screen("sward"),
    "new": lambda app, client_id="", *_: _screen("sward_form")(app, "", client_id),
    "edit": _screen("sward_form"),
    "pace": _screen("pace"),
    "settings": _screen("settings"),
    "records": lambda app, *of: _screen("records_list")(app, of[0]) if of else _screen("records")(app),
    "client": lambda app, record_id, *_: _screen("client")(app, record_id),
    "site": lambda app, record_id, new="", client_id="", *_: _screen("site")(app, record_id, client_id),
    "supplier": lambda app, record_id, *_: _screen("suppliers")(app, record_id),
    "product": lambda app, record_id, *_: _screen("products")(app, record_id),
    "machine": lambda app, record_id, *_: _screen("machines")(app, record_id),
    "history": _screen("history"),
    "merge": lambda app, table, record_id, other="", *_: _screen("merge")(app, table, record_id, other),
    "privacy": _screen("privacy"),
    "everything": _screen("everything"),
    "bin": _screen("bin"),
    "office": _screen("office"),
    "decide": _screen("decide"),
    "outbox": _screen("outbox"),
    "send": _screen("outbox", "send_screen"),
}
_MODES = {"system": ft.ThemeMode.SYSTEM, "light": ft.ThemeMode.LIGHT, "dark": ft.ThemeMode.DARK}


def dress(page: ft.Page, app: App) -> None:
    """Give the page the app's look."""
    page.title = "Swardwright"
    page.padding = 0
    page.theme = look.theme(look.LIGHT)
    page.dark_theme = look.theme(look.DARK)
    page.theme_mode = _MODES[app.settings.theme]


@ft.component
def Root(app: App) -> ft.Control:
    """The screen in hand."""
    _, draw = ft.use_state(app.state)
    app.bind(draw)
    parts = app.state.place.strip("/").split("/")
    if parts[0] == "visit" and app.state.visit is not None:
        return _screen("visit")(app, app.state.visit, parts[2] if len(parts) > 2 else "measure")
    if parts[0] in _SCREENS:
        return _SCREENS[parts[0]](app, *parts[1:])
    return greens.screen(app)
