"""Overseeding: how much seed to weigh out, direction by direction, and how many plants to expect."""

from __future__ import annotations

import math
from typing import Any

from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, plus_minus, quantity, text_of
from logic.works import mixture, species
from logic.works.hopper import weighing_list
from logic.works.limits import limit, limit_quantity, limit_source
from logic.works.operation import Ground, Operation, Work
from logic.works.seed import PLS, Seed, need_count, one_seed

COUNT = Source("Seeding Rate Considerations, UMass Extension Turf Program")
BENTS = ("browntop_bent", "creeping_bent", "velvet_bent")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "overseeding", key, label, **more)


FORM = Form(
    fields=(
        _field("rate", "Rate of seed, bag weight", help="As bags and books give it: weight from the bag."),
        _field(
            "live_rate",
            "Rate of live seed",
            help="Only what will grow: more than this is taken from the bag.",
        ),
        _field(
            "target_density",
            "Seedlings wanted",
            help="1 to 2 per cm² is a good stand; above 8 they crowd and damp off.",
        ),
        Field(
            "species",
            "Grass",
            kind="choice",
            choices=species.choices(),
            default=species.NOT_SAID,
            help="Fills in the seeds in a gram and checks the rate.",
        ),
        _field(
            "seeds_per_gram",
            "Seeds in a gram",
            required=False,
            help="From the label; left empty, the count of the grass. Lots differ by a third.",
        ),
        _field("purity", "Purity of the seed"),
        _field("germination", "Germination", help="As tested, on the label."),
        _field("seed_age", "Years since the test", required=False, help="Old seed grows less well."),
        mixture.FIELD,
        _field(
            "establishment",
            "Live seed that makes a plant",
            help="10 to 30 % into a living sward, about 50 % on a clean seedbed.",
        ),
        _field("directions", "Directions to sow in", whole=True),
        _field(
            "hopper_allowance",
            "Extra so the hopper never runs dry",
            help="Weighed out on top, and expected back at the end.",
        ),
        _field(
            "carrier_ratio",
            "Dry sand to carry it, parts to 1 of seed",
            help="0 for none; 4 to 10 parts by weight make fine seed visible and spreadable.",
        ),
        _field("cover_depth", "Cover over the seed", required=False, help="Dressing on top of the seed."),
    ),
    ways=(
        Way("rate", "By bag weight", ("rate",)),
        Way("live", "By live seed", ("live_rate",)),
        Way("target", "By seedlings wanted", ("target_density",)),
    ),
)


def rate_for(target: Any, seed: Seed, establishment: Any) -> Figure:
    """Rate of bag seed [g/m²] for `target` plants [1/cm²]: target × 10,000 / (live seeds/g × establishment).

    establishment: percent. Source: arithmetic of the definitions (10,000 cm² in a m²).
    """
    need_count(seed)
    rate = target * 10_000 / (seed.live_seeds * establishment / 100)
    line = step(
        "{t} wanted ÷ ({n} × {live} alive × {e} establishing) = {rate}",
        t=quantity(target, "1/cm^2"),
        n=quantity(seed.seeds, "1/g"),
        live=quantity(seed.live_seeds / seed.seeds * 100, "%"),
        e=quantity(establishment, "%"),
        rate=quantity(rate, "g/m^2"),
    )
    return figure("seed_rate", "Rate from the bag", rate, "g/m^2", line, source=COUNT)


def live_rate_for(live_rate: Any, live: Any) -> Figure:
    """Rate of bag seed [g/m²] that holds `live_rate` [g/m²] of live seed: live rate / PLS [%].

    Source: Cornell University, Seeding rates; University of Minnesota Extension, Purchasing Seed.
    """
    rate = live_rate / (live / 100)
    line = step(
        "{l} of live seed ÷ {s} alive = {r} from the bag",
        l=quantity(live_rate, "g/m^2"),
        s=quantity(live, "%"),
        r=quantity(rate, "g/m^2"),
    )
    return figure("seed_rate", "Rate from the bag", rate, "g/m^2", line, source=PLS)


def work(v: Values, ground: Ground) -> Work:
    """All figures of an overseeding. Raises BadValue when a target is asked for without a seed count."""
    seed = mixture.mixed_seed(v.mixture, v.seed_age or 0.0) if v.has("mixture") else one_seed(v)
    if v.has("rate"):
        line = step("as given, bag weight: {r}", r=quantity(v.rate, "g/m^2"))
        rate = figure("seed_rate", "Rate from the bag", v.rate, "g/m^2", line, source=Source("", "setting"))
    elif v.has("live_rate"):
        rate = live_rate_for(v.live_rate, seed.live)
    else:
        rate = rate_for(v.target_density, seed, v.establishment)
    weighed = weighing_list(v, rate.value.magnitude, ground)
    parts = []
    if v.has("mixture"):
        out = next(f for f in weighed if f.key == "seed_weigh_out").value.magnitude
        parts = mixture.parts_to_weigh(v.mixture, out)
    counts = _counts(seed, rate.value.magnitude, v.establishment)
    figures = (*seed.figures, rate, *weighed, *parts, *counts)
    return Work(figures, (*seed.warnings, *_warnings(v, rate.nominal, counts)))


