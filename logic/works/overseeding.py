"""Overseeding: how much seed to weigh out, pass by pass, and how many plants to expect."""

from __future__ import annotations

from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import quantity
from logic.works.operation import Ground, Operation, Work

PLS = Source("Seeding rates, Cornell University; Purchasing Seed, University of Minnesota Extension")
COUNT = Source("Seeding Rate Considerations, UMass Extension Turf Program")
HALVES = Source("Rotary spreader calibration procedures, UMass Extension: equal parts in crossing directions")
PRACTICE = Source("", "practice")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "overseeding", key, label, **more)


FORM = Form(
    fields=(
        _field("rate", "Rate of seed from the bag", help="What the bag or the plan says, bag weight."),
        _field(
            "target_density",
            "Seedlings wanted",
            help="1 to 2 per cm² is a good stand; above 8 they crowd and damp off.",
        ),
        _field(
            "seeds_per_gram",
            "Seeds in a gram",
            required=False,
            help="From the label or the species table; lots differ by a third.",
        ),
        _field("purity", "Purity of the seed"),
        _field("germination", "Germination"),
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
    ),
    ways=(
        Way("rate", "By rate", ("rate",)),
        Way("target", "By seedlings wanted", ("target_density",)),
    ),
)


def pure_live_seed(purity: Any, germination: Any) -> Figure:
    """Pure live seed [%] of a bag: purity [%] × germination [%].

    Source: Cornell University, Seeding rates; University of Minnesota Extension, Purchasing Seed.
    """
    share = purity * germination / 100
    return figure(
        "pure_live_seed",
        "Pure live seed",
        share,
        "%",
        step(
            "purity {p} × germination {g} = {s}",
            p=quantity(purity, "%"),
            g=quantity(germination, "%"),
            s=quantity(share, "%"),
        ),
        source=PLS,
    )


def rate_for(target: Any, seeds_per_gram: Any, live: Any, establishment: Any) -> Figure:
    """Rate of bag seed [g/m²] for `target` plants [1/cm²]: target × 10,000 / (seeds/g × PLS × establishment).

    live, establishment: percent. Source: arithmetic of the definitions (10,000 cm² in a m²).
    """
    rate = target * 10_000 / (seeds_per_gram * live / 100 * establishment / 100)
    return figure(
        "seed_rate",
        "Rate from the bag",
        rate,
        "g/m^2",
        step(
            "{t} seedlings ÷ ({n} seeds × {live} alive × {e} establishing) = {rate}",
            t=quantity(target, "1/cm^2"),
            n=quantity(seeds_per_gram, "1/g"),
            live=quantity(live, "%"),
            e=quantity(establishment, "%"),
            rate=quantity(rate, "g/m^2"),
        ),
        source=COUNT,
    )


def work(v: Values, ground: Ground) -> Work:
    """All figures of an overseeding. Raises BadValue when a target is asked for without a seed count."""
    live = pure_live_seed(v.purity, v.germination)
    if v.has("rate"):
        given = quantity(v.rate, "g/m^2")
        rate = figure("seed_rate", "Rate from the bag", v.rate, "g/m^2", step("as given: {r}", r=given))
    elif not v.has("seeds_per_gram"):
        raise BadValue("seeds_per_gram", "Say how many seeds are in a gram to sow for a number of seedlings.")
    else:
        rate = rate_for(v.target_density, v.seeds_per_gram, live.nominal, v.establishment)
    per_area = rate.value.magnitude
    mass = per_area * ground.area
    with_spare = mass * (1 + v.hopper_allowance / 100)
    figures = [live, rate, *_masses(v, ground, per_area, mass, with_spare), *_carrier(v, with_spare)]
    if v.has("seeds_per_gram"):
        figures += _counts(v, per_area, live.nominal)
    return Work(tuple(figures))


def _masses(v: Values, ground: Ground, rate: Any, mass: Any, with_spare: Any) -> tuple[Figure, ...]:
    passes = round(v.directions)
    grams = [quantity(x, "g") for x in (mass, with_spare, with_spare / passes, with_spare - mass)]
    needed = step(
        "area {a} × rate {r} = {m}",
        a=quantity(ground.area, "m^2"),
        r=quantity(rate, "g/m^2"),
        m=grams[0],
    )
    spare = step("with {x} extra = {m}", x=quantity(v.hopper_allowance, "%"), m=grams[1])
    return (
        figure("seed_mass", "Seed that goes down", mass, "g", needed, source=PLS, headline=True),
        figure(
            "seed_weigh_out",
            "Seed to weigh out",
            with_spare,
            "g",
            needed,
            spare,
            source=PRACTICE,
            order=True,
            headline=True,
        ),
        figure(
            "seed_mass_per_pass",
            "Weigh out for each direction",
            with_spare / passes,
            "g",
            needed,
            spare,
            step("{m} in {n} equal parts = {p}", m=grams[1], n=passes, p=grams[2]),
            source=HALVES,
            headline=True,
        ),
        figure(
            "seed_left_over",
            "Expect left over",
            with_spare - mass,
            "g",
            step("{w} weighed out − {m} sown = {x}", w=grams[1], m=grams[0], x=grams[3]),
            source=PRACTICE,
        ),
    )


def _carrier(v: Values, with_spare: Any) -> tuple[Figure, ...]:
    if v.carrier_ratio == 0:
        return ()
    carrier = with_spare / 1000 * v.carrier_ratio
    line = step(
        "{m} of seed × {r} parts = {c} of dry sand",
        m=quantity(with_spare, "g"),
        r=v.carrier_ratio,
        c=quantity(carrier, "kg"),
    )
    return (figure("carrier_mass", "Dry sand to carry it", carrier, "kg", line, source=PRACTICE, order=True),)


def _counts(v: Values, rate: Any, live: float) -> tuple[Figure, ...]:
    seeds = rate * v.seeds_per_gram / 10_000
    plants = seeds * live / 100 * v.establishment / 100
    per_cm2 = [quantity(x, "1/cm^2") for x in (seeds, plants)]
    counted = step(
        "{r} × {n} seeds = {s}",
        r=quantity(rate, "g/m^2"),
        n=quantity(v.seeds_per_gram, "1/g"),
        s=per_cm2[0],
    )
    growing = step(
        "{s} × {live} alive × {e} establishing = {p}",
        s=per_cm2[0],
        live=quantity(live, "%"),
        e=quantity(v.establishment, "%"),
        p=per_cm2[1],
    )
    return (
        figure("seeds_per_area", "Seeds on the ground", seeds, "1/cm^2", counted, source=COUNT),
        figure("plants_per_area", "Seedlings to expect", plants, "1/cm^2", counted, growing, source=COUNT),
    )


OPERATION = Operation(
    key="overseeding",
    name="Overseeding",
    form=FORM,
    work=work,
    help="Seed this fine can't be seen leaving the spreader: weigh it out for each direction.",
    cautions=("seed_keep_off",),
    group="seed and sand",
    order=40,
)
