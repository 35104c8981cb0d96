"""How far will this bag go? The area that a bag or a can covers, and whether it is enough for this ground."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, Way, from_table
from logic.figure import DEFINITION, Figure, enough, figure, step
from logic.units import nominal, quantity, text_of
from logic.works.containers import containers
from logic.works.operation import Ground, Operation, Work


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "how_far", key, label, **more)


FORM = Form(
    fields=(
        _field("mass", "In the bag"),
        _field("rate", "Rate"),
        _field("volume", "In the can"),
        _field("volume_rate", "Rate of the liquid"),
    ),
    ways=(
        Way("mass", "By weight", ("mass", "rate")),
        Way("volume", "By volume", ("volume", "volume_rate")),
    ),
)


def work(v: Values, ground: Ground) -> Work:
    """The area covered, the share of this ground, how many are needed, and what is missing or left."""
    if v.has("mass"):
        return _covered(v.mass, v.rate, ("g", "g/m^2", "bag"), ground)
    return _covered(v.volume, v.volume_rate, ("mL", "mL/m^2", "can"), ground)


def _covered(amount: Any, rate: Any, units: tuple[str, str, str], ground: Ground) -> Work:
    unit, rate_unit, word = units
    reach, needed = amount / rate, ground.area * rate
    have, area = quantity(amount, unit), quantity(ground.area, "m^2")
    covers = step("{m} ÷ {r} = {a}", m=have, r=quantity(rate, rate_unit), a=quantity(reach, "m^2"))
    part = step(
        "{c} of {a} = {s}", c=quantity(reach, "m^2"), a=area, s=quantity(reach / ground.area * 100, "%")
    )
    total = step("area {a} × {r} = {n}", a=area, r=quantity(rate, rate_unit), n=quantity(needed, unit))
    left = step("{m} − {n} = {l}", m=have, n=quantity(needed, unit), l=quantity(amount - needed, unit))
    need = figure("needed", "Needed for this ground", needed, unit, total, source=DEFINITION, order=True)
    found: tuple[Figure, ...] = (
        figure("area_covered", "It covers", reach, "m^2", covers, source=DEFINITION, headline=True),
        figure(
            "share_covered", "Of this ground", reach / ground.area * 100, "%", covers, part, source=DEFINITION
        ),
        need,
        figure("left_over", "Left over (less than nothing: missing)", amount - needed, unit, total, left),
        containers(
            f"{word}s", f"{word}s needed".capitalize(), need, nominal(amount), unit, word, ground.confidence
        ),
    )
    short = enough(needed, ground.confidence) - nominal(amount)
    if short <= nominal(amount) * 1e-9:
        return Work(found)
    return Work(found, (f"One {word} may not be enough: up to {text_of(quantity(short, unit))} is missing.",))


OPERATION = Operation(
    key="how_far",
    name="How far will this bag go?",
    form=FORM,
    work=work,
    help="The area that a bag or can covers at a rate.",
    group="check",
    order=98,
)
