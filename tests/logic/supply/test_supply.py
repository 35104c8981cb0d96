"""Needs, stock, buying, loads, labour and the shopping list."""

import statistics
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic import tables
from logic.errors import BadValue
from logic.figure import figure
from logic.supply.business import FORM, read, terms_of
from logic.supply.buying import buy, usual_packs
from logic.supply.labour import Timed, rate_of, time_for, timed_of
from logic.supply.loads import BARROW, VEHICLE, barrowing, mass_of, payload, vehicle_loads
from logic.supply.money import currency
from logic.supply.needs import Job, material_of, needs
from logic.supply.packs import Pack
from logic.supply.shopping import Supplier, shopping_list
from logic.supply.stock import Held, counted_down, from_stock
from logic.units import SYSTEMS, nominal, unit_of
from logic.works.operations import operations
from tests.logic.supply.samples import DAY, buyings, job
from tests.logic.works.test_any_feed_value import JOBS as FEEDS
from tests.logic.works.test_any_value import JOBS

GBP = currency("GBP")
#: Amounts to fetch that are not bought as such: parts of others, or a check of a thing that is there already.
NOT_BOUGHT = {
    ("overseeding", "weigh_out_per_pass"),
    ("how_far", "needed"),
    ("sprayer_calibration", "water_volume"),
    ("seedbed_watering", "water_each"),
}


def test_what_is_ordered_by_any_work_is_a_need() -> None:
    named = {(row["operation"], row["figure"]) for row in tables.rows("needs")}
    for key, given_ in (*JOBS.items(), *FEEDS):
        for one in job([{"operation": key, **given_}]).works[0].figures:
            amount = one.order and one.unit in ("g", "kg", "mL", "L") and (key, one.key) not in NOT_BOUGHT
            if amount and not one.key.startswith("mixture_mass_"):
                assert (key, one.key) in named, (key, one.key)


def test_every_row_of_needs_names_a_figure_that_its_work_gives() -> None:
    assert {row["operation"] for row in tables.rows("needs")} <= {*operations()}
    for row in tables.rows("needs"):
        assert material_of(row["material"]).unit
    found = {need.material.key for need in needs([Job("a", job().works)], 0.9)}
    assert found == {"sand", "carrier_sand", "seed:browntop_bent", "feed:12_4_8", "drench", "water"}


def test_two_jobs_need_what_each_needs_and_share_the_rounding() -> None:
    """The ± of independent jobs add as squares, so together less is rounded up than apart."""
    one, other = job().works, job().works
    (alone, *_), (both, *_) = needs([Job("a", one)], 0.9), needs([Job("a", one), Job("b", other)], 0.9)
    assert both.total.nominal == pytest.approx(2 * alone.total.nominal)
    assert both.total.plus_minus == pytest.approx(2**0.5 * alone.total.plus_minus)
    assert both.enough.nominal < 2 * alone.enough.nominal
    assert both.total.working()[0].startswith("a, Topdressing: ")


def test_the_same_job_twice_keeps_its_error_whole() -> None:
    works = job().works
    (alone, *_), (both, *_) = needs([Job("a", works)], 0.9), needs([Job("a", works), Job("b", works)], 0.9)
    assert both.total.plus_minus == pytest.approx(2 * alone.total.plus_minus)


def test_enough_is_the_upper_limit_at_the_confidence() -> None:
    """Against the standard normal table: z of 90 % is 1.2816."""
    need = needs([Job("a", job().works)], 0.9)[0]
    assert need.enough.nominal == pytest.approx(need.total.nominal + 1.2816 * need.total.plus_minus, rel=1e-5)


