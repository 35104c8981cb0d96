"""Stored products as packs and stock, as far as what was typed can be read; what can't be read is left
out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

import pint

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form
from logic.numbers import number
from logic.records.types import Product, Supplier
from logic.supply import shopping
from logic.supply.business import without_sign
from logic.supply.money import Currency, money
from logic.supply.needs import Material
from logic.supply.packs import Pack
from logic.supply.stock import Held
from logic.units import plain_number, quantity, read_written, text_of, unit_of


def product_form(material: Material, suppliers: Sequence[Supplier]) -> Form:
    """What is asked of a product of that material."""
    known = (("", "Not said"), *((s.id, s.name or "No name") for s in suppliers))
    unit = tables.row("materials", material=material.kind)["buy_unit"]
    return Form(
        (
            Field("pack", "In a pack", unit, above=0, most=100_000, help="What one bag, can or load holds."),
            Field("price", "Price of one pack", least=0, required=False),
            Field("supplier_id", "From", kind="choice", choices=known, default="", required=False),
            Field("delivery", "Delivery, paid once", least=0, required=False),
            Field("fewest", "Fewest sold", whole=True, least=1, most=10_000, required=False),
            Field("stock", "In your store", unit, least=0, most=1_000_000, required=False),
            Field("best_before", "Best before", kind="text", required=False, help="As 2027-03-01."),
        )
    )


MONEY = ("price", "delivery")
SUPPLIER = Form(
    (
        Field("name", "Supplier", kind="text"),
        Field("phone", "Telephone", kind="text", required=False),
        Field("lead_days", "Days from order to delivery", whole=True, least=0, most=365, required=False),
        Field("note", "Worth knowing", kind="text", required=False, help="Who has the sports sand, say."),
    )
)


def given_of(product: Product) -> dict[str, Any]:
    """The product as its form reads it, without signs of currency."""
    keys = ("pack", "price", "supplier_id", "delivery", "fewest", "stock", "best_before")
    given = {key: getattr(product, key) for key in keys}
    return {key: without_sign(value) if key in MONEY else value for key, value in given.items()}


def day_of(text: str) -> date | None:
    """The day that was typed; None for nothing, or for what is none."""
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return None


def packs_of(products: Iterable[Product], material: Material, in_currency: Currency) -> tuple[Pack, ...]:
    """The packs that a material can be bought in, sizes in its unit. A price in another currency is not
    known."""
    found = []
    for product in products:
        size = _amount(product.pack, material.unit) if product.material == material.key else None
        if size is None or size <= 0:
            continue
        same = product.currency in ("", in_currency.code)
        price = _coins(product.price, in_currency) if same else None
        name = product.name.strip() or text_of(quantity(size, material.unit))
        found.append(
            Pack(
                key=product.id,
                name=name,
                size=size,
                price=price,
                delivery=(_coins(product.delivery, in_currency) or 0) if same else 0,
                fewest=max(1, int(_number(product.fewest) or 1)),
                supplier=product.supplier_id,
            )
        )
    return tuple(found)


def held_of(products: Iterable[Product], material: Material) -> tuple[Held, ...]:
    """What of a material stands in the store, in its unit."""
    found = []
    for product in products:
        amount = _amount(product.stock, material.unit) if product.material == material.key else None
        if amount:
            found.append(Held(product.id, material.key, amount, day_of(product.best_before), product.name))
    return tuple(found)


def counted_down(
    products: Sequence[Product], used: Sequence[tuple[str, float, str]], sign: int = -1
) -> list[Product]:
    """The products whose stock changes when amounts (product id, amount, unit) are used, with what is left.

    sign: +1 puts the amounts back.
    """
    changed = []
    for product in products:
        mine = [(amount, unit) for key, amount, unit in used if key == product.id]
        if not mine:
            continue
        unit = mine[0][1]
        left = (_amount(product.stock, unit) or 0.0) + sign * sum(amount for amount, _ in mine)
        changed.append(replace(product, stock=f"{plain_number(max(0.0, left), 6)} {unit}"))
    return changed


def suppliers_of(stored: Iterable[Supplier]) -> tuple[shopping.Supplier, ...]:
    """Stored suppliers as the shopping list wants them."""
    return tuple(
        shopping.Supplier(s.id, s.name.strip() or "Supplier", s.phone, int(_number(s.lead_days) or 0), s.note)
        for s in stored
    )


def money_typed(text: Any, in_currency: Currency) -> Any:
    """Money of what was typed, None for nothing and for what can't be read or is below nothing."""
    value = _number(without_sign(text)) if isinstance(text, str) else None
    return money(value, in_currency) if value is not None and 0 <= value < 1e9 else None


def _coins(text: str, in_currency: Currency) -> int | None:
    found = money_typed(text, in_currency)
    return None if found is None else int(found.coins)


def _number(text: str) -> float | None:
    try:
        return number(text.strip())
    except BadValue:
        return None


def _amount(text: str, unit: str) -> float | None:
    """An amount as typed, in `unit`; None when it can't be read or is of another kind."""
    try:
        written = read_written(text, unit)
        return float(quantity(written.value, written.unit).to(unit_of(unit)).magnitude)
    except (BadValue, pint.PintError, OverflowError):
        return None
