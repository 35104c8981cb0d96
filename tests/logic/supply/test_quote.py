"""A quote adds up, keeps its states in order, comes back from storage, and says what a job earned."""

import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue, Conflict
from logic.supply.earned import earned
from logic.supply.estimate import Extra, estimate
from logic.supply.labour import Timed
from logic.supply.money import Money, currency, money
from logic.supply.quote import (
    STATES,
    Line,
    Quote,
    advance,
    from_json,
    price_per_area,
    to_json,
    totals,
    with_option,
    with_variation,
)
from logic.supply.tax import tax_rule, tax_rules
from tests.logic.supply.samples import DAY, job, sample_estimate, terms

GBP = currency("GBP")
LINES = st.lists(
    st.builds(
        lambda n, pence, rate, option, chosen: Line(
            f"l{n}",
            f"Line {n}",
            Money(Decimal(pence) / 100, GBP),
            tax_rate=Decimal(rate),
            option=option,
            chosen=chosen,
        ),
        st.integers(0, 10**6),
        st.integers(0, 10**7),
        st.sampled_from((0, 5, 20)),
        st.booleans(),
        st.booleans(),
    ),
    max_size=10,
)


def quote(*lines: Line, **more: object) -> Quote:
    return replace(Quote("1", DAY, GBP, lines), **more)


@given(LINES, st.sampled_from(tax_rules()))
def test_lines_add_up_to_the_total_whatever_the_tax_rule(lines: list[Line], rule: object) -> None:
    made = quote(*lines, rule=rule)
    sums = totals(made)
    counted = sum(line.net.coins for line in lines if line.chosen or not line.option)
    assert sums.net.money.coins == counted
    assert sums.gross.money.coins == counted + sum(one.tax.money.coins for one in sums.taxes)


@given(LINES, st.sampled_from(tax_rules()))
def test_a_stored_quote_comes_back_the_same(lines: list[Line], rule: object) -> None:
    made = quote(*lines, rule=rule, valid_until=date(2026, 10, 14), dates={"accepted": DAY}, state="accepted")
    assert from_json(json.loads(json.dumps(to_json(made)))) == made


def test_a_stored_sum_is_worked_out_again_and_not_believed() -> None:
    doc = to_json(quote(Line("a", "Sand", money(10, GBP))))
    assert totals(from_json({**doc, "net": "1.00", "gross": "1.00"})).gross.text() == "£10.00"


@pytest.mark.parametrize(
    "spoil",
    [{"lines": None}, {"day": "soon"}, {"currency": "XXX"}, {"state": "lost"}, {"lines": [{"key": "a"}]}],
)
def test_a_quote_that_cannot_be_read_is_said_in_a_sentence(spoil: dict[str, object]) -> None:
    with pytest.raises(BadValue):
        from_json({**to_json(quote()), **spoil})


def test_states_go_one_step_at_a_time() -> None:
    made = quote()
    for here, there in pairwise(STATES):
        assert made.state == here
        made = advance(made, there, DAY)
        assert made.dates[there] == DAY
    assert advance(made, "done", DAY).dates.keys() == {"accepted", "done"}
    with pytest.raises(Conflict):
        advance(quote(), "done", DAY)


def test_options_are_chosen_before_and_variations_agreed_after_acceptance() -> None:
    offered = Line("o", "Second dressing", money(40, GBP), option=True)
    made = quote(Line("a", "Coring", money(100, GBP)), offered)
    assert totals(made).gross.text() == "£100.00"
    made = with_option(made, "o", True)
    assert totals(made).gross.text() == "£140.00"
    variation = Line("v", "More sand", money(25, GBP))
    with pytest.raises(Conflict):
        with_variation(made, variation)
    made = with_variation(advance(made, "accepted", DAY), variation)
    assert [line.name for line in made.variations] == ["More sand"]
    assert totals(made).gross.text() == "£165.00"
    with pytest.raises(Conflict):
        with_option(made, "o", False)
    with pytest.raises(Conflict):
        with_variation(made, variation)