@given(
    st.floats(0.1, 500),
    st.lists(st.tuples(st.floats(0, 200), st.integers(-40, 400)), max_size=6),
)
def test_stock_is_used_first_and_never_more_than_there_is(wanted: float, shelf: list) -> None:
    need = figure("enough_sand", "Sand", wanted, "kg")
    held = [Held(f"h{n}", "sand", kg, DAY + timedelta(days=d)) for n, (kg, d) in enumerate(shelf)]
    got = from_stock(need, held, DAY)
    assert got.used.nominal + got.to_buy.nominal == pytest.approx(wanted)
    good = sum(h.amount for h in held if h.best_before and h.best_before >= DAY)
    assert got.used.nominal == pytest.approx(min(wanted, good))
    after = counted_down(held, [(h.key, amount) for h, amount in got.taken])
    assert sum(h.amount for h in after) == pytest.approx(sum(h.amount for h in held) - got.used.nominal)
    assert all(h.amount >= 0 for h in after)
    days = [h.best_before for h, _ in got.taken]
    assert days == sorted(days)


def test_what_has_gone_off_is_passed_over_and_named() -> None:
    old = Held("old", "seed", 500, DAY - timedelta(days=1))
    got = from_stock(figure("enough_seed", "Seed", 400, "g"), [old], DAY)
    assert (got.used.nominal, got.to_buy.nominal, got.gone_off) == (0, 400, (old,))


def test_buying_says_cost_rest_and_how_long_it_keeps() -> None:
    found = {b.need.material.kind: b for b in buyings()}
    seed, sand, water = found["seed"], found["sand"], found["water"]
    assert seed.keeps_until == date(2028, 3, 14)  # 18 months
    assert sand.keeps_until is None
    assert sand.bought is not None
    assert sand.cost is not None
    assert sand.left_over is not None
    pence = sum(n * (p.price or 0) + p.delivery for p, n in sand.bought.counts)
    assert sand.cost.money.coins == pence
    assert sand.left_over.nominal == pytest.approx(sand.bought.amount - sand.stock.to_buy.nominal)
    assert water.bought is None


def test_a_month_without_that_day_ends_on_its_last() -> None:
    need = needs([Job("a", job().works)], 0.9)[2]
    got = buy(need, [Pack("a", "1 kg", 1000, 100)], (), date(2026, 8, 31), GBP)
    assert got.keeps_until == date(2028, 2, 29)


def test_usual_packs_are_in_the_unit_of_the_need() -> None:
    for need in needs([Job("a", job().works)], 0.9):
        for pack in usual_packs(need):
            assert pack.size > 0
            assert pack.price is None
    seed = next(n for n in needs([Job("a", job().works)], 0.9) if n.material.kind == "seed")
    assert [pack.size for pack in usual_packs(seed)] == [1000, 5000, 20000]


def test_payload_is_what_the_plate_leaves() -> None:
    """Payload = gross plated mass − kerb mass − people − tools, by the arithmetic of the definitions."""
    values = VEHICLE.read({"gross": "3500 kg", "kerb": "2100 kg", "people": "2", "tools": "220 kg"}).values
    assert values is not None
    room = payload(values)
    assert room.nominal == 3500 - 2100 - 180 - 220
    runs, each = vehicle_loads(2900, room)
    assert runs.nominal == 3
    assert each.nominal == pytest.approx(2900 / 3)
    towed = VEHICLE.read({"kerb": "2100 kg", "trailer_gross": "750 kg", "trailer_empty": "250 kg"}).values
    assert towed is not None
    assert payload(towed).nominal == 3500 - 2100 - 90 - 150 + 500


@pytest.mark.parametrize(
    "given_", [{"kerb": "3400 kg"}, {"kerb": "2000 kg", "trailer_gross": "700 kg", "trailer_empty": "700 kg"}]
)
def test_a_vehicle_that_is_full_already_is_said(given_: dict[str, str]) -> None:
    values = VEHICLE.read(given_).values
    assert values is not None
    with pytest.raises(BadValue):
        payload(values)


def test_barrow_loads_and_the_way_walked() -> None:
    """900 kg in loads of 80 kg are 12, each 25 m there and 25 m back: 600 m; at 3 km/h 12 min, and 12 × 2
    min."""
    values = BARROW.read({"load": "80 kg", "distance": "25 m", "speed": "3 km/hour", "turn": "2 min"}).values
    assert values is not None
    loads, way, time = barrowing(900, values)
    assert (loads.nominal, way.nominal) == (12, 600)
    assert time.nominal == pytest.approx(12 + 24)


