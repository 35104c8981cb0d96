"""A client's place: how to get in, where the water is, and what is dangerous or buried there."""

from __future__ import annotations

import flet as ft

from logic.records.types import Client, Site, Sward
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import frame
from mobile_app.parts.record_boxes import box, done, to
from mobile_app.parts.slips import slip
from mobile_app.screens import record_tools


def screen(app: App, site_id: str, client_id: str = "") -> ft.Control:
    """The form of a site; client_id: whose a new one is."""
    site = records.in_form(app, Site, site_id, client_id=client_id)
    is_new = not app.book.has(Site, site_id)
    client = app.book.get(Client, site.client_id) if app.book.has(Client, site.client_id) else None
    back = f"/client/{client.id}" if client else "/records/sites"
    body: list[ft.Control] = [
        box(app, site, "name", "Name of the site", hint="Home, or the back paddock"),
        box(app, site, "address", "Address", lines=2),
        box(app, site, "access", "Getting in", lines=2, hint="Gate code, width, where to park"),
        box(app, site, "water_point", "Water point", lines=2, hint="Where the tap is, and how it flows"),
        box(app, site, "hazards", "Hazards", lines=2, hint="Slopes, dogs, overhead lines"),
        box(app, site, "buried", "Buried services", lines=2, hint="Pipes, cables, irrigation, drains"),
        look.quiet("Hazards and buried services are shown with the green before the ground is opened."),
        box(app, site, "note", "Note", lines=2),
        done(app, back),
    ]
    if not is_new:
        body += [*_greens(app, site), *record_tools.tools(app, site, back)]
    under = client.name if client else "No client"
    return frame(app, site.name or "New site", body, back=lambda: app.go(back), under=under)


def _greens(app: App, site: Site) -> list[ft.Control]:
    greens = [sward for sward in app.book.look_up(Sward, "") if sward.site_id == site.id]
    if not greens:
        return [look.quiet("No green is said to lie here: choose the site on the green's own page.")]
    return [
        look.title("Greens here"),
        *[slip(sward.name, (sward.kind,), to(app, f"/sward/{sward.id}"), key=sward.id) for sward in greens],
    ]
