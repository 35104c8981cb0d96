"""Calibrating a sprayer: what it puts on at your pace, by any of the usual four ways."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, Way, from_table
from logic.figure import Figure, Source, Step, figure, step
from logic.units import quantity
from logic.works.operation import Ground, Operation, Work
from logic.works.spray_pace import spray_rate

ACRE_128 = Source(
    "Backpack sprayer calibration worksheet, NC State Extension: US fluid ounces caught over 1/128 acre are "
    "US gallons per acre"
)
PLOT = Source("The same by definition, for any plot: rate = volume ÷ area", "derived")
MIX = Source("Calculating spray application information (provincial factsheet)")

#: 1/128 of an acre [m²]: an acre is 43,560 ft², a foot 0.3048 m.
COURSE_AREA = 43_560 / 128 * 0.3048**2


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "sprayer_calibration", key, label, **more)


FORM = Form(
    fields=(
        _field("flow", "Flow of the nozzle", help="Catch it for a minute."),
        _field("speed", "Walking speed"),
        _field("catch", "Caught from the nozzle"),
        _field("catch_time", "Time of the catch"),
        _field("course", "Course walked", paces=True),
        _field("course_time", "Time for the course"),
        _field("swath", "Width sprayed"),
        _field("plot_area", "Plot sprayed", help="Any marked plot; time how long it takes to spray."),
        _field("plot_catch", "Caught in the time the plot took"),
        _field("acre_catch", "Caught in the time of the 1/128 acre course"),
        _field("product_rate", "Rate of product", required=False, help="L/ha or mL/m², from the label."),
        _field("tank", "Tank", required=False, help="Gives the product for each tank."),
    ),
    ways=(
        Way("timed", "Catch, course and width", ("catch", "catch_time", "course", "course_time", "swath")),
        Way("nozzle", "Flow, speed and width", ("flow", "speed", "swath")),
        Way("plot", "Over a marked plot", ("plot_area", "plot_catch")),
        Way("acre", "Over 1/128 of an acre", ("acre_catch", "swath")),
    ),
)


def plot_rate(volume: Any, area: Any, source: Source = PLOT) -> Figure:
    """Rate [L/ha] = volume [mL] × 10 / area [m²]. Source: definition of the hectare."""
    rate = volume * 10 / area
    line = step(
        "{v} over {a} = {r}", v=quantity(volume, "mL"), a=quantity(area, "m^2"), r=quantity(rate, "L/hectare")
    )
    return figure("spray_rate", "Rate of spray", rate, "L/hectare", line, source=source, headline=True)


def work(v: Values, ground: Ground) -> Work:
    """The rate of spray, the mix for the ground, and product for each litre and tank."""
    figures = [*_rate(v)]
    rate = next(f for f in figures if f.key == "spray_rate")
    mix = rate.value.magnitude / 10_000 * ground.area
    line = step("area {a} × {r} = {m}", a=quantity(ground.area, "m^2"), r=rate.value, m=quantity(mix, "L"))
    figures.append(figure("water_volume", "Mix for this ground", mix, "L", line, source=MIX, order=True))
    if v.has("product_rate"):
        figures += _product(v, rate)
    return Work(tuple(figures))


def _rate(v: Values) -> tuple[Figure, ...]:
    if v.has("catch"):
        return _timed(v)
    if v.has("flow"):
        return (spray_rate(v.flow, v.speed, v.swath),)
    if v.has("plot_catch"):
        return (plot_rate(v.plot_catch, v.plot_area),)
    length = COURSE_AREA / v.swath
    laid = step(
        "{a} ÷ {w} wide = {l}",
        a=quantity(COURSE_AREA, "m^2"),
        w=quantity(v.swath, "m"),
        l=quantity(length, "m"),
    )
    whole = step("an acre of 43,560 square feet ÷ 128 = {a}", a=quantity(COURSE_AREA, "m^2"))
    return (
        figure("course_area", "1/128 of an acre", COURSE_AREA, "m^2", whole, source=ACRE_128),
        figure("course_length", "Course to mark", length, "m", laid, source=ACRE_128),
        plot_rate(v.acre_catch, COURSE_AREA, ACRE_128),
    )


def _timed(v: Values) -> tuple[Figure, ...]:
    flow = v.catch / 1000 / (v.catch_time / 60)
    speed = v.course / v.course_time * 3.6
    caught = step(
        "{c} in {t} s = {f}", c=quantity(v.catch, "mL"), t=v.catch_time, f=quantity(flow, "L/minute")
    )
    walked = step(
        "{d} in {t} s = {s}", d=quantity(v.course, "m"), t=v.course_time, s=quantity(speed, "km/hour")
    )
    return (
        figure("flow", "Flow of the nozzle", flow, "L/minute", caught, source=PLOT),
        figure("walking_speed", "Walking speed", speed, "km/hour", walked, source=PLOT),
        spray_rate(flow, speed, v.swath),
    )


def _product(v: Values, rate: Figure) -> list[Figure]:
    """Product for each litre of mix, for each tank, and what a tank covers.

    Source: product for a litre = product rate ÷ spray rate.
    """
    each = v.product_rate * 10_000 / rate.value.magnitude
    line: Step = step(
        "{p} ÷ {r} = {x} in each litre",
        p=quantity(v.product_rate, "mL/m^2"),
        r=rate.value,
        x=quantity(each, "mL"),
    )
    found = [figure("product_per_litre", "Product in each litre", each, "mL", line, source=MIX)]
    if v.has("tank"):
        tank = quantity(v.tank, "L")
        filled = step("{x} × {t} = {p}", x=quantity(each, "mL"), t=tank, p=quantity(each * v.tank, "mL"))
        covered = v.tank / (rate.value.magnitude / 10_000)
        reach = step("{t} ÷ {r} = {a}", t=tank, r=rate.value, a=quantity(covered, "m^2"))
        found += [
            figure(
                "product_per_tank",
                "Product for a full tank",
                each * v.tank,
                "mL",
                line,
                filled,
                source=MIX,
                headline=True,
            ),
            figure("area_per_tank", "A tank covers", covered, "m^2", reach, source=MIX),
        ]
    return found


OPERATION = Operation(
    key="sprayer_calibration",
    name="Sprayer calibration",
    form=FORM,
    work=work,
    help="Clean water, your own pace: what the sprayer really puts on.",
    cautions=("label_first",),
    group="check",
    order=91,
)
