"""What the user does with supply and quotes: what is bought and charged for a visit, and each step of a
quote."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from logic.errors import SwardError
from logic.figure import Figure
from logic.records import goods, trade
from logic.records.drafts import put_at
from logic.records.types import Product, Record, Supplier, Visit
from logic.supply.business import Terms, terms_of
from logic.supply.buying import Buying, buy, usual_packs
from logic.supply.earned import earned
from logic.supply.estimate import Estimate, estimate
from logic.supply.labour import Timed
from logic.supply.loads import BARROW, VEHICLE, barrowing, mass_of, payload, vehicle_loads
from logic.supply.money import Amount
from logic.supply.needs import Job, Material, needs
from logic.supply.quote import Line, Quote, advance, to_json, with_option, with_variation
from logic.supply.shopping import shopping_list
from mobile_app.app import App, Notice
from mobile_app.jobs import file_name


def terms(app: App) -> Terms:
    """The terms of trade of the settings."""
    return terms_of(app.settings.business)


def day_of(visit: Visit) -> date:
    """The day of a visit where the phone is."""
    return visit.started.astimezone().date()


def same_day(app: App, visit: Visit) -> list[Visit]:
    """All visits on the day of this one, itself first."""
    others = [v for v in app.book.all(Visit) if v.id != visit.id and day_of(v) == day_of(visit)]
    return [visit, *others]


def buyings(app: App, visits: Sequence[Visit]) -> tuple[Buying, ...]:
    """What is to be bought for one visit, or for all of a day."""
    jobs = [Job(app.sward_of(visit).name, app.standing(visit).worked) for visit in visits]
    products, unit = app.book.all(Product), terms(app).currency
    found = []
    for need in needs(jobs, app.settings.confidence):
        packs = goods.packs_of(products, need.material, unit) or usual_packs(need, app.system)
        found.append(buy(need, packs, goods.held_of(products, need.material), day_of(visits[0]), unit))
    return tuple(found)


def timed(app: App, but: Visit | None = None) -> tuple[Timed, ...]:
    """Every timed work in the book, oldest first; those of one visit left out."""
    found: list[Timed] = []
    for visit in sorted(app.book.all(Visit), key=lambda v: v.started):
        if visit.supply.get("times") and (but is None or visit.id != but.id):
            found += own_times(app, visit)
    return tuple(found)


def own_times(app: App, visit: Visit) -> tuple[Timed, ...]:
    """The timed works of one visit."""
    area = app.standing(visit).area
    return trade.timed_days(visit, area.nominal) if area else ()


def reckoned(app: App, visit: Visit) -> Estimate | None:
    """The quote as it comes out today; None while there is no area."""
    stood = app.standing(visit)
    if stood.area is None:
        return None
    unit = terms(app).currency
    found = estimate(
        trade.number_of(visit, app.book.all(Visit)),
        day_of(visit),
        stood.worked,
        stood.area,
        buyings(app, [visit]),
        terms(app),
        timed(app, visit),
        trade.extras_of(visit, unit),
        trade.distance_of(visit),
        trade.options_of(visit),
    )
    quote = found.quote
    for key in visit.supply.get("chosen") or ():
        quote = with_option(quote, str(key), True)
    return replace(found, quote=quote)


def quote(app: App, visit: Visit) -> Quote | None:
    """The quote as it was accepted, else as it comes out today. Raises BadValue for a stored one that is
    broken."""
    stored = trade.quote_of(visit)
    if stored is not None:
        return stored
    found = reckoned(app, visit)
    return found.quote if found and found.quote.lines else None


def what_was_earned(app: App, visit: Visit, agreed: Quote) -> tuple[Amount, ...]:
    """What the job really earned, of what was spent and timed."""
    spent = trade.spent_of(visit, agreed.currency)
    return earned(agreed, spent, trade.minutes_of(own_times(app, visit)))


def loads(app: App, found: Sequence[Buying]) -> tuple[tuple[Figure, ...], str]:
    """Payload, runs and barrow loads for what is carried, and a sentence where the vehicle can't be
    reckoned."""
    carried = [b.need.enough for b in found if b.need.material.kind != "water"]
    mass = sum(m for m in (mass_of(one) for one in carried) if m)
    sand = sum(b.need.enough.nominal for b in found if b.need.material.kind == "sand")
    figures: tuple[Figure, ...] = ()
    said = ""
    vehicle = VEHICLE.read(app.settings.vehicle).values
    if vehicle is not None and mass:
        try:
            room = payload(vehicle)
            figures = (room, *vehicle_loads(mass, room))
        except SwardError as error:
            said = error.sentence
    barrow = BARROW.read(app.settings.barrow).values
    if barrow is not None and sand:
        figures = (*figures, *barrowing(sand, barrow))
    return figures, said


# --- what the user does ---------------------------------------------------------------------


def change(app: App, path: str, value: Any) -> None:
    """One value of the visit's supply as typed."""
    visit = app.visit_in_hand()
    app.edit(replace(visit, supply=put_at(visit.supply, path, value)))


def toggle(app: App, key: str, entry: Any) -> None:
    """Put an entry into a list of the visit's supply ("options", "chosen"), or take it out."""
    visit = app.visit_in_hand()
    there = list(visit.supply.get(key) or [])
    there = [item for item in there if item != entry] if entry in there else [*there, entry]
    app.edit(trade.with_supply(visit, **{key: there}))


