"""One client's data: a copy of all of it for that client, or its deletion for good."""

from __future__ import annotations

import flet as ft

from logic.records.types import Client
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import frame
from mobile_app.parts.slips import sure


def screen(app: App, client_id: str) -> ft.Control:
    """Copy and deletion."""
    client = app.book.get(Client, client_id)
    name = client.name or "this client"
    greens, visits = len(app.book.swards_of(client.id)), len(records.visits_to(app, client))
    sites = len(records.sites_of(app, client.id))
    counts = ((greens, "green"), (sites, "site"), (visits, "visit"))
    kept = f"Kept of {name}: {', '.join(records.counted(*pair) for pair in counts)}."
    body: list[ft.Control] = [
        look.words(kept),
        look.card(
            look.title("A copy for them"),
            look.words("One file with a page to read or print, all photos, and the same for machines."),
            look.primary(
                "Make the copy",
                lambda _: app.begin(records.give_copy(app, client)),
                ft.Icons.FOLDER_ZIP_OUTLINED,
            ),
        ),
        look.card(
            look.title("Delete it for good"),
            look.words(
                f"Takes {name} out of the book, the bin and the history, with greens, sites, visits, "
                "photos and letters. Nothing brings it back."
            ),
            look.quiet(
                "Files that you saved or sent before still have it. The law may want invoices "
                "kept: save those first."
            ),
            sure(
                f"forget-{client.id}",
                "Delete for good",
                f"All of {name}'s data will be gone from this phone. There is no undo.",
                "Yes, delete for good",
                lambda: app.begin(records.forget(app, client)),
                ft.Icons.DELETE_FOREVER_OUTLINED,
            ),
        ),
    ]
    return frame(app, "Their data", body, back=lambda: app.go(f"/client/{client.id}"), under=name)
