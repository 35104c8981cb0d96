"""Feeding with a liquid: how much concentrate, in how much water, and how much N, P, K and iron it gives."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Step, figure, step
from logic.units import quantity
from logic.works import nutrients, tank_mix
from logic.works.operation import Ground, Operation, Work


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "liquid_feeding", key, label, **more)


FORM = Form(
    fields=(
        *nutrients.label_fields(_field),
        Field(
            "label_by",
            "The label's per cent are",
            kind="choice",
            choices=(("volume", "w/v: grams in 100 mL"), ("weight", "w/w: grams in 100 g")),
            default="volume",
            help="By weight, the weight of a litre is needed too.",
        ),
        _field("density", "Weight of the feed", required=False, help="Kilograms in a litre."),
        _field("nutrient_rate", "Nutrient wanted"),
        Field(
            "nutrient",
            "Which nutrient",
            kind="choice",
            choices=nutrients.NUTRIENTS,
            default="n",
            help="The rate wanted counts this one.",
        ),
        _field("product_rate", "Rate of concentrate", help="L/ha or mL/m², from the label."),
        _field("water_rate", "Water put on", help="The whole mix, the concentrate included."),
        _field("tank", "Tank or can", help="What you fill each time."),
        nutrients.turf_field(),
        _field("n_so_far", "N already given this year", required=False),
    ),
    ways=(
        Way("nutrient", "By nutrient wanted", ("nutrient_rate", "nutrient")),
        Way("product", "By rate of concentrate", ("product_rate",)),
    ),
)


def work(v: Values, ground: Ground) -> Work:
    """All figures of a liquid feeding. Raises BadValue for a label that can't be, or a density missing."""
    given = nutrients.shares(v)
    rate = product_rate(v, given)
    product, water = tank_mix.amounts(rate.value.magnitude, v.water_rate, ground)
    tanks, tank_warnings = tank_mix.tanks(product, water, v.tank, ground)
    dose, lines = _dose(v, rate)
    fed = nutrients.nutrient_rates(dose, given, v.label_basis, lines)
    year = nutrients.yearly_total(fed[0].value.magnitude, v.n_so_far or 0.0)
    warnings = nutrients.nitrogen_warnings(fed[0].nominal, year.nominal, v.turf)
    cautions = ("iron_stains",) if given["fe"] > 0 else ()
    mix = replace(water, headline=False)  # the recipe and the N say more
    return Work((rate, product, mix, *tanks, *fed, year), (*warnings, *tank_warnings), cautions)


def product_rate(v: Values, given: Any) -> Figure:
    """Rate of concentrate [mL/m²]: nutrient wanted [g/m²] ÷ grams of it in a mL, or as given.

    Grams in a mL: per cent w/v ÷ 100, or per cent w/w ÷ 100 × density [kg/L].
    Source: Getting what you paid for, University of Minnesota Extension; definitions of w/v and w/w.
    """
    if v.has("product_rate"):
        line = step(
            "as given: {r} = {h}",
            r=quantity(v.product_rate, "mL/m^2"),
            h=quantity(v.product_rate * 10, "L/hectare"),
        )
        return _rate(v.product_rate, line)
    share = nutrients.share_of(v.nutrient, given)
    rate = v.nutrient_rate / (share * _density(v))
    words = (
        "{w} of {name} wanted ÷ ({s} × {d} kg/L) = {r}"
        if v.label_by == "weight"
        else "{w} of {name} wanted ÷ {s} w/v = {r}"
    )
    line = step(
        words,
        w=quantity(v.nutrient_rate, "g/m^2"),
        name=nutrients.name_of(v.nutrient),
        s=quantity(share * 100, "%"),
        d=_density(v),
        r=quantity(rate, "mL/m^2"),
    )
    return _rate(rate, line)


def _rate(rate: Any, line: Step) -> Figure:
    return figure("product_rate", "Rate of concentrate", rate, "mL/m^2", line, source=tank_mix.MIX)


def _density(v: Values) -> Any:
    """Kilograms in a litre; 1 for a label in w/v, which already counts by volume."""
    if v.label_by == "volume":
        return 1.0
    if not v.has("density"):
        raise BadValue("density", "Say what a litre of the feed weighs: its label counts by weight.")
    return v.density


def _dose(v: Values, rate: Figure) -> tuple[Any, tuple[Step, ...]]:
    """The dose that the label's per cent apply to, by volume or by mass, and the line that leads to it."""
    if v.label_by == "volume":
        return rate.value, ()
    mass = quantity(rate.value.magnitude * v.density, "g/m^2")
    return mass, (step("{r} × {d} kg/L = {m}", r=rate.value, d=v.density, m=mass),)


OPERATION = Operation(
    key="liquid_feeding",
    name="Liquid feeding",
    form=FORM,
    work=work,
    help="A liquid feed by the N wanted or by the rate on the label, in tanks or cans.",
    cautions=("feed_scorch_liquid", "label_first", "tank_filling", "carry_water"),
    group="feed and water",
    order=61,
)
