"""The shopping list, as plain text to be shared: by supplier, with what to order by when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from logic.supply.buying import Buying


@dataclass(frozen=True)
class Supplier:
    """Who sells it. lead_days: from the order until it is there; note: what is worth knowing (who has the
    sports sand, who can lift a bulk bag over the hedge)."""

    key: str
    name: str
    phone: str = ""
    lead_days: int = 0
    note: str = ""


def order_by(supplier: Supplier, day: date) -> date:
    """The last day to order for work on `day`."""
    return day - timedelta(days=supplier.lead_days)


def shopping_list(
    buyings: Sequence[Buying], suppliers: Sequence[Supplier], day: date, title: str, system: str = "metric"
) -> str:
    """The list for the work on `day`: what to buy at each supplier, then what is taken from the store.

    Items whose packs name no supplier come last. Lines are short enough for a phone's message.
    """
    known = {supplier.key: supplier for supplier in suppliers}
    places: dict[str, list[str]] = {}
    for buying in buyings:
        if buying.problem:
            amount = buying.stock.to_buy.text(system)
            places.setdefault("", []).append(f"{buying.need.material.name}: {amount} ({buying.problem})")
        for pack, count in buying.bought.counts if buying.bought else ():
            line = f"{buying.need.material.name}: {count} × {pack.name}"
            places.setdefault(pack.supplier if pack.supplier in known else "", []).append(line)
    blocks = [f"{title}, {day.isoformat()}"]
    for key in sorted(places, key=lambda k: (k == "", known[k].name if k else "")):
        blocks.append("\n".join([_heading(known.get(key), day), *(f"[ ] {line}" for line in places[key])]))
    own = [
        f"[ ] {b.need.material.name}: {b.stock.used.text(system)}"
        for b in buyings
        if b.stock.used.nominal > 0
    ]
    if own:
        blocks.append("\n".join(["From the store", *own]))
    return "\n\n".join(blocks) + "\n"


def _heading(supplier: Supplier | None, day: date) -> str:
    if supplier is None:
        return "To buy"
    lines = [" ".join(filter(None, (supplier.name, supplier.phone)))]
    if supplier.lead_days:
        lines.append(f"Order by {order_by(supplier, day).isoformat()}")
    if supplier.note:
        lines.append(" ".join(supplier.note.split()))
    return "\n".join(lines)
