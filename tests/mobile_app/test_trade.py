"""Supply, quote and papers as the user goes through them, on a real book."""

import asyncio
import io
import json
from dataclasses import replace

import pytest
from pypdf import PdfReader

from logic.records import trade as stored
from logic.records.types import Product, Settings, Supplier, Visit
from logic.records.visits import with_method, with_work, with_work_value
from logic.supply.quote import totals
from mobile_app import trade
from mobile_app.jobs import DOCUMENTS, make_document
from tests.mobile_app.stand import PAUSE, Stand, played, type_in

AIR = ["4", "4.5", "6", "8", "11.5", "14.5", "16.5", "16", "14", "10.5", "7", "5"]
TERMS = {"hourly": "£32", "tax_rate": "20 %", "profit": "25 %", "travel_rate": "0.45"}


def measured(hand: Stand) -> Visit:
    """A green of 10 m × 12 m that is cored, seeded and dressed, in the hands of a firm with terms."""
    hand.app.edit_settings(Settings(firm="Fern & Sons", business=TERMS))
    visit = hand.open_visit()
    hand.app.edit(with_method(visit, "rectangle"))
    type_in(hand, "length", "12 m")
    type_in(hand, "width", "10 m")
    visit = hand.app.visit_in_hand()
    for place, (key, values) in enumerate(
        (
            (
                "coring",
                {
                    "tine_diameter": "12 mm",
                    "depth": "75 mm",
                    "spacing_across": "5 cm",
                    "spacing_along": "5 cm",
                },
            ),
            ("overseeding", {"rate": "8 g/m^2"}),
            ("topdressing", {"depth": "2 mm"}),
        )
    ):
        visit = with_work(visit, key)
        for field, value in values.items():
            visit = with_work_value(visit, place, field, value)
    hand.app.edit(visit)
    hand.app.save_now()
    return hand.app.visit_in_hand()


def sand(hand: Stand, **more: str) -> Product:
    product = Product(material="sand", name="25 kg bag", pack="25 kg", price="4.95", stock="60 kg", **more)
    hand.app.save(product, "sand")
    return product


def test_stock_is_used_first_then_the_cheapest_packs_are_bought() -> None:
    async def story(hand: Stand) -> None:
        visit = measured(hand)
        pit = Supplier(name="Lower Pit Sands", lead_days="4")
        hand.app.save(pit, "supplier")
        sand(hand, supplier_id=pit.id)
        (one, *_) = trade.buyings(hand.app, [visit])
        assert one.stock.used.nominal == 60
        assert one.bought is not None
        bags = one.bought.counts[0][1]
        assert bags * 25 >= one.stock.to_buy.nominal > (bags - 1) * 25
        assert one.cost is not None
        assert one.cost.money.coins == bags * 495
        trade.share_list(hand.app, [visit])
        ((name, mime, data, _),) = hand.device.offered
        assert (name.rpartition(".")[2], mime) == ("txt", "text/plain")
        text = data.decode()
        assert "Lower Pit Sands\nOrder by" in text
        assert f"[ ] Sports sand: {bags} × 25 kg bag" in text
        assert "From the store\n[ ] Sports sand: 60 kg" in text

    played(story)


def test_two_jobs_on_a_day_are_bought_for_together() -> None:
    async def story(hand: Stand) -> None:
        first = measured(hand)
        hand.app.save(replace(first, id="another"), "the same again")
        day = trade.same_day(hand.app, first)
        assert len(day) == 2
        (alone, *_), (both, *_) = trade.buyings(hand.app, [first]), trade.buyings(hand.app, day)
        assert both.need.total.nominal == pytest.approx(2 * alone.need.total.nominal)

    played(story)


def test_a_quote_goes_from_reckoned_to_invoiced_and_counts_stock_down() -> None:
    async def story(hand: Stand) -> None:
        visit = measured(hand)
        bag = sand(hand)
        made = trade.quote(hand.app, visit)
        assert made is not None
        before = totals(made).gross.text()
        trade.move_on(hand.app, "accepted")
        # A price that changes now no longer changes what was agreed.
        trade.change_product(hand.app, hand.app.book.get(Product, bag.id), "price", "99")
        kept = trade.quote(hand.app, hand.app.visit_in_hand())
        assert kept is not None
        assert totals(kept).gross.text() == before
        trade.add_variation(hand.app, "Edging", "£30")
        trade.move_on(hand.app, "done")
        assert hand.app.book.get(Product, bag.id).stock == "0 kg"
        trade.change(hand.app, "spent", [{"name": "Sand", "amount": "£20"}])
        hand.app.edit(stored.with_time(hand.app.visit_in_hand(), "coring", "minutes", "120 min"))
        now = trade.quote(hand.app, hand.app.visit_in_hand())
        assert now is not None
        earned = trade.what_was_earned(hand.app, hand.app.visit_in_hand(), now)
        assert earned[0].money.coins == totals(now).net.money.coins - 2000
        assert len(earned) == 2
        trade.move_on(hand.app, "invoiced")
        trade.give_invoice_data(hand.app)
        data = json.loads(hand.device.offered[-1][2])
        assert data["state"] == "invoiced"
        assert data["lines"][-1]["variation"] is True
        assert data["gross"] == f"{totals(now).gross.money.amount}"
        trade.move_back(hand.app)
        trade.move_back(hand.app)
        assert hand.app.book.get(Product, bag.id).stock == "60 kg"
        trade.move_back(hand.app)
        assert "quote" not in hand.app.visit_in_hand().supply
        assert stored.quote_of(hand.stored()) is None

    played(story)


