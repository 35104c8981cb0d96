"""Small apps that stand in for the real one where a journey is about the platform beneath it."""

_FRAME = """
import flet as ft
from mobile_app.device.window import tell_window
{more}
def show(page):
{body}
    tell_window("shown")

def start():
    ft.run(show)
"""


def app(body: str, more: str = "") -> dict[str, bytes]:
    """Archive files for an app whose page is drawn by `body`: lines with `page` and `ft` at hand."""
    lines = "\n".join(f"    {line}" for line in body.strip("\n").splitlines())
    return {"mobile_app/main.py": _FRAME.format(body=lines, more=more).encode()}


def says(text: str) -> dict[str, bytes]:
    """An app that shows one line of text."""
    return app(f"page.add(ft.Text({text!r}))")
