"""The sums of a tank mix, shared by every operation that waters or sprays something on."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Way
from logic.figure import Figure, Source, enough, figure, step
from logic.units import nominal, quantity, text_of
from logic.works.containers import containers
from logic.works.operation import Ground

MIX = Source("Calculating spray application information (provincial factsheet); product and water by area")

#: The two things that people write as 1:200.
DILUTIONS = (
    ("in", "1 in so many: parts of the whole mix"),
    ("to", "1 to so many: parts of water added"),
)
DILUTION_KIND = Field(
    "dilution_kind",
    "What the dilution counts",
    kind="choice",
    choices=DILUTIONS,
    default="in",
    help="1 in 200 is 75.0 mL in 15 L of mix; 1 to 200 is 1 part and 200 of water, 74.6 mL in 15 L.",
)


def ways() -> tuple[Way, Way]:
    """By rate of product, or by dilution."""
    return (
        Way("rate", "By rate of product", ("product_rate",)),
        Way("dilution", "By dilution", ("dilution", "dilution_kind")),
    )


def rate_of(v: Mapping[str, Any]) -> Figure:
    """Product [mL/m²]: as given, or the water rate [L/m²] ÷ N ("1 in N") or ÷ (N + 1) ("1 to N").

    Source: definitions of the two dilutions.
    """
    if v["product_rate"] is not None:
        given = quantity(v["product_rate"], "mL/m^2")
        line = step("as given: {r} = {h}", r=given, h=quantity(v["product_rate"] * 10, "L/hectare"))
        return figure("product_rate", "Rate of product", v["product_rate"], "mL/m^2", line, source=MIX)
    parts = v["dilution"] if v["dilution_kind"] == "in" else v["dilution"] + 1
    rate = v["water_rate"] * 1000 / parts
    words = "1 part in {n} of mix" if v["dilution_kind"] == "in" else "1 part to {n} of water is 1 in {p}"
    line = step(
        words + ": {w} of mix ÷ {p} = {r}",
        n=v["dilution"],
        p=parts,
        w=quantity(v["water_rate"], "L/m^2"),
        r=quantity(rate, "mL/m^2"),
    )
    return figure("product_rate", "Rate of product", rate, "mL/m^2", line, source=MIX)


def water_for(water_rate: Any, ground: Ground) -> Figure:
    """The whole mix [L] for the ground at `water_rate` [L/m²]."""
    water = water_rate * ground.area
    line = step(
        "area {a} × {r} = {w}",
        a=quantity(ground.area, "m^2"),
        r=quantity(water_rate, "L/m^2"),
        w=quantity(water, "L"),
    )
    return figure(
        "water_volume",
        "Mix in all, product included",
        water,
        "L",
        line,
        source=MIX,
        order=True,
        headline=True,
    )


def amounts(rate: Any, water_rate: Any, ground: Ground) -> tuple[Figure, Figure]:
    """Product [mL] and mix [L] for the ground, at `rate` [mL/m²] in `water_rate` [L/m²].

    Raises BadValue when the product would not fit into the mix.
    """
    if nominal(rate) > nominal(water_rate) * 1000:
        raise BadValue("water_rate", "There is more product than water in this mix: check both rates.")
    product = rate * ground.area
    line = step(
        "area {a} × {r} = {p}",
        a=quantity(ground.area, "m^2"),
        r=quantity(rate, "mL/m^2"),
        p=quantity(product, "mL"),
    )
    needed = figure(
        "product_volume", "Product in all", product, "mL", line, source=MIX, order=True, headline=True
    )
    return needed, water_for(water_rate, ground)


def tanks(
    product: Figure, water: Figure, tank: Any, ground: Ground
) -> tuple[tuple[Figure, ...], tuple[str, ...]]:
    """Fills of a tank [L], product [in its own unit] for a full one and for the odd last one.

    The recipe is that of the area as measured; the fills to reckon with are whole, at the confidence of the
    ground. Also gives a warning where the ± may ask much more of the last one.
    Source: product per tank = product ÷ mix × tank; the last tank pro rata.
    """
    size = nominal(tank)
    full = max(0, math.ceil(water.nominal / size - 1e-9) - 1)
    last = water.value.magnitude - full * size
    fills = water.value.magnitude / size
    full_size, last_size = quantity(size, "L"), quantity(last, "L")
    counted = step("{w} ÷ {t} = {n}", w=water.value, t=full_size, n=fills)
    words = "{w} − {n} full of {t} = {l}" if full else "{w} goes into one tank of {t}"
    rest = step(words, w=water.value, n=full, t=full_size, l=last_size)
    found = (
        figure("tanks", "Tanks, as a number", fills, "", counted, source=MIX),
        containers("tank_fills", "Times to fill", water, size, "L", "fill", ground.confidence, source=MIX),
        _holds("product_per_tank", "Product for a full tank", product, water, full_size, full > 0),
        figure("last_tank_volume", "Mix in the last tank", last, "L", rest, source=MIX),
        _holds("product_in_last_tank", "Product in the last tank", product, water, last_size, True),
    )
    more = enough(last, ground.confidence) - nominal(last)
    if more <= 0.05 * size:
        return found, ()
    sentence = (
        f"The area is not certain: the last tank may have to hold {text_of(quantity(more, 'L'))} more. "
        "Mix it last, when you see what is left to do."
    )
    return found, (sentence,)


def _holds(key: str, name: str, product: Figure, water: Figure, volume: Any, headline: bool) -> Figure:
    held = product.nominal / water.nominal * volume.magnitude
    line = step(
        "{p} in {w} of mix; {t} of it holds {x}",
        p=quantity(product.nominal, product.unit),
        w=quantity(water.nominal, "L"),
        t=volume,
        x=quantity(held, product.unit),
    )
    return figure(key, name, held, product.unit, line, source=MIX, headline=headline)
