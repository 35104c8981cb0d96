"""A quote: lines, options and variations, what they come to, and the states from quote to invoice.

A line is rounded once, to the coin; all sums are of lines. Options count only when they are chosen,
variations are lines agreed after acceptance. From acceptance on the other lines stand as they were.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Any

from logic.errors import BadValue, Conflict
from logic.figure import DEFINITION, Figure, Source, step
from logic.supply.money import Amount, Currency, Money, currency, total
from logic.supply.tax import Taxed, TaxRule, tax_on, tax_rule
from logic.units import quantity

#: In their order; each can be taken back to the one before while nothing has come after it.
STATES = ("quote", "accepted", "done", "invoiced")
KINDS = ("work", "material", "hire", "travel", "extra", "minimum")
SUM = Source("sum of the lines", "derived")


@dataclass(frozen=True)
class Line:
    """One line. net: its price without tax, rounded; cost: what it costs the contractor, None when not known.

    option: left out unless `chosen`. variation: agreed after acceptance. tax_rate: percent. steps: how it
    was found.
    """

    key: str
    name: str
    net: Money
    kind: str = "work"
    detail: str = ""
    tax_rate: Decimal = Decimal(0)
    cost: Money | None = None
    option: bool = False
    chosen: bool = False
    variation: bool = False
    steps: tuple[str, ...] = ()

    @property
    def counts(self) -> bool:
        """True when it is part of the price."""
        return self.chosen or not self.option


@dataclass(frozen=True)
class Quote:
    """Lines with the terms they are sold on. dates: state → the day it was reached."""

    number: str
    day: date
    currency: Currency
    lines: tuple[Line, ...]
    tax_name: str = "Tax"
    rule: TaxRule = field(default_factory=lambda: tax_rule("line_half_up"))
    valid_until: date | None = None
    state: str = "quote"
    dates: Mapping[str, date] = field(default_factory=dict)
    terms: str = ""
    tax_number: str = ""

    @property
    def counted(self) -> tuple[Line, ...]:
        """The lines that are part of the price."""
        return tuple(line for line in self.lines if line.counts)

    @property
    def options(self) -> tuple[Line, ...]:
        """What could be had besides."""
        return tuple(line for line in self.lines if line.option and not line.chosen)

    @property
    def variations(self) -> tuple[Line, ...]:
        """What was agreed after acceptance."""
        return tuple(line for line in self.lines if line.variation)


@dataclass(frozen=True)
class Totals:
    """What a quote comes to: net + taxes = gross, to the coin."""

    net: Amount
    taxes: tuple[Taxed, ...]
    gross: Amount

    @property
    def taxed(self) -> bool:
        """True when there is a tax to show."""
        return any(one.rate for one in self.taxes)


def totals(quote: Quote, lines: Sequence[Line] | None = None) -> Totals:
    """The sums of the lines that count, or of `lines`."""
    counted = quote.counted if lines is None else tuple(lines)
    unit = quote.currency
    net = total((line.net for line in counted), unit)
    taxes = tax_on([(line.net, line.tax_rate) for line in counted], quote.rule, unit, quote.tax_name)
    tax = total((one.tax.money for one in taxes), unit)
    added = step("sum of {n} lines = {t}", n=str(len(counted)), t=net.text())
    said = step("{n} + {t} = {g}", n=net.text(), t=tax.text(), g=(net + tax).text())
    return Totals(
        Amount("net", "Total before tax", net, (added,), SUM),
        taxes,
        Amount("gross", "Total", net + tax, (said,), SUM),
    )


def price_per_area(quote: Quote, area: Figure) -> Amount:
    """The price without tax for a square metre, rounded to the coin. Raises BadValue for no area."""
    if area.nominal <= 0:
        raise BadValue("area", "There is no area to share the price over.")
    net = totals(quote).net.money
    each = net.times(1 / Decimal(repr(area.nominal))).rounded()
    line = step("{n} ÷ {a} = {e} for 1 m²", n=net.text(), a=quantity(area.nominal, "m^2"), e=each.text())
    return Amount("price_per_area", "Price for each m²", each, (line,), DEFINITION)


def advance(quote: Quote, state: str, day: date) -> Quote:
    """The quote in its next state on `day`, or back in the one before. Raises Conflict for any other step."""
    here, there = STATES.index(quote.state), STATES.index(state)
    if there == here + 1:
        return replace(quote, state=state, dates={**quote.dates, state: day})
    if there == here - 1:
        kept = {key: when for key, when in quote.dates.items() if key != quote.state}
        return replace(quote, state=state, dates=kept)
    raise Conflict("A quote is accepted first, then done, then invoiced, one step at a time.")


def with_option(quote: Quote, key: str, chosen: bool) -> Quote:
    """The quote with an option chosen or not; before acceptance only. Raises Conflict."""
    if quote.state != "quote":
        raise Conflict("This quote has been accepted: add a variation instead.")
    lines = tuple(
        replace(line, chosen=chosen) if line.key == key and line.option else line for line in quote.lines
    )
    return replace(quote, lines=lines)


def with_variation(quote: Quote, line: Line) -> Quote:
    """The quote with a variation agreed between acceptance and invoice. Raises Conflict."""
    if quote.state not in ("accepted", "done"):
        raise Conflict("A variation is agreed after a quote is accepted and before it is invoiced.")
    if any(line.key == other.key for other in quote.lines):
        raise Conflict("There is a line like this already.")
    return replace(quote, lines=(*quote.lines, replace(line, variation=True, option=False)))


def to_json(quote: Quote) -> dict[str, Any]:
    """The quote as it is stored and as it goes to an invoice: amounts as text in whole coins' decimals."""
    sums = totals(quote)
    return {
        "number": quote.number,
        "day": quote.day.isoformat(),
        "valid_until": quote.valid_until.isoformat() if quote.valid_until else "",
        "state": quote.state,
        "dates": {key: when.isoformat() for key, when in quote.dates.items()},
        "currency": quote.currency.code,
        "tax_name": quote.tax_name,
        "tax_rule": quote.rule.key,
        "tax_number": quote.tax_number,
        "terms": quote.terms,
        "lines": [_line_json(line) for line in quote.lines],
        "net": f"{sums.net.money.amount}",
        "taxes": [
            {"rate": f"{one.rate}", "net": f"{one.net.amount}", "tax": f"{one.tax.money.amount}"}
            for one in sums.taxes
        ],
        "gross": f"{sums.gross.money.amount}",
    }


