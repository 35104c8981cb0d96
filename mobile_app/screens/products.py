"""A pack of a material: from whom, at what price, how much stands in the store."""

from __future__ import annotations

import flet as ft

from logic import tables
from logic.records.types import Product, Supplier
from mobile_app import records
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.frame import frame
from mobile_app.parts.record_boxes import NUMBER, box, done, in_hand
from mobile_app.screens import record_tools


def name_of(product: Product) -> str:
    """What a person calls it: its own name, or its material and pack."""
    return product.name or " ".join(filter(None, (material_of(product), product.pack))) or "Pack"


def material_of(product: Product) -> str:
    """The material in words: "sand", or of "seed:browntop_bent" the seed."""
    kind, _, which = product.material.partition(":")
    return f"{kind} {which}".replace("_", " ").strip()


def said_of(product: Product) -> tuple[str, ...]:
    """The lines under its name in a list."""
    price = f"{product.price} {product.currency}".strip()
    return (
        " · ".join(filter(None, (material_of(product), product.pack, price))),
        f"In your store: {product.stock}" if product.stock else "",
    )


def screen(app: App, product_id: str) -> ft.Control:
    """The form of a product."""
    product = records.in_form(app, Product, product_id)
    kind = product.material.partition(":")[0]
    kinds = tuple((row["material"], row["name"]) for row in tables.rows("materials"))
    body: list[ft.Control] = [
        box(app, product, "name", "Name on the bag"),
        look.words("Material", size=look.LABEL, weight=ft.FontWeight.BOLD),
        look.choices(kinds, kind, lambda key: records.put(app, in_hand(app, product), material=key)),
        box(app, product, "pack", "In a pack", hint="25 kg"),
        box(app, product, "price", "Price of one pack", NUMBER),
        *_supplier(app, product),
        box(app, product, "stock", "In your store", hint="37 kg"),
        box(app, product, "best_before", "Best before", hint="2027-03-01"),
        done(app, "/records/products"),
    ]
    if app.book.has(Product, product_id):
        body += record_tools.tools(app, product)
    return frame(app, name_of(product), body, back=lambda: app.go("/records/products"))


def _supplier(app: App, product: Product) -> list[ft.Control]:
    known = tuple((one.id, one.name or "No name") for one in app.book.look_up(Supplier, ""))
    if not known:
        return []
    pick = look.choices(
        (("", "Not said"), *known),
        product.supplier_id,
        lambda key: records.put(app, in_hand(app, product), supplier_id=key),
    )
    return [look.words("From", size=look.LABEL, weight=ft.FontWeight.BOLD), pick]
