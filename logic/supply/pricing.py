"""From cost to price: mark-up and margin, which are not the same, and a minimum charge."""

from __future__ import annotations

from decimal import Decimal

from logic.errors import BadValue
from logic.figure import DEFINITION, PRACTICE, Source, step
from logic.supply.money import Amount, Money

MARK_UP, MARGIN = "mark_up", "margin"
KINDS = ((MARK_UP, "Mark-up on cost"), (MARGIN, "Margin of price"))
_MEANING = Source("mark-up is a share of the cost, margin a share of the price: the definitions", "derived")


def price_of(key: str, name: str, cost: Money, percent: Decimal, kind: str) -> Amount:
    """The price of what costs `cost`: by mark-up cost × (1 + p), by margin cost ÷ (1 − p); rounded to the
    coin.

    percent: 20 for 20 %. Raises BadValue for a margin of 100 % or more, or less than nothing.
    """
    share = percent / 100
    if percent < 0:
        raise BadValue("profit", "The mark-up or margin can't be negative.")
    if kind == MARGIN and percent >= 100:
        raise BadValue("profit", "A margin is a share of the price, so it must be below 100 %.")
    said = {"c": cost.text(), "p": f"{percent.normalize():f} %"}
    if percent == 0:
        return Amount(key, name, cost.rounded(), (step("{c} at cost", **said),), DEFINITION)
    if kind == MARGIN:
        price = Money(cost.amount / (1 - share), cost.currency).rounded()
        line = step("{c} ÷ (1 − {p} margin) = {x}", x=price.text(), **said)
    else:
        price = cost.times(1 + share).rounded()
        line = step("{c} × (1 + {p} mark-up) = {x}", x=price.text(), **said)
    return Amount(key, name, price, (line,), _MEANING)


def minimum_of(least: Money, net: Money) -> Amount | None:
    """What is added to reach the minimum charge; None when `net` reaches it already."""
    if not net < least:
        return None
    more = least - net
    line = step("{l} minimum charge − {n} = {m}", l=least.text(), n=net.text(), m=more.text())
    return Amount("minimum", "To the minimum charge", more, (line,), PRACTICE)
