"""Entry of the app: opens the book, makes the App, and has the page drawn.

What is imported from here is what every first start waits for; the rest comes `later`.
"""

from __future__ import annotations

import gc

import flet as ft

from logic.errors import SwardError
from logic.records.book import Book
from logic.records.folder import Folder
from mobile_app import later
from mobile_app.app import App
from mobile_app.device import open_folder
from mobile_app.device.phone import Phone
from mobile_app.parts import look
from mobile_app.screens.root import Root, dress


async def show(page: ft.Page) -> None:
    """Draw the app, and tell the window that there is something to see."""
    try:
        device = Phone(page)
        folder = await open_folder()
        app = App(_open(folder, known=bool(device.facts().get("known"))), device)
    except SwardError as error:
        page.add(ft.SafeArea(ft.Column([look.title("The book can't be opened"), look.words(error.sentence)])))
        device.shown()
        return
    device.on_leaving(app.leave)
    device.on_note(app.office.noticed)
    dress(page, app)
    page.on_route_change = lambda event: app.arrive(_place(event.route))
    _first_place(page, app)
    page.render(Root, app)
    device.shown()
    page.run_task(_afterwards, app)
    page.run_task(app.office.keep_going)


def _place(route: str) -> str:
    code = _pairing_code(route)
    return f"/office/{code}" if code else route


def _open(folder: Folder, known: bool) -> Book:
    # Nothing of a book is rubbish while it is read, and looking for some takes half the time of a large one.
    gc.disable()
    try:
        return Book.open(folder, known)
    finally:
        gc.enable()


def _first_place(page: ft.Page, app: App) -> None:
    """The demo when it was asked for, the place in the address, or where the app was left."""
    if code := _pairing_code(page.route):
        app.arrive(f"/office/{code}")
    elif app.device.facts().get("demo") and not app.book.counts().get("swards"):
        from mobile_app import jobs

        jobs.load_demo(app)
    elif page.route and page.route != "/":
        app.arrive(page.route)
    else:
        app.back_where_left()


def _pairing_code(route: str) -> str:
    """The code in the address of a pairing link, "…/#pair=ABCD-EFGH"."""
    name, _, code = route.strip("/").partition("=")
    return code if name == "pair" else ""


async def _afterwards(app: App) -> None:
    await app.settle()
    await later.load()


def start() -> None:
    """Run the app; in the browser this returns at once and the worker connects the client."""
    ft.run(show)


if __name__ == "__main__":
    start()
