"""What rate did I put down? Mass or volume used, over the ground it went on."""

from __future__ import annotations

from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import DEFINITION, Figure, figure, step
from logic.units import nominal, quantity
from logic.works.operation import Ground, Operation, Work


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "rate_applied", key, label, **more)


FORM = Form(
    fields=(
        _field("mass_out", "Weighed out"),
        _field("mass_back", "Brought back", required=False),
        _field("wanted_rate", "Rate wanted", required=False),
        _field("volume_out", "Volume taken"),
        _field("volume_back", "Volume brought back", required=False),
        _field("wanted_volume_rate", "Volume rate wanted", required=False),
        _field("covered", "Area covered", required=False, help="Left empty, the whole ground."),
    ),
    ways=(
        Way("mass", "By weight", ("mass_out", "mass_back", "wanted_rate")),
        Way("volume", "By volume", ("volume_out", "volume_back", "wanted_volume_rate")),
    ),
)


def work(v: Values, ground: Ground) -> Work:
    """The rate that went down and, where one was wanted, how far off it is. Raises BadValue."""
    area = v.covered if v.has("covered") else ground.area
    if v.has("mass_out"):
        return Work(_rate(v.mass_out, v.mass_back or 0.0, area, v.wanted_rate, ("g", "g/m^2"), "mass_back"))
    units = ("mL", "mL/m^2")
    return Work(_rate(v.volume_out, v.volume_back or 0.0, area, v.wanted_volume_rate, units, "volume_back"))


def _rate(
    out: Any, back: Any, area: Any, wanted: Any, units: tuple[str, str], back_key: str
) -> tuple[Figure, ...]:
    unit, rate_unit = units
    used = out - back
    if nominal(used) <= 0:
        raise BadValue(back_key, "As much came back as was taken, so nothing went down.")
    rate = used / area
    taken = step(
        "{o} taken − {b} back = {u}", o=quantity(out, unit), b=quantity(back, unit), u=quantity(used, unit)
    )
    over = step(
        "{u} over {a} = {r}",
        u=quantity(used, unit),
        a=quantity(area, "m^2"),
        r=quantity(rate, rate_unit),
    )
    found = [
        figure("used", "Went down", used, unit, taken, source=DEFINITION),
        figure(
            "applied_rate", "Rate put down", rate, rate_unit, taken, over, source=DEFINITION, headline=True
        ),
    ]
    if wanted is not None:
        off = (rate / wanted - 1) * 100
        line = step(
            "{r} against {w} wanted = {o} off",
            r=quantity(rate, rate_unit),
            w=quantity(wanted, rate_unit),
            o=quantity(off, "%"),
        )
        found.append(figure("rate_off", "Off by", off, "%", line, source=DEFINITION, headline=True))
    return tuple(found)


OPERATION = Operation(
    key="rate_applied",
    name="What rate did I put down?",
    form=FORM,
    work=work,
    help="From what was taken and what came back.",
    group="check",
    order=97,
)
