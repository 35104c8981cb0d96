"""Supply: what the visit, or the day, needs of each material, in which packs, from where, and how to carry
it."""

from __future__ import annotations

from collections.abc import Sequence

import flet as ft

from logic.records import goods
from logic.records.standing import Standing
from logic.records.types import Product, Supplier, Visit
from logic.supply.buying import Buying
from logic.supply.loads import BARROW, VEHICLE
from mobile_app import trade
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.amounts import amount_line
from mobile_app.parts.figures import FigureCard, figure_line, figure_list
from mobile_app.parts.folded import folded
from mobile_app.parts.form import form_view
from mobile_app.parts.frame import icon_button


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The supply of a visit."""
    back = look.plain("All papers", lambda _: app.go(f"/visit/{visit.id}/paper"), ft.Icons.ARROW_BACK)
    day = trade.same_day(app, visit)
    whole = app.state.form.get("day") == "all" and len(day) > 1
    visits = day if whole else [visit]
    found = trade.buyings(app, visits) if stood.area else ()
    rows: list[ft.Control] = [ft.Row([back])]
    if len(day) > 1:
        pairs = (("one", "This job"), ("all", f"All {len(day)} jobs of the day"))
        pick = look.choices(
            pairs, "all" if whole else "one", lambda key: app.change(form={**app.state.form, "day": key})
        )
        rows.append(pick)
    if not found:
        return [*rows, look.quiet("Nothing is needed yet: measure the green and choose the works.")]
    rows += [
        look.primary("Share the shopping list", lambda _: trade.share_list(app, visits), ft.Icons.IOS_SHARE),
        *[_card(app, one) for one in found],
        *_cost(found),
        *_carrying(app, found),
        folded("suppliers", "Suppliers", lambda: _suppliers(app)),
    ]
    return rows


def _card(app: App, one: Buying) -> ft.Control:
    """A material: what is enough, what the store gives, the packs, and their prices behind a button."""
    system, material = app.system, one.need.material
    lines: list[ft.Control] = [
        ft.Text(material.name, size=look.TITLE, weight=ft.FontWeight.BOLD),
        look.keyed(
            f"need-{material.key}", FigureCard, one.need.total, system, app.settings.confidence, large=True
        ),
    ]
    if one.stock.used.nominal > 0:
        lines.append(figure_line("From your store", one.stock.used.text(system)))
        lines.append(figure_line("To buy", one.stock.to_buy.text(system)))
    lines += [
        look.remark(f"{held.name or material.name} in the store is past its day and is not counted.")
        for held in one.stock.gone_off
    ]
    if one.bought:
        lines += [look.quiet("Buy"), ft.Text(one.packs_text, size=look.BODY, weight=ft.FontWeight.BOLD)]
    if one.cost:
        working = one.cost.working(system)
        lines.append(amount_line(one.cost.key, "Price", one.cost.text(), "", working))
    if one.left_over and one.left_over.nominal > 0:
        until = f"Keeps until {one.keeps_until:%B %Y}. " if one.keeps_until else ""
        lines.append(figure_line("Left over", one.left_over.text(system)))
        if until or material.keep:
            lines.append(look.quiet(until + material.keep))
    if one.problem:
        lines.append(look.remark(one.problem))
    if material.kind != "water":
        lines.append(folded(f"packs-{material.key}", "Packs and prices", lambda: _packs(app, one)))
    return look.card(*lines, spacing=8, key=f"supply-{material.key}")


def _packs(app: App, one: Buying) -> ft.Control:
    material, suppliers = one.need.material, app.book.all(Supplier)
    form = goods.product_form(material, suppliers)
    rows: list[ft.Control] = []
    mine = [product for product in app.book.all(Product) if product.material == material.key]
    if not mine:
        rows.append(look.quiet("The usual sizes are taken. Enter what you can buy, with its price."))
    for product in mine:
        rows.append(_product(app, product, form))
    rows.append(look.secondary("Add a pack", lambda _: trade.add_product(app, material), ft.Icons.ADD))
    return look.stack(*rows, spacing=14)


def _product(app: App, product: Product, form: object) -> ft.Control:
    given = goods.given_of(product)
    reading = form.read(given)  # type: ignore[attr-defined]
    asked = goods.day_of(product.priced)
    drawn = form_view(
        form,  # type: ignore[arg-type]
        given,
        reading,
        app.system,
        lambda path, value: trade.change_product(app, product, path, value),
        f"product-{product.id}",
    )
    said = f"Price of {asked:%d %B %Y}" if asked and product.price else "No price yet"
    head = ft.Row(
        [
            look.quiet(said, expand=True),
            icon_button(ft.Icons.DELETE_OUTLINE, "Put this pack in the bin", lambda _: _bin(app, product)),
        ]
    )
    return look.card(head, drawn, spacing=8, key=f"card-{product.id}")


def _bin(app: App, record: Product | Supplier) -> None:
    app.delete(record)


def _cost(found: Sequence[Buying]) -> list[ft.Control]:
    priced = [one.cost for one in found if one.cost]
    if not priced:
        return []
    total = priced[0].money
    for more in priced[1:]:
        total = total + more.money
    lines = [f"{one.name}: {one.text()}" for one in priced]
    return [look.card(amount_line("all", "To pay for all that has a price", total.text(), "", lines))]


def _carrying(app: App, found: Sequence[Buying]) -> list[ft.Control]:
    figures, said = trade.loads(app, found)
    lines: list[ft.Control] = [look.title("Carrying it")]
    if figures:
        lines.append(figure_list(figures, app.system, app.settings.confidence))
    if said:
        lines.append(look.remark(said))

    def vehicle() -> ft.Control:
        return look.stack(
            form_view(
                VEHICLE,
                app.settings.vehicle,
                VEHICLE.read(app.settings.vehicle),
                app.system,
                lambda path, value: trade.change_terms(app, path, value, "vehicle"),
                "vehicle",
            ),
            form_view(
                BARROW,
                app.settings.barrow,
                BARROW.read(app.settings.barrow),
                app.system,
                lambda path, value: trade.change_terms(app, path, value, "barrow"),
                "barrow",
            ),
            spacing=18,
        )

    lines.append(folded("vehicle", "Vehicle and barrow", vehicle))
    return [look.card(*lines)]


def _suppliers(app: App) -> ft.Control:
    rows: list[ft.Control] = []
    for supplier in app.book.all(Supplier):
        given = {key: getattr(supplier, key) for key in goods.SUPPLIER.keys()}  # noqa: SIM118
        rows.append(
            look.card(
                form_view(
                    goods.SUPPLIER,
                    given,
                    goods.SUPPLIER.read(given),
                    app.system,
                    lambda path, value, s=supplier: trade.change_supplier(app, s, path, value),  # type: ignore[misc]
                    f"supplier-{supplier.id}",
                ),
                ft.Row(
                    [
                        icon_button(
                            ft.Icons.DELETE_OUTLINE,
                            "Put this supplier in the bin",
                            lambda _, s=supplier: _bin(app, s),
                        )
                    ],
                    alignment=ft.MainAxisAlignment.END,
                ),
                key=f"card-{supplier.id}",
            )
        )
    rows.append(look.secondary("Add a supplier", lambda _: trade.add_supplier(app), ft.Icons.ADD))
    return look.stack(*rows, spacing=14)