def test_what_is_poured_is_carried_as_water() -> None:
    assert mass_of(figure("a", "Water", 15, "L")) == 15
    assert mass_of(figure("a", "Sand", 800, "kg")) == 800
    assert mass_of(figure("a", "Holes", 9, "")) is None


def test_a_rate_learned_from_days_is_their_mean_with_the_spread_of_one_more_day() -> None:
    """Mean and sample standard deviation against the standard library, × √(1 + 1/n)."""
    minutes = (55, 70, 61, 80)
    days = [Timed("coring", DAY, m, 1, 100.0) for m in minutes]
    rate = rate_of("coring", days)
    assert rate is not None
    assert rate.nominal == pytest.approx(statistics.mean(minutes) / 100)
    assert rate.plus_minus == pytest.approx(statistics.stdev(minutes) / 100 * (1 + 1 / 4) ** 0.5)
    assert "from 0.55 min/m² to 0.8 min/m²" in rate.working()[-1]
    assert str(rate.source).endswith("(your own setting)")


def test_without_days_the_time_is_called_a_rough_guess() -> None:
    time = time_for("coring", "Time", 100.0, ())
    assert time is not None
    assert "rough guess" in time.working()[0]
    assert time.plus_minus > 0.3 * time.nominal
    assert time_for("pan_test", "Time", 100.0, ()) is None


def test_a_time_that_is_not_complete_teaches_nothing() -> None:
    assert timed_of("coring", DAY, {"minutes": ""}, 100) is None
    assert timed_of("coring", DAY, {"minutes": "90 min", "people": "2"}, 0) is None
    taken = timed_of("coring", DAY, {"minutes": "1.5 h", "people": "2"}, 100)
    assert taken is not None
    assert taken.rate == pytest.approx(1.8)


def test_the_list_is_by_supplier_with_the_last_day_to_order() -> None:
    pit = Supplier("pit", "Lower Pit Sands", "01632 960 555", 5, "Has the sports sand.")
    text = shopping_list(buyings(), [pit], DAY, "Orchard green")
    assert text.startswith(
        "Orchard green, 2026-09-14\n\nLower Pit Sands 01632 960 555\nOrder by 2026-09-09\n"
    )
    assert "Has the sports sand.\n[ ] Sports sand: 1 × 850 kg bulk bag" in text
    assert text.index("Sports sand") < text.index("To buy") < text.index("Seed, Browntop bent")
    assert "Water" not in text


def test_the_list_names_what_comes_from_the_store_and_what_has_no_pack() -> None:
    need = needs([Job("a", job().works)], 0.9)[0]
    held = [Held("h", "sand", 100)]
    text = shopping_list([buy(need, (), held, DAY, GBP)], (), DAY, "Green")
    assert "From the store\n[ ] Sports sand: 100 kg" in text
    assert "There is no pack to buy this in" in text


@pytest.mark.parametrize("typed", ["£12.50", "12.50", "€ 12.50", "12,50"])
def test_money_is_read_with_and_without_its_sign(typed: str) -> None:
    hourly = terms_of({"hourly": typed}).hourly
    assert hourly is not None
    assert f"{hourly.amount}" == "12.5"


def test_a_term_that_cannot_be_read_is_named_and_counts_as_not_filled_in() -> None:
    given_ = {"hourly": "lots", "tax_rate": "20 %"}
    assert list(read(given_).problems) == ["hourly"]
    assert terms_of(given_).hourly is None
    assert terms_of(given_).tax_rate == 20


def test_the_terms_have_a_default_for_all_that_is_asked() -> None:
    assert read({}).problems == {}
    assert {item.key for item in FORM.fields} == set(terms_of({}).__dict__)


def test_figures_read_in_every_system() -> None:
    for need in needs([Job("a", job().works)], 0.9):
        for system in SYSTEMS:
            assert all(need.enough.working(system))
            assert need.enough.text(system)
        assert nominal(need.total.value.to(unit_of(need.material.unit)).magnitude) == need.total.nominal