def _counts(seed: Seed, rate: Any, establishment: Any) -> tuple[Figure, ...]:
    """Seeds, live seeds and plants on a square centimetre. The ± of a published range of counts is that of
    a rectangular distribution, (high − low) / √12 (Guide to the expression of uncertainty, 4.3.7)."""
    if seed.seeds is None:
        return ()
    known = nominal(seed.live_seeds)
    margin = (seed.high - seed.low) / math.sqrt(12)
    ranged = plus_minus(1.0, margin / known, "seed count") if margin > 0 else 1.0
    seeds = rate * seed.seeds / 10_000 * ranged
    live = rate * seed.live_seeds / 10_000 * ranged
    plants = live * establishment / 100
    counted = step(
        "{r} of seed × {n} = {s} ({source})",
        r=quantity(rate, "g/m^2"),
        n=quantity(seed.seeds, "1/g"),
        s=quantity(seeds, "1/cm^2"),
        source=seed.count_source,
    )
    alive = step(
        "{s} × {l} alive = {x}",
        s=quantity(seeds, "1/cm^2"),
        l=quantity(seed.live_seeds / seed.seeds * 100, "%"),
        x=quantity(live, "1/cm^2"),
    )
    growing = step(
        "{x} × {e} establishing = {p}",
        x=quantity(live, "1/cm^2"),
        e=quantity(establishment, "%"),
        p=quantity(plants, "1/cm^2"),
    )
    lines = [counted, alive, growing]
    if margin > 0:
        lines.append(_range(nominal(plants), seed))
    return (
        figure("seeds_per_area", "Seeds on the ground", seeds, "1/cm^2", counted, source=COUNT),
        figure(
            "live_seeds_per_area", "Live seeds on the ground", live, "1/cm^2", counted, alive, source=COUNT
        ),
        figure("plants_per_area", "Seedlings to expect", plants, "1/cm^2", *lines, source=COUNT),
    )


def _range(plants: float, seed: Seed) -> Any:
    known = nominal(seed.live_seeds)
    return step(
        "lots differ: the lowest and highest counts known make it {a:2} to {b:2}",
        a=quantity(plants * seed.low / known, "1/cm^2"),
        b=quantity(plants * seed.high / known, "1/cm^2"),
    )


def _warnings(v: Values, rate: float, counts: tuple[Figure, ...]) -> tuple[str, ...]:
    said = [species.rate_warning(v.species, rate)] if not v.has("mixture") else []
    if counts and not v.has("target_density"):
        said.append(_stand(counts[-1].nominal))
    if v.has("cover_depth"):
        said.append(_cover(v, nominal(v.cover_depth)))
    return tuple(filter(None, said))


def _stand(plants: float) -> str:
    found = text_of(quantity(plants, "1/cm^2"))
    if plants > limit("stand_crowded"):
        most = text_of(limit_quantity("stand_crowded"))
        return (
            f"About {found} will come up: above {most} they crowd. Source: {limit_source('stand_crowded')}."
        )
    if plants < limit("stand_thin"):
        least = text_of(limit_quantity("stand_thin"))
        return (
            f"About {found} will come up: below {least} bare ground stays thin. "
            f"Source: {limit_source('stand_thin')}."
        )
    return ""


def _cover(v: Values, depth: float) -> str:
    """A sentence when bent (or a grass not named) is covered deeper than the published depths [mm]."""
    grasses = {row.species for row in v.mixture} if v.has("mixture") else {v.species}
    if not grasses & {*BENTS, species.NOT_SAID} or depth <= limit("cover_bent"):
        return ""
    found = text_of(quantity(depth, "mm"))
    if depth >= limit("cover_lost"):
        return f"{found} of cover loses most of a bent stand. Source: {limit_source('cover_lost')}."
    most = text_of(limit_quantity("cover_bent"))
    return f"{found} is deep for bent: cover it by {most} at most. Source: {limit_source('cover_bent')}."


OPERATION = Operation(
    key="overseeding",
    name="Overseeding",
    form=FORM,
    work=work,
    help="Seed this fine can't be seen leaving the spreader: weigh it out for each direction.",
    cautions=("seed_keep_off", "seed_separates"),
    group="seed and sand",
    order=40,
)
