"""Spraying onto the leaf: product, mix and tanks, and the walking pace that puts it on."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, from_table
from logic.figure import Figure
from logic.works import tank_mix
from logic.works.operation import Ground, Operation, Work
from logic.works.spray_pace import pace_figures


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "spraying", key, label, **more)


FORM = Form(
    fields=(
        _field("product_rate", "Rate of product", help="L/ha or mL/m², from the label."),
        _field("dilution", "Dilution, 1 part in or to", help="200 for 1:200; say below which of the two."),
        tank_mix.DILUTION_KIND,
        _field("water_rate", "Water put on", help="The whole mix. 300 to 600 L/ha stays on the leaf."),
        _field("tank", "Tank", help="What you fill each time."),
        _field("flow", "Flow of the nozzle", required=False, help="Catch it for a minute. Gives the pace."),
        _field("swath", "Width sprayed", required=False, help="Gives the pace, with the flow."),
    ),
    ways=tank_mix.ways(),
)


def work(v: Values, ground: Ground) -> Work:
    """Product, mix, tanks and the odd last tank of a spray; the pace to hold if flow and width are known."""
    rate = tank_mix.rate_of(v)
    product, water = tank_mix.amounts(rate.value.magnitude, v.water_rate, ground)
    tanks, warnings = tank_mix.tanks(product, water, v.tank, ground)
    pace: tuple[Figure, ...] = ()
    if v.has("flow") and v.has("swath"):
        pace, slow = pace_figures(v.flow, v.swath, v.water_rate, ground)
        warnings += slow
    return Work((rate, product, water, *tanks, *pace), warnings)


OPERATION = Operation(
    key="spraying",
    name="Spraying",
    form=FORM,
    work=work,
    help="Product in little water, onto the leaf: liquid feed, seaweed, iron.",
    cautions=("label_first", "spray_drift", "tank_filling", "carry_water"),
    group="feed and water",
    order=66,
)
