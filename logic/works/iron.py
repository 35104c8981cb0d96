"""Sulphate of iron for colour: how much of it, in how much water, and how much iron that puts down."""

from __future__ import annotations

from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import quantity, text_of
from logic.works import tank_mix
from logic.works.limits import limit, limit_quantity, limit_source
from logic.works.operation import Ground, Operation, Work

RATE = Source("Getting what you paid for, University of Minnesota Extension: product = nutrient ÷ its share")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "iron", key, label, **more)


FORM = Form(
    fields=(
        Field(
            "product",
            "What it is",
            kind="choice",
            choices=(
                *((r["key"], r["name"]) for r in tables.rows("iron")),
                ("other", "Another, as labelled"),
            ),
            default="heptahydrate",
        ),
        _field("fe", "Iron (Fe) on the label", required=False, help="Only for another product."),
        _field("fe_rate", "Iron wanted (Fe)", help="About 0.15 g/m² gives colour."),
        _field("product_rate", "Rate of product", help="Weight of the crystals, not of the iron in them."),
        _field("water_rate", "Water put on", help="The whole mix."),
        _field("tank", "Tank or can", help="What you fill each time."),
        Field(
            "surface",
            "Surface",
            kind="choice",
            choices=(("green", "Fine green"), ("lawn", "Lawn")),
            default="green",
            help="A fine green is warned of sooner.",
        ),
    ),
    ways=(
        Way("product", "By rate of product", ("product_rate",)),
        Way("iron", "By iron wanted", ("fe_rate",)),
    ),
)


def iron_share(v: Values) -> tuple[Any, Source]:
    """Per cent of iron in the product, and where that stands. Raises BadValue when the label's is needed."""
    if v.product != "other":
        record = tables.row("iron", key=v.product)
        return float(record["fe"]), tables.source_of(record)
    if not v.has("fe"):
        raise BadValue("fe", "Say how much iron is on the label of the product.")
    return v.fe, Source("", "setting")


def work(v: Values, ground: Ground) -> Work:
    """Rate of product and of iron, the mass for the ground, and the mix."""
    share, share_source = iron_share(v)
    rate, fed = _rates(v, share, share_source)
    mass = rate.value.magnitude * ground.area
    line = step(
        "area {a} × rate {r} = {m}", a=quantity(ground.area, "m^2"), r=rate.value, m=quantity(mass, "g")
    )
    product = figure(
        "product_mass", "Product in all", mass, "g", line, source=RATE, order=True, headline=True
    )
    water = tank_mix.water_for(v.water_rate, ground)
    tanks, warnings = tank_mix.tanks(product, water, v.tank, ground)
    return Work((rate, fed, product, water, *tanks), (*_strong(fed.nominal, v.surface), *warnings))


def _rates(v: Values, share: Any, share_source: Source) -> tuple[Figure, Figure]:
    if v.has("product_rate"):
        rate, iron = v.product_rate, v.product_rate * share / 100
        shown = {"r": quantity(rate, "g/m^2"), "s": quantity(share, "%"), "f": quantity(iron, "g/m^2")}
        first, second = step("as given: {r}", **shown), step("{r} × {s} iron = {f} of Fe", **shown)
    else:
        iron, rate = v.fe_rate, v.fe_rate / (share / 100)
        shown = {"r": quantity(rate, "g/m^2"), "s": quantity(share, "%"), "f": quantity(iron, "g/m^2")}
        first, second = step("{f} of Fe wanted ÷ {s} iron = {r}", **shown), step("as given: {f}", **shown)
    return (
        figure("product_rate", "Rate of product", rate, "g/m^2", first, source=RATE, headline=True),
        figure("fe_rate", "Fe put down", iron, "g/m^2", second, source=share_source),
    )


def _strong(fe_rate: float, surface: str) -> tuple[str, ...]:
    """A sentence when more iron [g Fe/m²] goes down than the surface is likely to stand unmarked."""
    for key, applies in (("iron_most", True), ("iron_fine", surface == "green")):
        if applies and fe_rate > limit(key) * (1 + 1e-9):
            found, most = text_of(quantity(fe_rate, "g/m^2")), text_of(limit_quantity(key))
            place = "a fine green" if key == "iron_fine" else "any turf"
            said = f"{found} of iron blackens and thins turf: more than {most} is a lot for {place}."
            return (f"{said} Source: {limit_source(key)}.",)
    return ()


OPERATION = Operation(
    key="iron",
    name="Iron for colour",
    form=FORM,
    work=work,
    help="Sulphate of iron in water, for colour and hardness.",
    cautions=("iron_stains", "iron_moss", "iron_seedlings", "tank_filling", "carry_water"),
    group="feed and water",
    order=62,
)
