"""What is typed for buying and charging: read as far as it can be, kept as it is, counted down and put
back."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from logic.records import goods, trade
from logic.records.documents import from_doc, to_doc
from logic.records.types import Product, Settings, Supplier, Visit
from logic.supply.money import currency
from logic.supply.needs import material_of
from logic.supply.quote import Line, Quote, advance
from logic.supply.stock import Held

GBP = currency("GBP")
SAND, SEED = material_of("sand"), material_of("seed", "Browntop bent")
BULK = Product(
    material="sand", name="Bulk bag", pack="850 kg", price="£92", delivery="45", supplier_id="s", stock="37"
)


@pytest.mark.parametrize(
    "record", [BULK, Supplier(name="Pit", lead_days="5"), Settings(business={"hourly": "32"})]
)
def test_the_new_records_survive_storage(record: Product) -> None:
    assert from_doc(type(record), to_doc(record)) == record


def test_a_visit_of_an_older_app_has_nothing_to_buy() -> None:
    doc = to_doc(Visit())
    del doc["supply"]
    assert from_doc(Visit, doc).supply == {}


def test_a_product_is_a_pack_in_the_unit_of_its_material() -> None:
    (pack,) = goods.packs_of([BULK], SAND, GBP)
    assert (pack.size, pack.price, pack.delivery, pack.fewest, pack.supplier) == (850, 9200, 4500, 1, "s")
    (seed,) = goods.packs_of([Product(material=SEED.key, pack="5 kg", price="84.50")], SEED, GBP)
    assert (seed.size, seed.price, seed.name) == (5000, 8450, "5 kg")


@pytest.mark.parametrize("pack", ["", "a lot", "25 m", "0 kg", "-5 kg", "1e400 kg"])
def test_a_pack_that_cannot_be_read_is_left_out(pack: str) -> None:
    assert goods.packs_of([replace(BULK, pack=pack)], SAND, GBP) == ()


@pytest.mark.parametrize("price", ["", "dear", "-5"])
def test_a_price_that_cannot_be_read_is_not_known(price: str) -> None:
    assert goods.packs_of([replace(BULK, price=price)], SAND, GBP)[0].price is None


def test_a_price_in_another_currency_is_not_known() -> None:
    assert goods.packs_of([replace(BULK, currency="EUR")], SAND, GBP)[0].price is None


def test_stock_is_read_and_counted_down_and_put_back() -> None:
    held = goods.held_of([replace(BULK, best_before="2027-03-01"), replace(BULK, stock="")], SAND)
    assert held == (Held(BULK.id, "sand", 37.0, date(2027, 3, 1), "Bulk bag"),)
    (less,) = goods.counted_down([BULK], [(BULK.id, 12.5, "kg")])
    assert less.stock == "24.5 kg"
    (back,) = goods.counted_down([less], [(BULK.id, 12.5, "kg")], sign=1)
    assert back.stock == "37 kg"
    (none,) = goods.counted_down([BULK], [(BULK.id, 99.0, "kg")])
    assert none.stock == "0 kg"


def test_the_form_of_a_product_reads_what_is_stored() -> None:
    form = goods.product_form(SEED, [Supplier(id="s", name="Pit")])
    given = goods.given_of(Product(material=SEED.key, pack="5 kg", price="£84.50", supplier_id="s"))
    reading = form.read(given)
    assert reading.problems == {}
    assert reading.values is not None
    assert (reading.values.pack, reading.values.price) == (5.0, 84.5)


def test_suppliers_go_on_the_list_with_their_lead_time() -> None:
    (one,) = goods.suppliers_of([Supplier(name=" ", phone="01", lead_days="5")])
    assert (one.name, one.lead_days) == ("Supplier", 5)


VISIT = Visit(
    started=datetime(2026, 9, 14, 9, tzinfo=UTC),
    works=({"operation": "coring", "values": {}},),
    supply={
        "distance": "24",
        "extras": [
            {"name": "Corer", "amount": "£85", "kind": "hire"},
            {"name": "Edging", "amount": "30", "option": "yes"},
            {"name": "", "amount": "5"},
            {"name": "Half typed", "amount": "1 or"},
        ],
        "spent": [{"name": "Sand", "amount": "£95.20"}],
        "options": [0, "x"],
        "times": {"coring": {"minutes": "90 min", "people": "2"}},
    },
)


def test_what_is_complete_is_read_and_the_rest_waits() -> None:
    extras = trade.extras_of(VISIT, GBP)
    assert [(e.name, e.amount.text(), e.kind, e.option) for e in extras] == [
        ("Corer", "£85.00", "hire", False),
        ("Edging", "£30.00", "extra", True),
    ]
    assert trade.distance_of(VISIT) == 24
    assert trade.options_of(VISIT) == {0}
    assert [(what, amount.text()) for what, amount in trade.spent_of(VISIT, GBP)] == [("Sand", "£95.20")]


@pytest.mark.parametrize(
    "odd", [{"extras": "x", "distance": "far", "options": 3, "times": [1], "spent": [None]}, {}]
)
def test_odd_stored_texts_break_nothing(odd: dict[str, object]) -> None:
    visit = replace(VISIT, supply=odd)
    assert trade.extras_of(visit, GBP) == trade.spent_of(visit, GBP) == ()
    assert trade.distance_of(visit) == 0
    assert trade.options_of(visit) == frozenset()
    assert trade.timed_days(visit, 100) == ()
    assert trade.quote_of(visit) is None


def test_a_timed_work_teaches_its_rate() -> None:
    (day,) = trade.timed_days(VISIT, 100)
    assert (day.operation, day.day, day.rate) == ("coring", date(2026, 9, 14), 1.8)
    assert trade.minutes_of([day]) == 180
    changed = trade.with_time(VISIT, "coring", "people", "1")
    assert trade.timed_days(changed, 100)[0].rate == 0.9


def test_an_accepted_quote_is_kept_with_the_visit_and_can_be_let_go() -> None:
    quote = advance(
        Quote("1", date(2026, 9, 14), GBP, (Line("a", "Coring", GBP_100),)), "accepted", date(2026, 9, 15)
    )
    visit = trade.with_quote(VISIT, quote)
    assert trade.quote_of(from_doc(Visit, to_doc(visit))) == quote
    assert trade.quote_of(trade.with_quote(visit, None)) is None
    assert trade.with_quote(visit, None).supply == VISIT.supply


GBP_100 = goods.money_typed("100", GBP)


def test_quotes_are_numbered_by_their_year() -> None:
    later = replace(VISIT, id="b", started=datetime(2026, 10, 1, tzinfo=UTC))
    old = replace(VISIT, id="c", started=datetime(2025, 10, 1, tzinfo=UTC))
    assert trade.number_of(later, [later, VISIT, old]) == "2026-002"
    assert trade.number_of(VISIT, [later, VISIT, old]) == "2026-001"
