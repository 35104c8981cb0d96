"""Money by its laws: exact sums, one rounding, what stands on paper adds up."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic import tables
from logic.errors import BadValue
from logic.supply.money import Money, currency, decimal_of, money, total
from logic.supply.pricing import MARGIN, MARK_UP, minimum_of, price_of
from logic.supply.tax import tax_of_line, tax_on, tax_rules

GBP = currency("GBP")
PENCE = st.integers(-(10**9), 10**9)
NETS = st.lists(st.tuples(st.integers(0, 10**7), st.sampled_from((0, 5, 13.5, 20))), min_size=1, max_size=12)


def pounds(pence: int) -> Money:
    return Money(Decimal(pence) / 100, GBP)


@given(st.lists(PENCE, max_size=30))
def test_a_sum_is_exact(pence: list[int]) -> None:
    """Against Python's whole numbers."""
    assert total((pounds(p) for p in pence), GBP).coins == sum(pence)


@given(PENCE, st.sampled_from(("half_up", "half_down", "down")), st.integers(0, 999))
def test_rounding_moves_by_less_than_a_coin_and_never_past_a_half(pence: int, rule: str, mills: int) -> None:
    exact = Fraction(pence, 100) + Fraction(mills, 100_000)
    rounded = Fraction(Money(Decimal(pence) / 100 + Decimal(mills) / 100_000, GBP).rounded(rule).amount)
    moved = abs(rounded - exact)
    assert moved < Fraction(1, 100)
    if rule != "down":
        assert moved <= Fraction(1, 200)
    else:
        assert abs(rounded) <= abs(exact)
    if moved == Fraction(1, 200) and rule == "half_up":
        assert abs(rounded) > abs(exact)


@pytest.mark.parametrize("rule", tax_rules(), ids=lambda rule: rule.key)
@given(lines=NETS)
def test_net_and_taxes_add_up_and_tax_is_within_a_coin_of_the_exact(rule: object, lines: list) -> None:
    """By line each line may be off by a penny at most, by total each rate."""
    nets = [(pounds(p), decimal_of(rate)) for p, rate in lines]
    found = tax_on(nets, rule, GBP)  # type: ignore[arg-type]
    assert sum(one.net.coins for one in found) == sum(p for p, _ in lines)
    for one in found:
        mine = [net for net, rate in nets if rate == one.rate]
        exact = sum(Fraction(net.amount) for net in mine) * Fraction(one.rate) / 100
        slack = len(mine) if rule.basis == "line" else 1  # type: ignore[attr-defined]
        assert abs(Fraction(one.tax.money.amount) - exact) <= Fraction(slack, 100)
        assert one.tax.money.amount == one.tax.money.rounded().amount


@given(NETS)
def test_tax_by_line_is_the_sum_of_what_each_line_would_show(lines: list) -> None:
    nets = [(pounds(p), decimal_of(rate)) for p, rate in lines]
    shown = sum(tax_of_line(net, rate, "half_up").coins for net, rate in nets)
    assert sum(one.tax.money.coins for one in tax_on(nets, tax_rules()[0], GBP)) == shown


@given(st.integers(1, 10**7), st.integers(0, 99))
def test_margin_and_mark_up_are_what_their_names_say(pence: int, percent: int) -> None:
    """Margin = (price − cost) / price and mark-up = (price − cost) / cost, to the half penny of the price."""
    cost = pounds(pence)
    by_margin = price_of("p", "Sand", cost, Decimal(percent), MARGIN).money.amount
    by_mark_up = price_of("p", "Sand", cost, Decimal(percent), MARK_UP).money.amount
    half = Fraction(1, 200)
    assert abs(Fraction(by_margin) * (100 - percent) / 100 - Fraction(cost.amount)) <= half
    assert abs(Fraction(by_mark_up) - Fraction(cost.amount) * (100 + percent) / 100) <= half
    assert by_margin >= by_mark_up


def test_the_working_says_which_of_the_two_it_was() -> None:
    cost = money("100", GBP)
    assert price_of("p", "Sand", cost, Decimal(25), MARK_UP).working() == (
        "£100.00 × (1 + 25 % mark-up) = £125.00",
    )
    assert price_of("p", "Sand", cost, Decimal(25), MARGIN).working() == (
        "£100.00 ÷ (1 − 25 % margin) = £133.33",
    )


@pytest.mark.parametrize(("percent", "kind"), [(100, MARGIN), (250, MARGIN), (-1, MARK_UP)])
def test_a_profit_that_cannot_be_is_refused(percent: int, kind: str) -> None:
    with pytest.raises(BadValue):
        price_of("p", "Sand", money(1, GBP), Decimal(percent), kind)


def test_the_minimum_charge_fills_up_and_no_more() -> None:
    more = minimum_of(pounds(15000), pounds(12050))
    assert more is not None
    assert more.text() == "£29.50"
    assert minimum_of(pounds(15000), pounds(15000)) is None


def test_a_number_is_taken_as_it_is_written() -> None:
    assert decimal_of(0.1) == Decimal("0.1")
    assert money(12.34, GBP).text() == "£12.34"


@pytest.mark.parametrize(
    ("code", "shown"),
    [("GBP", "£1,234.50"), ("SEK", "1,234.50 kr"), ("CHF", "CHF 1,234.50"), ("JPY", "¥1,235")],
)
def test_money_is_written_as_its_currency_is(code: str, shown: str) -> None:
    assert money("1234.50", currency(code)).text() == shown
    assert money("-1234.50", currency(code)).text() == f"−{shown}"


def test_currencies_do_not_mix() -> None:
    with pytest.raises(ValueError, match="EUR"):
        money(1, GBP) + money(1, currency("EUR"))


@pytest.mark.parametrize("amount", ["NaN", "Infinity", "1e12", -1e15])
def test_money_that_cannot_be_meant_is_refused(amount: object) -> None:
    with pytest.raises(BadValue):
        money(amount, GBP)  # type: ignore[arg-type]


def test_every_currency_of_the_table_can_be_used() -> None:
    for row in tables.rows("currencies"):
        assert row["code"] == currency(row["code"]).code
