"""A supplier: how to reach them, how long they take, and what is bought from them."""

from __future__ import annotations

import flet as ft

from logic.records.types import Supplier
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import frame
from mobile_app.parts.record_boxes import NUMBER, PHONE, box, done, to
from mobile_app.parts.slips import slip
from mobile_app.screens import products, record_tools


def screen(app: App, supplier_id: str) -> ft.Control:
    """The form of a supplier."""
    supplier = records.in_form(app, Supplier, supplier_id)
    body: list[ft.Control] = [
        box(app, supplier, "name", "Supplier"),
        box(app, supplier, "phone", "Telephone", PHONE),
        box(app, supplier, "lead_days", "Days from order to delivery", NUMBER),
        box(app, supplier, "note", "Worth knowing", lines=2, hint="Has the sports sand, lifts over a hedge"),
        done(app, "/records/suppliers"),
    ]
    if app.book.has(Supplier, supplier_id):
        bought = records.products_from(app, supplier)
        body.append(look.title("Bought from them"))
        body += [
            slip(
                products.name_of(one),
                products.said_of(one),
                to(app, f"/product/{one.id}"),
                key=one.id,
            )
            for one in bought
        ]
        if not bought:
            body.append(look.quiet("Nothing yet. Packs and prices are entered with a visit's supply."))
        body += record_tools.tools(app, supplier)
    heading = supplier.name or "New supplier"
    return frame(app, heading, body, back=lambda: app.go("/records/suppliers"))
