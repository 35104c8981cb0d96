"""Money: exact amounts in one currency, and Amounts, which are to money what a Figure is to a measured value.

Rounding is stated, never left to chance: an amount is rounded once, to the currency's smallest coin, when it
becomes a line; sums are of rounded lines, so that what stands on paper adds up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_HALF_DOWN, ROUND_HALF_UP, Decimal
from functools import cache

from logic import tables
from logic.errors import BadValue
from logic.figure import DEFINITION, Source, Step
from logic.units import nominal

_ROUNDINGS = {"half_up": ROUND_HALF_UP, "half_down": ROUND_HALF_DOWN, "down": ROUND_DOWN}
#: No job of a sole trader comes near it; more is a slip of the finger.
_MOST = Decimal(10) ** 9


@dataclass(frozen=True)
class Currency:
    """A currency: ISO 4217 code, the sign written with an amount, decimals of its smallest coin."""

    code: str
    sign: str
    decimals: int
    sign_first: bool
    name: str

    @property
    def coin(self) -> Decimal:
        """The smallest coin, as a fraction of the unit: 0.01."""
        return Decimal(1).scaleb(-self.decimals)

    def written(self, amount: Decimal) -> str:
        """`amount` as people write it: £1,234.50, −£3.00, 1,234.50 kr."""
        body = f"{abs(amount):,.{self.decimals}f}"
        shown = f"{self.sign}{body}" if self.sign_first else f"{body} {self.sign}"
        if self.sign_first and self.sign[-1:].isalpha():
            shown = f"{self.sign} {body}"
        return f"−{shown}" if amount < 0 else shown


@cache
def currency(code: str) -> Currency:
    """The currency of that ISO 4217 code. Raises BadValue."""
    for row in tables.rows("currencies"):
        if row["code"] == code:
            first = row["sign_first"] == "yes"
            return Currency(code, row["sign"], int(row["decimals"]), first, row["name"])
    raise BadValue("currency", "That is not a currency known here.")


@dataclass(frozen=True)
class Money:
    """An amount of money. Sums and differences are exact; mixing currencies raises ValueError."""

    amount: Decimal
    currency: Currency

    def __add__(self, other: Money) -> Money:
        return Money(self.amount + self._same(other), self.currency)

    def __sub__(self, other: Money) -> Money:
        return Money(self.amount - self._same(other), self.currency)

    def __lt__(self, other: Money) -> bool:
        return self.amount < self._same(other)

    def times(self, factor: Decimal | float) -> Money:
        """The amount `factor` times over, not yet rounded."""
        return Money(self.amount * decimal_of(factor), self.currency)

    def rounded(self, rule: str = "half_up") -> Money:
        """To the smallest coin. rule: "half_up", "half_down" (a half goes towards nought) or "down"."""
        return Money(self.amount.quantize(self.currency.coin, _ROUNDINGS[rule]), self.currency)

    @property
    def coins(self) -> int:
        """How many of the smallest coin it is, rounded."""
        return int(self.rounded().amount / self.currency.coin)

    def text(self) -> str:
        """As people write it, rounded to the smallest coin."""
        return self.currency.written(self.rounded().amount)

    def _same(self, other: Money) -> Decimal:
        if other.currency != self.currency:
            raise ValueError(f"{other.currency.code} is not {self.currency.code}")
        return other.amount


def money(amount: Decimal | float | int | str, in_currency: Currency) -> Money:
    """Money of a number. Raises BadValue when it is too much to be meant."""
    exact = decimal_of(amount)
    if not exact.is_finite() or abs(exact) > _MOST:
        raise BadValue("", "That is too much money to be meant.")
    return Money(exact, in_currency)


def decimal_of(number: Decimal | float | int | str) -> Decimal:
    """The Decimal that a number is written as: 0.1 is one tenth, not its binary neighbour. A ± is left
    off."""
    if isinstance(number, Decimal):
        return number
    if isinstance(number, str | int):
        return Decimal(number)
    return Decimal(repr(nominal(number)))


def total(moneys: Iterable[Money], in_currency: Currency) -> Money:
    """The exact sum; nought for none."""
    return sum(moneys, Money(Decimal(0), in_currency))


@dataclass(frozen=True)
class Amount:
    """A named sum of money with the lines that led to it and its source: what a Figure is for quantities."""

    key: str
    name: str
    money: Money
    steps: tuple[Step, ...] = ()
    source: Source = DEFINITION

    def text(self, system: str = "metric") -> str:
        """The sum for people; money reads the same in any system of units."""
        return self.money.text()

    def working(self, system: str = "metric") -> tuple[str, ...]:
        """The lines of the calculation as text."""
        return tuple(line.text(system) for line in self.steps)
