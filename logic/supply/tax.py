"""Tax on lines: rate by setting, worked out for each line or once for the total, with a stated rounding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from logic import tables
from logic.errors import BadValue
from logic.figure import Source, step
from logic.supply.money import Amount, Currency, Money, total


@dataclass(frozen=True)
class TaxRule:
    """A way of working tax out (a row of tax_rules.csv). basis: "line" or "total"."""

    key: str
    name: str
    words: str
    basis: str
    rounding: str
    source: Source


def tax_rules() -> tuple[TaxRule, ...]:
    """All ways, the usual one first."""
    return tuple(
        TaxRule(row["key"], row["name"], row["words"], row["basis"], row["rounding"], tables.source_of(row))
        for row in tables.rows("tax_rules")
    )


def tax_rule(key: str) -> TaxRule:
    """The way named `key`. Raises BadValue."""
    for rule in tax_rules():
        if rule.key == key:
            return rule
    raise BadValue("tax_rule", "That way of working tax out is not known here.")


@dataclass(frozen=True)
class Taxed:
    """The net amount at one rate [percent] and the tax on it."""

    rate: Decimal
    net: Money
    tax: Amount


def tax_of_line(net: Money, rate: Decimal, rounding: str) -> Money:
    """Tax of one amount at `rate` percent, rounded by `rounding`. Source: the definition of a rate of tax."""
    return net.times(rate / 100).rounded(rounding)


def tax_on(
    nets: Sequence[tuple[Money, Decimal]], rule: TaxRule, currency: Currency, name: str = "Tax"
) -> tuple[Taxed, ...]:
    """The tax on lines (net amount, rate in percent), one entry for each rate, highest first.

    By line, the tax of each line is rounded and then added; by total, the nets are added and the tax
    rounded once.
    """
    found = []
    for rate in sorted({rate for _, rate in nets}, reverse=True):
        mine = [net for net, its in nets if its == rate]
        net = total(mine, currency)
        if rule.basis == "line":
            tax = total((tax_of_line(one, rate, rule.rounding) for one in mine), currency)
        else:
            tax = tax_of_line(net, rate, rule.rounding)
        label = f"{name} at {_percent(rate)}"
        line = step("{r} of {n}: {words}", r=_percent(rate), n=net.text(), words=rule.words)
        found.append(Taxed(rate, net, Amount(f"tax_{rate.normalize():f}", label, tax, (line,), rule.source)))
    return tuple(found)


def _percent(rate: Decimal) -> str:
    return f"{rate.normalize():f} %"