def from_json(doc: Mapping[str, Any]) -> Quote:
    """A stored quote. Raises BadValue when it can't be read; sums are worked out again, not believed."""
    try:
        unit = currency(doc["currency"])
        return Quote(
            number=str(doc["number"]),
            day=date.fromisoformat(doc["day"]),
            currency=unit,
            lines=tuple(_line_from(entry, unit) for entry in doc["lines"]),
            tax_name=str(doc["tax_name"]),
            rule=tax_rule(doc["tax_rule"]),
            valid_until=date.fromisoformat(doc["valid_until"]) if doc.get("valid_until") else None,
            state=STATES[STATES.index(doc["state"])],
            dates={key: date.fromisoformat(when) for key, when in doc.get("dates", {}).items()},
            terms=str(doc.get("terms", "")),
            tax_number=str(doc.get("tax_number", "")),
        )
    except (KeyError, TypeError, ValueError, ArithmeticError, AttributeError) as error:
        raise BadValue("quote", "This quote can't be read. Make it anew.") from error


def _line_json(line: Line) -> dict[str, Any]:
    return {
        "key": line.key,
        "name": line.name,
        "kind": line.kind,
        "detail": line.detail,
        "net": f"{line.net.amount}",
        "tax_rate": f"{line.tax_rate}",
        "cost": f"{line.cost.amount}" if line.cost else "",
        "option": line.option,
        "chosen": line.chosen,
        "variation": line.variation,
        "steps": list(line.steps),
    }


def _line_from(entry: Mapping[str, Any], unit: Currency) -> Line:
    return Line(
        key=str(entry["key"]),
        name=str(entry["name"]),
        net=Money(Decimal(entry["net"]), unit),
        kind=str(entry["kind"]),
        detail=str(entry["detail"]),
        tax_rate=Decimal(entry["tax_rate"]),
        cost=Money(Decimal(entry["cost"]), unit) if entry["cost"] else None,
        option=bool(entry["option"]),
        chosen=bool(entry["chosen"]),
        variation=bool(entry["variation"]),
        steps=tuple(str(text) for text in entry["steps"]),
    )