def change_terms(app: App, path: str, value: Any, part: str = "business") -> None:
    """One value of the terms of trade, the vehicle or the barrow, as typed."""
    changed: dict[str, Any] = {part: put_at(getattr(app.settings, part), path, value)}
    app.edit_settings(replace(app.settings, **changed))


def add_product(app: App, material: Material) -> None:
    """A new pack of a material, to be filled in."""
    unit = terms(app).currency.code
    app.save(Product(material=material.key, currency=unit), f"new pack of {material.name}")


def change_product(app: App, product: Product, path: str, value: Any) -> None:
    """One value of a product as typed; a new price is dated today."""
    text = "" if value is None else str(value)
    changed = replace(app.book.get(Product, product.id), **{path: text})  # type: ignore[arg-type]
    if path == "price":
        changed = replace(changed, priced=date.today().isoformat(), currency=terms(app).currency.code)
    app.save(changed, "price or stock")


def add_supplier(app: App) -> None:
    """A new supplier, to be filled in."""
    app.save(Supplier(), "new supplier")


def change_supplier(app: App, supplier: Supplier, path: str, value: Any) -> None:
    """One value of a supplier as typed."""
    text = "" if value is None else str(value)
    app.save(replace(app.book.get(Supplier, supplier.id), **{path: text}), "supplier")  # type: ignore[arg-type]


def share_list(app: App, visits: Sequence[Visit]) -> None:
    """The shopping list as a text file, to share or keep."""
    visit = visits[0]
    title = app.sward_of(visit).name if len(visits) == 1 else "All jobs of the day"
    text = list_text(app, visits, title)
    name = file_name(title, "to buy", day_of(visit).isoformat(), ending="txt")
    app.device.offer(name, "text/plain", text.encode("utf-8"), "Shopping list")


def list_text(app: App, visits: Sequence[Visit], title: str) -> str:
    """The shopping list of these visits."""
    known = goods.suppliers_of(app.book.all(Supplier))
    return shopping_list(buyings(app, visits), known, day_of(visits[0]), title, app.system)


def move_on(app: App, state: str) -> None:
    """The quote of the visit in hand one step on: accepted, done or invoiced. When done, stock is counted
    down."""
    visit = app.visit_in_hand()
    try:
        made = quote(app, visit)
        if made is None:
            return
        changed = trade.with_quote(visit, advance(made, state, date.today()))
    except SwardError as error:
        app.change(notice=Notice(error.sentence, serious=True))
        return
    records: list[Record] = []
    if state == "done":
        used: list[list[Any]] = [
            [held.key, amount, buying.need.material.unit]
            for buying in buyings(app, [visit])
            for held, amount in buying.stock.taken
        ]
        changed = trade.with_supply(changed, used=used)
        records = [
            *goods.counted_down(app.book.all(Product), [(str(k), float(a), str(u)) for k, a, u in used])
        ]
    _save(app, changed, records, f"quote {state}")


def move_back(app: App) -> None:
    """The quote one step back; what was counted down is put back, an accepted one is reckoned anew."""
    visit = app.visit_in_hand()
    made = trade.quote_of(visit)
    if made is None:
        return
    before = {"accepted": "quote", "done": "accepted", "invoiced": "done"}[made.state]
    records: list[Record] = []
    changed = trade.with_quote(visit, None if before == "quote" else advance(made, before, date.today()))
    if made.state == "done":
        back = [(str(k), float(a), str(u)) for k, a, u in visit.supply.get("used") or ()]
        records = [*goods.counted_down(app.book.all(Product), back, sign=1)]
        changed = trade.with_supply(changed, used=None)
    _save(app, changed, records, f"quote back to {before}")


def _save(app: App, visit: Visit, more: list[Record], why: str) -> None:
    app.save_now()
    if app.save_all([visit, *more], why):
        app.change(visit=visit, notice=Notice(f"Done: {why}.", undo=True))


def add_variation(app: App, name: str, amount: str) -> None:
    """A line agreed since: in the quote at once, when name and amount can be read."""
    visit = app.visit_in_hand()
    made = trade.quote_of(visit)
    price = goods.money_typed(amount, made.currency) if made else None
    if made is None or price is None or not name.strip():
        app.change(notice=Notice("Say what was agreed, and what it costs.", serious=True))
        return
    own = terms(app)
    line = Line(f"since{len(made.lines)}", name.strip(), price.rounded(), "extra", tax_rate=own.tax_rate)
    try:
        app.edit_undoable(trade.with_quote(visit, with_variation(made, line)), "variation added")
    except SwardError as error:
        app.change(notice=Notice(error.sentence, serious=True))


def give_invoice_data(app: App) -> None:
    """Number, lines and sums as JSON, for whatever makes the invoice."""
    visit = app.visit_in_hand()
    made = quote(app, visit)
    if made is None:
        return
    sward = app.sward_of(visit)
    client = app.client_of(sward)
    data = {"client": client.name if client else "", "sward": sward.name, **to_json(made)}
    text = json.dumps(data, ensure_ascii=False, indent=1).encode("utf-8")
    name = file_name(sward.name, made.number, "invoice data", ending="json")
    app.device.offer(name, "application/json", text, f"Invoice data for {sward.name}")
