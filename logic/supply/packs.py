"""Which packs to buy: the cheapest set that covers a need, exactly, delivery and least orders counted in.

An unbounded covering knapsack with a charge paid once for each kind of pack. The kinds are taken one after
the other; of all the part sets so far only those are kept that could still become the best: none costs more
than a set found, even with the rest bought at the best price there is, and none is beaten by one that costs
less and holds more.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from logic.errors import BadValue

#: A need is reached but for rounding in the last binary digits.
_HAIR = Fraction(1, 10**9)
_MOST_KINDS, _MOST_PACKS = 30, 5000
FORMS = (("bag", "Bag"), ("bulk_bag", "Bulk bag"), ("loose", "Loose, by the load"), ("can", "Can"))


@dataclass(frozen=True)
class Pack:
    """A pack that can be bought. size: in the material's unit, above 0; price and delivery: in the smallest
    coin.

    delivery: paid once when any is bought. fewest: the least number that is sold at all. price None: not
    known.
    """

    key: str
    name: str
    size: float
    price: int | None = None
    delivery: int = 0
    fewest: int = 1
    form: str = "bag"
    supplier: str = ""


@dataclass(frozen=True)
class Bought:
    """A set of packs. counts: (pack, how many), kinds bought only; cost: in the smallest coin, None when
    prices are not known; amount: what they hold together; left_over: beyond the need."""

    counts: tuple[tuple[Pack, int], ...]
    cost: int | None
    amount: float
    left_over: float


@dataclass(frozen=True)
class _Offer:
    """A pack in whole numbers: size in the common measure of all sizes, price and delivery in the smallest
    coin."""

    pack: Pack
    size: int
    price: int


@dataclass(frozen=True)
class _Part:
    """Some of the packs: what they hold, cost and are, and how many of each kind so far."""

    amount: int
    cost: int
    packs: int
    counts: tuple[int, ...]

    @property
    def rank(self) -> tuple[int, int, int]:
        """What makes one set better than another: cheaper, then less left over, then fewer packs."""
        return (self.cost, self.amount, self.packs)


def cheapest(need: float, packs: Sequence[Pack]) -> Bought:
    """The cheapest set of packs that holds `need`; of equals the one with least left over, then fewest packs.

    Where no price is known, the set that holds least. Packs without a price are left out when others have
    one. Raises BadValue when there is no pack, or the packs are far too small for the need.
    """
    if need <= 0:
        return Bought((), 0, 0.0, 0.0)
    priced = [pack for pack in packs if pack.price is not None]
    offered = priced or list(packs)
    if not offered or any(pack.size <= 0 for pack in offered):
        raise BadValue("packs", "There is no pack to buy this in: enter one.")
    if len(offered) > _MOST_KINDS:
        raise BadValue("packs", f"More than {_MOST_KINDS} packs to choose from: leave some out.")
    if need / max(pack.size for pack in offered) > _MOST_PACKS:
        raise BadValue("packs", "These packs are far too small for what is needed.")
    offers, measure = _offers(offered)
    best = _best(math.ceil(Fraction(need) * (1 - _HAIR) * measure), offers)
    holds = best.amount / measure
    counts = tuple((offer.pack, n) for offer, n in zip(offers, best.counts, strict=True) if n)
    return Bought(counts, best.cost if priced else None, holds, max(0.0, holds - need))


def _offers(packs: Sequence[Pack]) -> tuple[list[_Offer], int]:
    """The packs in whole numbers, best value first so that a good set is found early; parts of a unit in
    the measure.

    Without prices the cost of a pack is what it holds.
    """
    sizes = [Fraction(repr(float(pack.size))) for pack in packs]
    measure = math.lcm(*(size.denominator for size in sizes))
    whole = [int(size * measure) for size in sizes]
    offers = [_Offer(p, s, s if p.price is None else p.price) for p, s in zip(packs, whole, strict=True)]
    return sorted(offers, key=lambda o: (Fraction(o.price, o.size), -o.size, o.pack.key)), measure


def _best(wanted: int, offers: Sequence[_Offer]) -> _Part:
    best = min((_only(wanted, offers, place) for place in range(len(offers))), key=lambda part: part.rank)
    open_parts = [_Part(0, 0, 0, ())]
    for place, offer in enumerate(offers):
        following = (
            offers[place + 1] if place + 1 < len(offers) else None
        )  # the best value of what is to come
        none_more = (0,) * (len(offers) - place - 1)
        grown: list[_Part] = []
        for part in open_parts:
            for more in _with(part, offer, wanted):
                if more.amount >= wanted:
                    whole = _Part(more.amount, more.cost, more.packs, more.counts + none_more)
                    best = min(best, whole, key=lambda p: p.rank)
                elif (
                    following
                    and (wanted - more.amount) * following.price <= (best.cost - more.cost) * following.size
                ):
                    grown.append(more)
        open_parts = _unbeaten(grown)
    return best


def _only(wanted: int, offers: Sequence[_Offer], place: int) -> _Part:
    """The whole need in packs of one kind."""
    offer = offers[place]
    count = max(-(-wanted // offer.size), offer.pack.fewest)
    counts = tuple(count if n == place else 0 for n in range(len(offers)))
    return _Part(count * offer.size, count * offer.price + offer.pack.delivery, count, counts)


def _with(part: _Part, offer: _Offer, wanted: int) -> Iterable[_Part]:
    """The part with none of a pack, and with every number of it up to the first that covers what is left."""
    yield _Part(part.amount, part.cost, part.packs, (*part.counts, 0))
    fewest = max(1, offer.pack.fewest)
    most = max(-(-(wanted - part.amount) // offer.size), fewest)
    for count in range(fewest, most + 1):
        cost = part.cost + count * offer.price + offer.pack.delivery
        yield _Part(part.amount + count * offer.size, cost, part.packs + count, (*part.counts, count))


def _unbeaten(parts: Iterable[_Part]) -> list[_Part]:
    """Without those for which another holds at least as much and costs less, and of same sets all but one."""
    kept: list[_Part] = []
    seen: set[tuple[int, int]] = set()
    least: int | None = None  # the least cost of those that hold as much or more
    for part in sorted(parts, key=lambda p: (-p.amount, p.cost, p.packs)):
        if (least is None or part.cost <= least) and (part.amount, part.cost) not in seen:
            kept.append(part)
            seen.add((part.amount, part.cost))
        least = part.cost if least is None else min(least, part.cost)
    return kept
