"""The choice of packs against every set there is, counted out one by one."""

import itertools
import math
import random
from fractions import Fraction

import pytest

from logic.errors import BadValue
from logic.supply.packs import Bought, Pack, cheapest


def by_brute_force(need: Fraction, packs: list[Pack]) -> tuple[int, int, int]:
    """Cost, amount in tenths and number of the best set, by trying every one that is not plainly too much."""
    best: tuple[int, int, int] | None = None
    wanted = math.ceil(need * 10)
    sizes = [round(pack.size * 10) for pack in packs]
    ranges = []
    for pack, size in zip(packs, sizes, strict=True):
        ranges.append([0, *range(max(1, pack.fewest), max(-(-wanted // size), pack.fewest) + 1)])
    for counts in itertools.product(*ranges):
        amount = sum(n * s for n, s in zip(counts, sizes, strict=True))
        if amount < wanted:
            continue
        cost = sum(n * (p.price or 0) + p.delivery for n, p in zip(counts, packs, strict=True) if n)
        found = (cost, amount, sum(counts))
        best = found if best is None else min(best, found)
    assert best is not None
    return best


def random_case(dice: random.Random) -> tuple[Fraction, list[Pack]]:
    kinds = dice.choice((1, 2, 2, 3, 3, 4))
    packs = [
        Pack(
            key=f"p{n}",
            name=f"p{n}",
            size=dice.choice((1, 2, 2.5, 5, 7.3, 9, 10, 20, 22.7, 25, 40, 85)),
            price=dice.randint(0, 60) * dice.choice((1, 1, 10, 33)),
            delivery=dice.choice((0, 0, 0, 15, 60, 400)),
            fewest=dice.choice((1, 1, 1, 2, 4)),
        )
        for n in range(kinds)
    ]
    largest = max(pack.size for pack in packs)
    smallest = min(pack.size for pack in packs)
    need = min(dice.uniform(0.05, 4.5) * largest, 14 * smallest)
    return Fraction(repr(round(need, dice.choice((0, 1, 3))) or 1.0)), packs


def rank(bought: Bought) -> tuple[int, int, int]:
    cost = sum(n * (p.price or 0) + p.delivery for p, n in bought.counts)
    assert bought.cost == cost
    amount = sum(n * round(p.size * 10) for p, n in bought.counts)
    assert bought.amount == pytest.approx(amount / 10)
    return cost, amount, sum(n for _, n in bought.counts)


@pytest.mark.parametrize("seed", range(12))
def test_the_set_bought_is_the_best_of_all_sets(seed: int) -> None:
    """4,800 cases with odd sizes, delivery charges and least orders; equal in cost, amount and number of
    packs."""
    dice = random.Random(seed)
    for _ in range(400):
        need, packs = random_case(dice)
        bought = cheapest(float(need), packs)
        assert rank(bought) == by_brute_force(need, packs), (need, packs)
        assert all(n >= pack.fewest for pack, n in bought.counts)


def test_many_sizes_and_a_large_need_are_still_exact() -> None:
    """Ten sizes, 4,321 kg: the price per kilogram of the best pack bounds the cost from below."""
    packs = [Pack(f"p{s}", f"{s} kg", s, price=int(100 * s**0.93)) for s in (5, 7, 10, 12.5, 20, 25, 40, 50)]
    packs += [
        Pack("bulk", "bulk bag", 850, 61000, delivery=4500),
        Pack("loose", "loose", 1000, 52000, 9000, 2),
    ]
    bought = cheapest(4321, packs)
    assert bought.amount >= 4321
    assert bought.cost is not None
    assert 4321 * 52 <= bought.cost <= 5 * 52000 + 9000


def test_without_prices_least_is_left_over_and_then_fewest_packs() -> None:
    packs = [Pack("20", "20 kg", 20), Pack("5", "5 kg", 5), Pack("1", "1 kg", 1)]
    bought = cheapest(26, packs)
    assert {pack.size: n for pack, n in bought.counts} == {20: 1, 5: 1, 1: 1}
    assert bought.cost is None
    assert bought.left_over == 0


def test_a_pack_without_a_price_is_left_out_when_others_have_one() -> None:
    bought = cheapest(30, [Pack("a", "a", 25, 900), Pack("b", "b", 30)])
    assert [(pack.key, n) for pack, n in bought.counts] == [("a", 2)]


def test_a_large_pack_may_be_cheaper_than_the_small_one_that_would_do() -> None:
    bought = cheapest(9, [Pack("10", "10 kg", 10, 3000), Pack("25", "25 kg", 25, 2500)])
    assert [(pack.key, n) for pack, n in bought.counts] == [("25", 1)]
    assert bought.left_over == 16


def test_a_need_that_is_a_whole_number_of_packs_but_for_the_last_digit_takes_no_further_pack() -> None:
    bought = cheapest(0.1 + 0.2, [Pack("a", "a", 0.1, 5)])
    assert [n for _, n in bought.counts] == [3]


def test_nothing_needed_is_nothing_bought() -> None:
    assert cheapest(0, [Pack("a", "a", 25, 900)]) == Bought((), 0, 0.0, 0.0)


def test_no_pack_is_said_in_a_sentence() -> None:
    with pytest.raises(BadValue, match="no pack"):
        cheapest(5, [])


def test_packs_far_too_small_are_refused() -> None:
    with pytest.raises(BadValue, match="far too small"):
        cheapest(1e6, [Pack("a", "a", 1, 1)])
