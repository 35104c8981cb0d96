"""The contractor's own terms of trade: currency, tax, hourly rate, travel, minimum charge, mark-up or
margin."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form, Reading, from_table
from logic.supply.money import Currency, Money, currency, decimal_of, money
from logic.supply.pricing import KINDS, MARK_UP
from logic.supply.tax import TaxRule, tax_rule, tax_rules

_SIGNS = re.compile(
    "|".join(sorted((re.escape(row["sign"]) for row in tables.rows("currencies")), key=len, reverse=True))
)
MONEY_FIELDS = ("hourly", "minimum", "travel_rate")


def _money(key: str, label: str, help_: str = "") -> Field:
    return from_table("supply", "money", key, label, help=help_, required=False)


FORM = Form(
    (
        Field(
            "currency",
            "Currency",
            kind="choice",
            choices=tuple(
                (row["code"], f"{row['name']} ({row['sign']})") for row in tables.rows("currencies")
            ),
            default="GBP",
        ),
        _money("hourly", "One person for an hour", "What you charge; left empty, hours are not priced."),
        from_table(
            "supply",
            "money",
            "start_minutes",
            "To set up and tidy away",
            help="For each visit, one person's time, on top of the works.",
        ),
        Field(
            "travel_unit",
            "Travel is reckoned in",
            kind="choice",
            choices=(("mile", "Miles"), ("km", "Kilometres")),
            default="mile",
        ),
        _money(
            "travel_rate", "One mile or kilometre of travel", "For the way that you enter with each quote."
        ),
        _money("minimum", "Minimum charge for a visit"),
        Field("profit_kind", "On what you buy and hire", kind="choice", choices=KINDS, default=MARK_UP),
        from_table(
            "supply",
            "money",
            "profit",
            "How much",
            help="Of cost 100: a mark-up of 25 % sells it at 125, a margin of 25 % at 133.33.",
        ),
        Field(
            "tax_name",
            "Name of the tax",
            kind="text",
            default="VAT",
            help="As it must stand on your papers; left empty, VAT.",
        ),
        from_table("supply", "money", "tax_rate", "Rate of tax", help="0 when you don't charge it."),
        Field(
            "tax_rule",
            "Tax is rounded on",
            kind="choice",
            choices=tuple((rule.key, rule.name) for rule in tax_rules()),
            default="line_half_up",
        ),
        Field("tax_number", "Your tax number", kind="text", required=False),
        from_table("supply", "money", "valid_days", "A quote holds for, in days", whole=True),
        Field("terms", "Terms on your quotes", kind="text", required=False),
    )
)


@dataclass(frozen=True)
class Terms:
    """The terms of trade as read. Money None: not filled in."""

    currency: Currency
    hourly: Money | None
    minimum: Money | None
    travel_rate: Money | None
    travel_unit: str
    start_minutes: float
    profit: Decimal
    profit_kind: str
    tax_name: str
    tax_rate: Decimal
    tax_rule: TaxRule
    tax_number: str
    valid_days: int
    terms: str


def without_sign(text: Any) -> Any:
    """What was typed for money, without a currency's sign ("£12.50" → "12.50")."""
    return _SIGNS.sub(" ", text).strip() if isinstance(text, str) else text


def read(given: Mapping[str, Any]) -> Reading:
    """The form read, signs of currency let pass."""
    return FORM.read({key: without_sign(v) if key in MONEY_FIELDS else v for key, v in given.items()})


def terms_of(given: Mapping[str, Any]) -> Terms:
    """The terms as far as they can be read: a field with something wrong counts as not filled in."""
    reading = read(given)
    if reading.values is None:
        good = {key: value for key, value in given.items() if key not in reading.problems}
        reading = read(good)
    v = reading.values
    if v is None:  # a default that is wrong itself
        raise BadValue("", "The terms of trade can't be read.")
    unit = currency(v.currency)

    def sum_of(key: str) -> Money | None:
        return money(v[key], unit) if v.has(key) else None

    return Terms(
        currency=unit,
        hourly=sum_of("hourly"),
        minimum=sum_of("minimum"),
        travel_rate=sum_of("travel_rate"),
        travel_unit=v.travel_unit,
        start_minutes=float(v.start_minutes),
        profit=decimal_of(v.profit),
        profit_kind=v.profit_kind,
        tax_name=v.tax_name or "Tax",
        tax_rate=decimal_of(v.tax_rate),
        tax_rule=tax_rule(v.tax_rule),
        tax_number=v.tax_number or "",
        valid_days=int(v.valid_days),
        terms=v.terms or "",
    )
