"""What to buy for a need: stock first, then the cheapest packs, what is left over and how long it keeps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from logic import tables
from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.supply.money import Amount, Currency, Money, total
from logic.supply.needs import Need
from logic.supply.packs import Bought, Pack, cheapest
from logic.supply.stock import FromStock, Held, from_stock
from logic.units import quantity, text_of, unit_of

CHEAPEST = Source("the cheapest set of packs that holds what is needed, of all sets there are", "derived")


@dataclass(frozen=True)
class Buying:
    """One need met. stock: what the store gives; bought: the packs, None when there is none to buy in;
    cost: None when prices are not known; left_over: None when nothing is bought; problem: one sentence, or
    ""."""

    need: Need
    stock: FromStock
    bought: Bought | None
    cost: Amount | None
    left_over: Figure | None
    keeps_until: date | None = None
    problem: str = ""

    @property
    def packs_text(self) -> str:
        """The packs in words: "3 × 20 kg bag, 1 × 5 kg bag"."""
        counts = self.bought.counts if self.bought else ()
        return ", ".join(f"{count} × {pack.name}" for pack, count in counts)


def usual_packs(need: Need, system: str = "metric") -> tuple[Pack, ...]:
    """The packs that a material usually comes in (packs.csv), without prices, in the unit of the need."""
    found = []
    for row in tables.rows("packs"):
        if row["material"] == need.material.kind:
            size = quantity(float(row["size"]), row["unit"])
            named = "tonne, loose" if row["form"] == "loose" else f"{text_of(size, system)} {row['word']}"
            amount = float(size.to(unit_of(need.material.unit)).magnitude)
            found.append(Pack(f"{need.material.key}-{row['size']}", named, amount, form=row["form"]))
    return tuple(found)


def buy(need: Need, packs: Sequence[Pack], held: Sequence[Held], day: date, in_currency: Currency) -> Buying:
    """Meet one need on `day` from stock and packs (sizes in the material's unit, prices in the smallest
    coin)."""
    stock = from_stock(need.enough, held, day)
    if stock.to_buy.nominal <= 0 or need.material.kind == "water":
        return Buying(need, stock, None, None, None)
    try:
        bought = cheapest(stock.to_buy.nominal, packs)
    except BadValue as bad:
        return Buying(need, stock, None, None, None, problem=bad.sentence)
    unit, months = need.material.unit, need.material.shelf_months
    key = need.material.key
    held_line = step(
        "{p} hold {h}",
        p=", ".join(f"{n} × {p.name}" for p, n in bought.counts),
        h=quantity(bought.amount, unit),
    )
    rest = step(
        "{h} − {b} = {l}",
        h=quantity(bought.amount, unit),
        b=stock.to_buy.value,
        l=quantity(bought.left_over, unit),
    )
    left = figure(f"left_{key}", "Left over", bought.left_over, unit, held_line, rest, source=CHEAPEST)
    return Buying(
        need,
        stock,
        bought,
        _cost(key, need, bought, in_currency),
        left,
        _months_on(day, months) if months else None,
    )


def _cost(key: str, need: Need, bought: Bought, in_currency: Currency) -> Amount | None:
    if bought.cost is None:
        return None
    lines, parts = [], []
    for pack, count in bought.counts:
        each = Money(pack.price * in_currency.coin, in_currency) if pack.price is not None else None
        if each is None:
            continue
        part = each.times(count)
        parts.append(part)
        said = {"n": str(count), "p": pack.name, "e": each.text(), "t": part.text()}
        lines.append(step("{n} × {p} at {e} = {t}", **said))
        if pack.delivery:
            brought = Money(pack.delivery * in_currency.coin, in_currency)
            parts.append(brought)
            lines.append(step("delivery of {p}: {d}", p=pack.name, d=brought.text()))
    return Amount(f"cost_{key}", need.material.name, total(parts, in_currency), tuple(lines), CHEAPEST)


def _months_on(day: date, months: int) -> date:
    """The same day of the month so many months on, or the last day of a shorter month."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    for last in range(day.day, 27, -1):
        try:
            return date(year, month + 1, last)
        except ValueError:
            continue
    return date(year, month + 1, day.day)
