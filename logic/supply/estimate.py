"""Makes the lines of a quote: hours of each work, what is bought, hire, travel, and the minimum charge."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from logic.figure import Figure, step
from logic.supply.business import Terms
from logic.supply.buying import Buying
from logic.supply.labour import Timed, time_for
from logic.supply.money import Money, total
from logic.supply.pricing import minimum_of, price_of
from logic.supply.quote import Line, Quote
from logic.units import quantity, text_of
from logic.works.operation import Worked


@dataclass(frozen=True)
class Extra:
    """A line entered by hand. amount: a cost for hire and things bought (profit is put on), a price for the
    rest.

    kind: "hire", "material", "travel" or "extra".
    """

    key: str
    name: str
    amount: Money
    kind: str = "extra"
    option: bool = False
    chosen: bool = False


@dataclass(frozen=True)
class Estimate:
    """The quote, and for each work the time it was reckoned with; unpriced: what has no price yet, in
    words."""

    quote: Quote
    times: tuple[Figure, ...]
    unpriced: tuple[str, ...]


def estimate(
    number: str,
    day: date,
    works: Sequence[Worked],
    area: Figure,
    buyings: Sequence[Buying],
    terms: Terms,
    timed: Iterable[Timed] = (),
    extras: Sequence[Extra] = (),
    distance: float = 0.0,
    options: frozenset[int] = frozenset(),
) -> Estimate:
    """A quote for `works` on `area` [m²] with what is bought for them, on these terms.

    distance: of the way there and back, in the unit that the travel rate is for. options: the places of
    works that are offered, not counted.
    """
    days = tuple(timed)
    lines, times, unpriced = [], [], []
    for place, worked in enumerate(works):
        name = worked.operation.name
        time = time_for(worked.operation.key, f"Time for {name}", area.value.magnitude, days)
        if time is None or terms.hourly is None:
            unpriced.append(f"{name}: " + ("no hourly rate" if time else "no time known for it"))
            continue
        times.append(time)
        lines.append(_work_line(place, worked, time, terms, place in options))
    lines += _start_line(works, terms)
    for buying in buyings:
        bought = _material_line(buying, terms)
        if bought:
            lines.append(bought)
        elif buying.need.material.kind != "water" and buying.stock.to_buy.nominal > 0:
            unpriced.append(f"{buying.need.material.name}: no price")
    lines += [_extra_line(extra, terms) for extra in extras]
    if distance and terms.travel_rate:
        lines.append(_travel_line(distance, terms))
    quote = Quote(
        number=number,
        day=day,
        currency=terms.currency,
        lines=tuple(lines),
        tax_name=terms.tax_name,
        rule=terms.tax_rule,
        valid_until=day + timedelta(days=terms.valid_days),
        terms=terms.terms,
        tax_number=terms.tax_number,
    )
    return Estimate(_with_minimum(quote, terms), tuple(times), tuple(unpriced))


def _hours(minutes: Figure) -> Decimal:
    """The hours that are charged: to the nearest quarter, never nothing."""
    quarters = max(1, round(minutes.nominal / 15))
    return Decimal(quarters) / 4


def _work_line(place: int, worked: Worked, time: Figure, terms: Terms, option: bool) -> Line:
    hours = _hours(time)
    rate = terms.hourly or Money(Decimal(0), terms.currency)
    net = rate.times(hours).rounded()
    charged = step(
        "{t}, charged as {h} h at {r} = {n}", t=time.value, h=_plain(hours), r=rate.text(), n=net.text()
    )
    return Line(
        f"work{place}", worked.operation.name, net, "work", f"{_plain(hours)} h", terms.tax_rate,
        option=option, steps=(*time.working(), charged.text()),
    )  # fmt: skip


def _start_line(works: Sequence[Worked], terms: Terms) -> list[Line]:
    if not works or terms.hourly is None or terms.start_minutes <= 0:
        return []
    net = terms.hourly.times(terms.start_minutes / 60).rounded()
    said = step(
        "{t} at {r} an hour = {n}",
        t=quantity(terms.start_minutes, "minute"),
        r=terms.hourly.text(),
        n=net.text(),
    )
    detail = text_of(quantity(terms.start_minutes, "minute"))
    return [
        Line(
            "start", "Setting up and tidying away", net, "work", detail, terms.tax_rate, steps=(said.text(),)
        )
    ]


def _material_line(buying: Buying, terms: Terms) -> Line | None:
    if buying.cost is None:
        return None
    price = price_of("price", buying.need.material.name, buying.cost.money, terms.profit, terms.profit_kind)
    return Line(
        f"buy_{buying.need.material.key}",
        buying.need.material.name,
        price.money,
        "material",
        buying.packs_text,
        terms.tax_rate,
        cost=buying.cost.money.rounded(),
        steps=(*buying.cost.working(), *price.working()),
    )


def _extra_line(extra: Extra, terms: Terms) -> Line:
    if extra.kind in ("hire", "material"):
        price = price_of("price", extra.name, extra.amount, terms.profit, terms.profit_kind)
        net, cost, steps = price.money, extra.amount.rounded(), price.working()
    else:
        net, cost, steps = extra.amount.rounded(), None, ()
    return Line(
        extra.key,
        extra.name,
        net,
        extra.kind,
        "",
        terms.tax_rate,
        cost,
        extra.option,
        extra.chosen,
        steps=steps,
    )


def _travel_line(distance: float, terms: Terms) -> Line:
    rate = terms.travel_rate or Money(Decimal(0), terms.currency)
    net = rate.times(distance).rounded()
    way = text_of(quantity(distance, terms.travel_unit), figures=4)
    said = step("{d} at {r} = {n}", d=way, r=rate.text(), n=net.text())
    return Line("travel", "Travel", net, "travel", way, terms.tax_rate, steps=(said.text(),))


def _with_minimum(quote: Quote, terms: Terms) -> Quote:
    if terms.minimum is None or not quote.lines:
        return quote
    more = minimum_of(terms.minimum.rounded(), total((line.net for line in quote.counted), terms.currency))
    if more is None:
        return quote
    line = Line("minimum", more.name, more.money, "minimum", "", terms.tax_rate, steps=more.working())
    return Quote(**{**quote.__dict__, "lines": (*quote.lines, line)})


def _plain(hours: Decimal) -> str:
    return f"{hours.normalize():f}"