def test_a_variation_that_cannot_be_read_is_said_and_changes_nothing() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        trade.move_on(hand.app, "accepted")
        before = hand.app.visit_in_hand()
        trade.add_variation(hand.app, "Edging", "a lot")
        assert hand.app.visit_in_hand() == before
        assert hand.said == "Say what was agreed, and what it costs."

    played(story)


def test_options_count_only_when_they_are_taken() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        trade.change(hand.app, "extras", [{"name": "First cut", "amount": "£40", "option": "yes"}])
        made = trade.quote(hand.app, hand.app.visit_in_hand())
        assert made is not None
        net = totals(made).net.money
        trade.toggle(hand.app, "chosen", made.options[0].key)
        taken = trade.quote(hand.app, hand.app.visit_in_hand())
        assert taken is not None
        assert totals(taken).net.money.coins == net.coins + 4000
        trade.toggle(hand.app, "chosen", made.options[0].key)
        assert trade.quote(hand.app, hand.app.visit_in_hand()) == made
        await asyncio.sleep(PAUSE)
        assert hand.stored().supply["extras"][0]["amount"] == "£40"

    played(story)


def test_own_timed_days_of_other_visits_set_the_price() -> None:
    async def story(hand: Stand) -> None:
        visit = measured(hand)
        guessed = trade.reckoned(hand.app, visit)
        done = stored.with_time(
            stored.with_time(visit, "coring", "minutes", "60 min"), "coring", "people", "1"
        )
        hand.app.save(replace(done, id="before"), "timed")
        learned = trade.reckoned(hand.app, visit)
        assert guessed is not None
        assert learned is not None
        assert "rough guess" in guessed.quote.lines[0].steps[0]
        assert learned.quote.lines[0].detail == "1 h"

    played(story)


def test_what_is_carried_is_held_against_the_vehicle() -> None:
    async def story(hand: Stand) -> None:
        visit = measured(hand)
        found = trade.buyings(hand.app, [visit])
        assert {f.key for f in trade.loads(hand.app, found)[0]} == {
            "barrow_loads",
            "barrow_way",
            "barrow_time",
        }
        trade.change_terms(hand.app, "kerb", "2100 kg", "vehicle")
        assert "payload" in {f.key for f in trade.loads(hand.app, found)[0]}
        trade.change_terms(hand.app, "tools", "5000 kg", "vehicle")
        assert "full already" in trade.loads(hand.app, found)[1]

    played(story)


@pytest.mark.parametrize("key", [key for key, _, _ in DOCUMENTS])
def test_every_document_is_made_and_looked_at_before_it_goes_out(key: str) -> None:
    async def story(hand: Stand) -> None:
        visit = measured(hand)
        hand.app.save(replace(hand.app.sward_of(visit), climate={"air": AIR}), "temperatures")
        await make_document(hand.app, key, offer=False)
        assert hand.device.offered == []
        assert hand.app.state.made[0] == key
        made = hand.app.state.made[3]
        assert made.sheets
        assert made.warning == ""
        await make_document(hand.app, key)
        ((name, mime, data, _),) = hand.device.offered
        assert mime == "application/pdf"
        assert data == made.file
        assert len(PdfReader(io.BytesIO(data)).pages) == len(made.sheets)
        area = hand.app.standing(visit).area
        words = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
        assert area is not None
        assert key in ("aftercare", "season") or area.text_with_margin() in " ".join(words.split())
        assert name.startswith("Back-green")

    played(story)


def test_odd_names_are_warned_of() -> None:
    async def story(hand: Stand) -> None:
        visit = measured(hand)
        hand.app.save(replace(hand.app.sward_of(visit), name="緑 green"), "name")
        await make_document(hand.app, "job", offer=False)
        assert "can't be printed" in hand.app.state.made[3].warning

    played(story)


def test_a_quote_without_a_price_is_not_made() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        hand.app.edit_settings(Settings())
        await make_document(hand.app, "quote")
        assert hand.device.offered == []
        assert hand.said == "Nothing has a price yet: fill in your terms and prices first."

    played(story)


def test_paper_and_working_follow_the_settings() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        hand.app.edit_settings(replace(hand.app.settings, paper="letter", working=False))
        await make_document(hand.app, "summary")
        reader = PdfReader(io.BytesIO(hand.device.offered[0][2]))
        assert float(reader.pages[0].mediabox.width) == 612  # US Letter, 8.5 in
        assert "How we worked this out" not in " ".join(page.extract_text() for page in reader.pages)

    played(story)
