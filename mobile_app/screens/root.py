"""The root: the theme, and the screen of the place the user is in."""

from __future__ import annotations

import flet as ft

from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.screens import greens, pace, settings, sward, sward_form, visit

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
    if parts[0] == "sward":
        return sward.screen(app, parts[1])
    if parts[0] == "new":
        return sward_form.screen(app, "")
    if parts[0] == "edit":
        return sward_form.screen(app, parts[1])
    if parts[0] == "pace":
        return pace.screen(app)
    if parts[0] == "settings":
        return settings.screen(app)
    return greens.screen(app)
