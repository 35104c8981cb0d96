"""The root: the theme, and the screen of the place the user is in."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import flet as ft

from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.screens import (
    bin,
    client,
    everything,
    greens,
    history,
    machines,
    merge,
    pace,
    privacy,
    products,
    records,
    records_list,
    settings,
    site,
    suppliers,
    sward,
    sward_form,
    visit,
)

#: First part of a place → its screen, of the parts after it.
_SCREENS: Mapping[str, Callable[..., ft.Control]] = {
    "sward": sward.screen,
    "new": lambda app, client_id="", *_: sward_form.screen(app, "", client_id),
    "edit": sward_form.screen,
    "pace": pace.screen,
    "settings": settings.screen,
    "records": lambda app, *of: records_list.screen(app, of[0]) if of else records.screen(app),
    "client": lambda app, record_id, *_: client.screen(app, record_id),
    "site": lambda app, record_id, new="", client_id="", *_: site.screen(app, record_id, client_id),
    "supplier": lambda app, record_id, *_: suppliers.screen(app, record_id),
    "product": lambda app, record_id, *_: products.screen(app, record_id),
    "machine": lambda app, record_id, *_: machines.screen(app, record_id),
    "history": history.screen,
    "merge": lambda app, table, record_id, other="", *_: merge.screen(app, table, record_id, other),
    "privacy": privacy.screen,
    "everything": everything.screen,
    "bin": bin.screen,
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
        return visit.screen(app, app.state.visit, parts[2] if len(parts) > 2 else "measure")
    if parts[0] in _SCREENS:
        return _SCREENS[parts[0]](app, *parts[1:])
    return greens.screen(app)
