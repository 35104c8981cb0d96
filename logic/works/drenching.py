"""Drenching: a liquid watered into the turf, by rate or by dilution, tank by tank or can by can."""

from __future__ import annotations

from typing import Any

from logic.field import Form, Values, from_table
from logic.works import tank_mix
from logic.works.operation import Ground, Operation, Work


def _field(key: str, label: str, **more: Any) -> Any:
    return from_table("works", "drenching", key, label, **more)


FORM = Form(
    fields=(
        _field(
            "product_rate",
            "Rate of product",
            help="L/ha or mL/m², from the label. The figure shown is a heavy seaweed drench.",
        ),
        _field("dilution", "Dilution, 1 part in or to", help="200 for 1:200; say below which of the two."),
        tank_mix.DILUTION_KIND,
        _field(
            "water_rate",
            "Water put on",
            help="The whole mix. 0.4 to 2 L/m² soaks in; a can of 10 L over 10 m² is 1 L/m².",
        ),
        _field("tank", "Tank or can", help="What you fill each time."),
    ),
    ways=tank_mix.ways(),
)


def work(v: Values, ground: Ground) -> Work:
    """Product, mix, tanks and the odd last tank of a drench."""
    rate = tank_mix.rate_of(v)
    product, water = tank_mix.amounts(rate.value.magnitude, v.water_rate, ground)
    tanks, warnings = tank_mix.tanks(product, water, v.tank, ground)
    return Work((rate, product, water, *tanks), warnings)


OPERATION = Operation(
    key="drenching",
    name="Drenching",
    form=FORM,
    work=work,
    help="Product in plenty of water, down to the roots: seaweed, wetting agent, liquid feed.",
    cautions=("label_first", "tank_filling", "carry_water"),
    group="feed and water",
    order=65,
)
