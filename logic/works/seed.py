"""What is in the bag: pure live seed, the loss of age, and seeds in a gram with their published range."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from logic.errors import BadValue
from logic.field import Values
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, quantity
from logic.works import species
from logic.works.limits import limit, limit_quantity, limit_source

PLS = Source("Seeding rates, Cornell University; Purchasing Seed, University of Minnesota Extension")


@dataclass(frozen=True)
class Seed:
    """The seed in the bag. live: live seed [% of bag weight].

    seeds, live_seeds: seeds and live seeds in a gram of the bag [1/g], None when no count is known; low and
    high: live seeds in a gram by the lowest and the highest published count; count_source: whose count.
    """

    live: Any
    figures: tuple[Figure, ...]
    seeds: float | None = None
    live_seeds: Any = None
    low: float = 0.0
    high: float = 0.0
    count_source: str = ""
    warnings: tuple[str, ...] = ()


def germination_now(germination: Any, years: Any) -> Any:
    """Germination [%] left `years` after the test: germination × (1 − loss)^years, the loss in limits.csv.

    Source: exponential ageing; the loss of a year is from memory, unverified.
    """
    return germination * (1 - limit("germination_loss") / 100) ** years


def aged(germination: Any, years: Any) -> Figure:
    """`germination_now` as a figure with its working."""
    left = germination_now(germination, years)
    line = step(
        "{g} tested, less {x} of it for each of {n} years = {l}",
        g=quantity(germination, "%"),
        x=limit_quantity("germination_loss"),
        n=years,
        l=quantity(left, "%"),
    )
    return figure(
        "germination_now",
        "Germination to reckon with",
        left,
        "%",
        line,
        source=limit_source("germination_loss"),
    )


def pure_live_seed(purity: Any, germination: Any) -> Figure:
    """Pure live seed [%] of a bag: purity [%] × germination [%].

    Source: Cornell University, Seeding rates; University of Minnesota Extension, Purchasing Seed.
    """
    share = purity * germination / 100
    line = step(
        "purity {p} × germination {g} = {s}",
        p=quantity(purity, "%"),
        g=quantity(germination, "%"),
        s=quantity(share, "%"),
    )
    return figure("pure_live_seed", "Pure live seed", share, "%", line, source=PLS)


def one_seed(v: Values) -> Seed:
    """The seed of a bag with one grass in it.

    v: species, seeds_per_gram (or None), purity, germination [%], seed_age [years].
    """
    figures: tuple[Figure, ...] = ()
    germination = v.germination
    if nominal(v.seed_age or 0.0) > 0:
        figures = (aged(v.germination, v.seed_age),)
        germination = figures[0].value.magnitude
    live = pure_live_seed(v.purity, germination)
    share = live.value.magnitude
    warnings = species.quality_warnings(v.species, nominal(v.purity), nominal(v.germination))
    count = count_for(v.species, v.seeds_per_gram)
    if count is None:
        return Seed(share, (*figures, live), warnings=warnings)
    alive = nominal(share) / 100
    return Seed(
        share,
        (*figures, live),
        count.value,
        count.value * share / 100,
        count.low * alive,
        count.high * alive,
        str(count.source),
        warnings,
    )


def count_for(grass: str, given: Any) -> species.Count | None:
    """Seeds in a gram: as given [1/g], else of the grass in the table, else None."""
    if given is not None:
        value = nominal(given)
        return species.Count(value, value, value, Source("", "setting"))
    return None if grass == species.NOT_SAID else species.count_of(grass)


def need_count(seed: Seed) -> None:
    """Raise BadValue when the seed has no count."""
    if seed.seeds is None:
        raise BadValue(
            "seeds_per_gram",
            "Say which grass it is, or how many seeds are in a gram, to sow for a number of seedlings.",
        )
