"""The sums of a tank mix, shared by every operation that waters or sprays something on."""

from __future__ import annotations

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


def amounts(rate: Any, water_rate: Any, ground: Ground) -> tuple[Figure, Figure]:
    """Product [mL] and mix [L] for the ground, at `rate` [mL/m²] in `water_rate` [L/m²]."""
    product, water = rate * ground.area, water_rate * ground.area
    area = quantity(ground.area, "m^2")
    if nominal(product) > nominal(water) * 1000:
        raise BadValue("water_rate", "There is more product than water in this mix: check both rates.")
    return (
        figure(
            "product_volume",
            "Product in all",
            product,
            "mL",
            step("area {a} × {r} = {p}", a=area, r=quantity(rate, "mL/m^2"), p=quantity(product, "mL")),
            source=MIX,
            order=True,
            headline=True,
        ),
        figure(
            "water_volume",
            "Mix in all, product included",
            water,
            "L",
            step("area {a} × {r} = {w}", a=area, r=quantity(water_rate, "L/m^2"), w=quantity(water, "L")),
            source=MIX,
            order=True,
            headline=True,
        ),
    )


def tanks(
    product: Figure, water: Figure, tank: Any, ground: Ground
) -> tuple[tuple[Figure, ...], tuple[str, ...]]:
    """Fills of a tank [L], product in a full one and in the odd last one; and a warning where ± may ask more.

    The recipe is that of the area as measured. The fills to reckon with are whole, at the confidence of the
    ground. Source: product per tank = product ÷ mix × tank; the last tank pro rata.
    """
    size = nominal(tank)
    ml, litres = product.nominal, water.nominal
    fills = water.value.magnitude / size
    full = max(0, -int(-(litres / size - 1e-9) // 1) - 1)
    last = water.value.magnitude - full * size
    strength = ml / litres
    per_tank, in_last = strength * min(size, litres), strength * last
    mix = quantity(litres, "L")
    found = (
        figure(
            "tanks",
            "Tanks, as a number",
            fills,
            "",
            step("{w} ÷ {t} = {n}", w=water.value, t=quantity(size, "L"), n=fills),
            source=MIX,
        ),
        containers("tank_fills", "Times to fill", water, size, "L", "fill", ground.confidence, source=MIX),
        figure(
            "product_per_tank",
            "Product in each full tank" if full else "Product in the only tank",
            per_tank,
            "mL",
            step(
                "{p} in {w} of mix; {t} of it holds {x}",
                p=quantity(ml, "mL"),
                w=mix,
                t=quantity(min(size, litres), "L"),
                x=quantity(per_tank, "mL"),
            ),
            source=MIX,
            headline=True,
        ),
        figure(
            "last_tank_volume",
            "Mix in the last tank",
            last,
            "L",
            step(
                "{w} − {n} full of {t} = {l}",
                w=water.value,
                n=full,
                t=quantity(size, "L"),
                l=quantity(last, "L"),
            ),
            source=MIX,
        ),
        figure(
            "product_in_last_tank",
            "Product in the last tank",
            in_last,
            "mL",
            step(
                "{p} in {w} of mix; {l} of it holds {x}",
                p=quantity(ml, "mL"),
                w=mix,
                l=quantity(last, "L"),
                x=quantity(in_last, "mL"),
            ),
            source=MIX,
        ),
    )
    more = enough(last, ground.confidence) - nominal(last)
    if more <= 0.05 * size:
        return found, ()
    sentence = (
        f"The area is not certain: the last tank may have to hold {text_of(quantity(more, 'L'))} more. "
        "Mix it last, when you see what is left to do."
    )
    return found, (sentence,)
