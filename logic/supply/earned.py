"""What a job really earned: what was charged less what was really spent, for each hour really worked."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from logic.figure import DEFINITION, step
from logic.supply.money import Amount, Money, total
from logic.supply.quote import Quote, totals
from logic.units import quantity


def earned(quote: Quote, spent: Sequence[tuple[str, Money]], minutes: float) -> tuple[Amount, ...]:
    """What is left of the price without tax, and that for each hour of one person.

    spent: (what for, how much); where nothing is given, the costs of the lines are taken. minutes: of one
    person, 0 when they were not timed. Source: takings − costs, the definition.
    """
    unit = quote.currency
    net = totals(quote).net.money
    given = list(spent) or [(line.name, line.cost) for line in quote.counted if line.cost is not None]
    cost = total((amount for _, amount in given), unit)
    lines = [step("{w}: {m}", w=what, m=amount.text()) for what, amount in given]
    left = net - cost
    lines.append(step("{n} − {c} = {l}", n=net.text(), c=cost.text(), l=left.text()))
    found = [Amount("earned", "Earned, before your own time", left, tuple(lines), DEFINITION)]
    if minutes > 0:
        hours = Decimal(repr(minutes)) / 60
        each = Money(left.amount / hours, unit).rounded()
        line = step("{l} ÷ {h} = {e}", l=left.text(), h=quantity(minutes, "minute"), e=each.text())
        found.append(Amount("earned_per_hour", "Earned in each hour", each, (*lines, line), DEFINITION))
    return tuple(found)
