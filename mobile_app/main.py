"""Entry of the app: the page that Flet opens is handed to the app's root component."""

import flet as ft

from mobile_app.app import App
from mobile_app.device.where import in_browser


def show(page: ft.Page) -> None:
    """Draws the app, and tells the window that there is something to see."""
    page.render(App)
    if in_browser():
        from mobile_app.device.window import tell_window

        tell_window("shown")


def start() -> None:
    """Runs the app; in the browser this returns at once and the worker connects the client."""
    ft.run(show)


if __name__ == "__main__":
    start()
