"""Where a green lies: whose it is, its site, and what is dangerous or buried there."""

from __future__ import annotations

import flet as ft

from logic.records.types import Client, Sward
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.record_boxes import to
from mobile_app.parts.slips import slip


def section(app: App, sward: Sward, client: Client | None) -> list[ft.Control]:
    """Client and site, each a way to its page; warnings first."""
    rows: list[ft.Control] = [look.remark(told, serious=True) for told in records.site_warnings(app, sward)]
    if client:
        reach = " · ".join(filter(None, (client.phone, client.email)))
        place = to(app, f"/client/{client.id}")
        rows.append(
            slip(client.name or "Client", (reach,), place, icon=ft.Icons.PERSON_OUTLINE, key="client")
        )
    site = records.site_of(app, sward)
    if site:
        told = (
            f"Getting in: {site.access}" if site.access else "",
            f"Water: {site.water_point}" if site.water_point else "",
        )
        place = to(app, f"/site/{site.id}")
        rows.append(slip(site.name or "Site", told, place, icon=ft.Icons.PLACE_OUTLINED, key="site"))
    return rows
