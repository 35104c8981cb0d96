"""Feeding with a granular feed: how much to weigh out, and how much N, P, K and iron that puts down."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, quantity
from logic.works import nutrients
from logic.works.containers import containers
from logic.works.limits import limit
from logic.works.operation import Ground, Operation, Work

RATE = Source(
    "Getting what you paid for, University of Minnesota Extension; Rotary spreader calibration procedures, "
    "UMass Extension"
)
HALVES = Source(
    "Rotary spreader calibration procedures, UMass Extension: half the rate each way at right angles"
)


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "feeding", key, label, **more)


FORM = Form(
    fields=(
        *nutrients.label_fields(_field),
        _field("nutrient_rate", "Nutrient wanted"),
        Field(
            "nutrient",
            "Which nutrient",
            kind="choice",
            choices=nutrients.NUTRIENTS,
            default="n",
            help="The rate wanted counts this one.",
        ),
        _field("product_rate", "Rate of feed", help="What the bag says, weight of feed."),
        _field("directions", "Directions to spread in", whole=True),
        _field("bag_mass", "Feed in a bag", required=False),
        nutrients.turf_field(),
        _field("n_so_far", "N already given this year", required=False),
    ),
    ways=(
        Way("nutrient", "By nutrient wanted", ("nutrient_rate", "nutrient")),
        Way("product", "By rate of feed", ("product_rate",)),
    ),
)


def product_rate(v: Values, given: Any) -> Figure:
    """Rate of feed [g/m²]: nutrient wanted ÷ its share of the feed, or as given.

    Raises BadValue when the feed has none of the nutrient. Source: University of Minnesota Extension.
    """
    if v.has("product_rate"):
        rate, line = v.product_rate, step("as given: {r}", r=quantity(v.product_rate, "g/m^2"))
    else:
        share = nutrients.share_of(v.nutrient, given)
        rate = v.nutrient_rate / share
        line = step(
            "{w} of {name} wanted ÷ {s} in the feed = {r}",
            w=quantity(v.nutrient_rate, "g/m^2"),
            name=nutrients.name_of(v.nutrient),
            s=quantity(share * 100, "%"),
            r=quantity(rate, "g/m^2"),
        )
    return figure("product_rate", "Rate of feed", rate, "g/m^2", line, source=RATE, headline=True)


def work(v: Values, ground: Ground) -> Work:
    """All figures of a granular feeding. Raises BadValue for a label that can't be."""
    given = nutrients.shares(v)
    rate = product_rate(v, given)
    masses = _masses(rate.value.magnitude, ground, round(v.directions))
    fed = nutrients.nutrient_rates(rate.value, given, v.label_basis)
    so_far = v.n_so_far or 0.0
    year = nutrients.yearly_total(fed[0].value.magnitude, so_far)
    bags: tuple[Figure, ...] = ()
    if v.has("bag_mass"):
        bags = (
            containers(
                "bags", "Bags of feed", masses[0], nominal(v.bag_mass), "kg", "bag", ground.confidence
            ),
        )
    warnings = nutrients.nitrogen_warnings(fed[0].nominal, year.nominal, v.turf)
    cautions: tuple[str, ...] = ("iron_stains",) if given["fe"] > 0 else ()
    if v.has("bag_mass") and nominal(v.bag_mass) > limit("lift_from_ground"):
        cautions += ("bag_lifting",)
    return Work((rate, *masses, *fed, year, *bags), warnings, cautions)


def _masses(rate: Any, ground: Ground, passes: int) -> tuple[Figure, ...]:
    mass = rate * ground.area
    whole = step(
        "area {a} × rate {r} = {m}",
        a=quantity(ground.area, "m^2"),
        r=quantity(rate, "g/m^2"),
        m=quantity(mass, "g"),
    )
    parted = step(
        "{m} in {n} equal parts = {p}", m=quantity(mass, "g"), n=passes, p=quantity(mass / passes, "g")
    )
    setting = step(
        "{r} in {n} directions = {p} each time",
        r=quantity(rate, "g/m^2"),
        n=passes,
        p=quantity(rate / passes, "g/m^2"),
    )
    return (
        figure("product_mass", "Feed in all", mass, "g", whole, source=RATE, order=True, headline=True),
        figure(
            "product_mass_per_pass",
            "Weigh out for each direction",
            mass / passes,
            "g",
            whole,
            parted,
            source=HALVES,
            headline=passes > 1,
        ),
        figure("spreader_rate", "Set the spreader to", rate / passes, "g/m^2", setting, source=HALVES),
    )


OPERATION = Operation(
    key="feeding",
    name="Feeding",
    form=FORM,
    work=work,
    help="A granular feed by the N wanted or by the rate on the bag, half each way.",
    cautions=("feed_scorch", "feed_runoff"),
    group="feed and water",
    order=60,
)