def test_the_price_of_a_square_metre_is_the_net_over_the_area() -> None:
    done = job()
    made = sample_estimate().quote
    each = price_per_area(made, done.outline.area).money.amount
    exact = Fraction(totals(made).net.money.amount) / Fraction(done.outline.area.nominal)
    assert abs(Fraction(each) - exact) <= Fraction(1, 200)


def test_an_estimate_has_a_line_for_each_thing_and_its_working() -> None:
    made = sample_estimate()
    kinds = [line.kind for line in made.quote.lines]
    assert kinds.count("work") == 6  # five works and setting up
    assert kinds.count("material") == 5  # sand, dry sand, seed, feed, drench; water is not bought
    assert kinds.count("hire") == kinds.count("travel") == 1
    assert made.unpriced == ()
    assert all(line.steps for line in made.quote.lines)
    travel = next(line for line in made.quote.lines if line.kind == "travel")
    assert travel.net.text() == "£10.80"  # 24 × 0.45
    hire = next(line for line in made.quote.lines if line.kind == "hire")
    assert hire.net.text() == "£106.25"  # 85 + 25 %


def test_what_has_no_price_yet_is_named() -> None:
    made = sample_estimate()
    bare = replace(terms(), hourly=None)
    done = job()
    found = estimate("1", DAY, done.works, done.outline.area, (), bare)
    assert len(found.unpriced) == len(done.works)
    assert found.quote.lines == ()
    assert made.quote.lines


def test_a_small_job_is_brought_to_the_minimum_charge() -> None:
    done = job([{"operation": "feeding", "n": "6 %", "nutrient_rate": "1 g/m^2"}])
    made = estimate("1", DAY, done.works, done.outline.area, (), terms()).quote
    assert totals(made).net.text() == "£150.00"
    assert made.lines[-1].kind == "minimum"


def test_an_option_is_offered_and_not_counted() -> None:
    made = sample_estimate(
        options=frozenset({0}), extras=(Extra("x", "Edging", money(30, GBP), option=True),)
    )
    assert [line.name for line in made.quote.options] == ["Hollow coring", "Edging"]
    assert totals(made.quote).net.money < totals(sample_estimate().quote).net.money


def test_own_timed_days_replace_the_rough_guess() -> None:
    days = tuple(Timed("coring", DAY, minutes, 2, 100.0) for minutes in (30, 36, 33))
    line = sample_estimate(timed=days).quote.lines[0]
    # 33 min × 2 people on 100 m² is 0.66 min/m²; 120 m² is 79.2 min, which is 1.25 h to the nearest quarter.
    assert line.detail == "1.25 h"
    assert line.net.text() == "£40.00"


def test_what_a_job_earned_is_takings_less_what_was_spent_for_each_hour() -> None:
    made = quote(
        Line("a", "Coring", money(300, GBP)), Line("b", "Sand", money(100, GBP), cost=money(80, GBP))
    )
    by_lines = earned(made, (), 240)
    assert [amount.text() for amount in by_lines] == ["£320.00", "£80.00"]
    real = earned(made, [("Sand", money(95, GBP)), ("Fuel", money(25, GBP))], 0)
    assert [amount.text() for amount in real] == ["£280.00"]
    assert real[0].working()[-1] == "£400.00 − £120.00 = £280.00"


def test_tax_shows_on_lines_by_the_rule_of_the_setting() -> None:
    made = quote(*[Line(f"l{n}", "Bag", money("1.12", GBP), tax_rate=Decimal(20)) for n in range(10)])
    by_line = totals(made).gross.text()
    by_total = totals(replace(made, rule=tax_rule("total_half_up"))).gross.text()
    assert (by_line, by_total) == ("£13.40", "£13.44")  # ten times 0.22, and 20 % of 11.20
