"""Topdressing: sand to fill open holes and grooves, then the layer, then hollows; volume, mass and loads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic.field import Field, Form, Values, Way, from_table
from logic.figure import PRACTICE, Figure, Source, Step, figure, step
from logic.units import nominal, quantity, text_of
from logic.works import bulk, openings, sand_aims
from logic.works.containers import containers, whole
from logic.works.limits import limit, limit_quantity
from logic.works.operation import Ground, Operation, Work

LAYER = Source("1 mm on 1 m² is 1 L; kg = L × bulk density: arithmetic of the definitions", "derived")
ORDER = Source("order by weight, with water and spare counted in", "practice")
OPEN = (
    ("extra", "filled first, on top of this dressing"),
    ("within", "filled out of this dressing"),
    ("leave", "left open"),
)


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "topdressing", key, label, **more)


FORM = Form(
    fields=(
        _field("depth", "Depth of sand over the turf", help="1 mm is 1 L on each m². Leaf must still show."),
        _field("rate", "Rate of sand"),
        _field("bulk_density", "Bulk density of the sand", help="Dry sand; a sand and soil mix is lighter."),
        _field(
            "moisture",
            "Water in the sand as delivered",
            help="Share of the dry weight. Damp sand weighs more by this much: order by weight.",
        ),
        Field(
            "openings",
            "Holes and grooves of earlier works",
            kind="choice",
            choices=OPEN,
            default="extra",
        ),
        _field("hollows", "Hollows to make up", help="From the levels, beyond the even layer."),
        _field(
            "passes", "Passes", whole=True, help="Thin passes at right angles lie evener than one thick one."
        ),
        _field("spare", "Extra for waste", help="5 to 10 % is usual for loose sand tipped on a sheet."),
        _field("barrow_load", "Sand in a barrow"),
        _field("bag_mass", "Sand in a bag", help="25 kg, or the weight on the ticket of a bulk bag."),
        _field(
            "already_this_year",
            "Sand already put on this year",
            required=False,
            help="As a depth: 1 mm is 1 L/m². Compared with published yearly aims.",
        ),
    ),
    ways=(Way("depth", "By depth", ("depth",)), Way("rate", "By weight", ("rate",))),
)


def still_open(ground: Ground) -> Any:
    """Litres of holes and grooves that earlier works left open and no earlier dressing has filled."""
    opened = sum((f.value.magnitude for f in ground.before("fill_volume")), 0.0)
    filled = sum((f.value.magnitude for f in ground.before("hole_fill")), 0.0)
    return opened - filled


def already(v: Values, ground: Ground) -> Any:
    """Sand put on this year before this dressing [mm]: as given, and the dressings planned before it."""
    return (
        sum((f.value.magnitude for f in ground.before("sand_volume")), 0.0) / ground.area
        + v.already_this_year
    )


def depth_of(v: Values) -> tuple[Any, Step]:
    """Depth of the dressing [mm], and the line that says how it was found."""
    if v.has("depth"):
        return v.depth, step("{d} over the turf is {r}", d=quantity(v.depth, "mm"), r=bulk.by_area(v.depth))
    depth = v.rate / v.bulk_density * 1000
    parts = {"r": quantity(v.rate, "kg/m^2"), "b": quantity(v.bulk_density, "kg/m^3")}
    return depth, step("{r} ÷ {b} = {d}", d=quantity(depth, "mm"), **parts)


def work(v: Values, ground: Ground) -> Work:
    """All figures of a dressing; never raises, for what is unusual is only warned of."""
    depth, line = depth_of(v)
    given = depth * ground.area
    spread = step(
        "{a} × {d} = {v}", a=quantity(ground.area, "m^2"), d=quantity(depth, "mm"), v=bulk.volume(given)
    )
    unfilled = still_open(ground)
    open_litres = unfilled if v.openings != "leave" and nominal(unfilled) > 1e-9 else 0.0
    layer = given
    if v.openings == "within":
        open_litres = given if nominal(open_litres) > nominal(given) else open_litres
        layer = given - open_litres
    total = open_litres + layer + v.hollows
    parts = _parts(v, layer, open_litres, total, (line, spread))
    sand = _sand(v, ground, total, parts[-1].steps)
    figures = (*sand, *parts[:-1], *_loads(v, ground, total, sand[1]), *_season(v, ground, total))
    cautions = ("order_by_mass",) if nominal(v.moisture) > 0 else ()
    return Work(figures, tuple(_warnings(v, ground, layer, total, unfilled - open_litres)), cautions)


def _parts(
    v: Values, layer: Any, open_litres: Any, total: Any, lines: tuple[Step, ...]
) -> tuple[Figure, ...]:
    """Layer and holes apart, and last the whole of it with every line of working."""
    q = {
        "h": bulk.volume(open_litres),
        "l": bulk.volume(layer),
        "w": bulk.volume(v.hollows),
        "t": bulk.volume(total),
    }
    filled = step("{h} goes into the holes and grooves that earlier works left open", **q)
    if nominal(open_litres) == 0:
        filled = step("no holes or grooves to fill")
    inside, whole_of_it = lines, lines
    if v.openings == "within" and nominal(open_litres) > 0:
        inside = (*lines, filled, step("which leaves {l} over the turf", **q))
        whole_of_it = inside
    elif nominal(open_litres) > 0:
        whole_of_it = (*lines, filled)
    if nominal(v.hollows) > 0:
        whole_of_it += (step("hollows to make up take {w}", **q),)
    if len(whole_of_it) > len(lines):
        whole_of_it += (step("holes {h} + layer {l} + hollows {w} = {t}", **q),)
    return (
        bulk.volume_figure("layer_volume", "Sand in the layer", layer, *inside, source=LAYER),
        bulk.volume_figure("hole_fill", "Sand into holes and grooves", open_litres, filled, source=LAYER),
        bulk.volume_figure("whole", "Sand in all", total, *whole_of_it, source=LAYER),
    )


def _sand(v: Values, ground: Ground, total: Any, steps: tuple[Step, ...]) -> tuple[Figure, ...]:
    """Volume, mass and rate of all the sand, and of each pass where there are several."""
    mass = total * v.bulk_density / 1000
    rate, passes = mass / ground.area, round(v.passes)
    parts = {
        "m": quantity(mass, "kg"),
        "a": quantity(ground.area, "m^2"),
        "r": quantity(rate, "kg/m^2"),
        "n": passes,
        "each": quantity(mass / passes, "kg"),
        "thin": quantity(rate / passes, "kg/m^2"),
    }
    weighed = openings.weight_line(total, v.bulk_density, mass)
    by_area = step("{m} ÷ {a} = {r}", **parts)
    figures = [
        bulk.volume_figure("sand_volume", "Sand to spread", total, *steps, source=LAYER, headline=True),
        figure("sand_mass", "Weight of that sand", mass, "kg", *steps, weighed, source=LAYER, headline=True),
        figure("sand_rate", "Sand on each square metre", rate, "kg/m^2", weighed, by_area, source=LAYER),
    ]
    if passes > 1:
        each = step("{m} in {n} equal passes = {each}", **parts)
        thin = step("{r} in {n} equal passes = {thin}", **parts)
        figures += [
            figure("sand_mass_per_pass", "Sand for each pass", mass / passes, "kg", weighed, each),
            figure("sand_rate_per_pass", "Set the spreader to", rate / passes, "kg/m^2", by_area, thin),
        ]
    return tuple(figures)


def _loads(v: Values, ground: Ground, total: Any, sand: Figure) -> tuple[Figure, ...]:
    """What to order and fetch: the mass as delivered, with its water and spare, in bags and in barrows."""
    mass = sand.value.magnitude * (1 + v.moisture / 100) * (1 + v.spare / 100)
    lines = [sand.steps[-1]]
    if nominal(v.moisture) > 0 or nominal(v.spare) > 0:
        lines.append(
            step(
                "{m} × (1 + {w} water) × (1 + {s} spare) = {d}",
                m=sand.value,
                w=quantity(v.moisture, "%"),
                s=quantity(v.spare, "%"),
                d=quantity(mass, "kg"),
            )
        )
    lines.append(step("that is {t} tonnes", t=mass / 1000))
    order = figure("sand_order", "Sand to order", mass, "kg", *lines, source=ORDER, order=True)
    bags = containers(
        "bags", "Bags", order, nominal(v.bag_mass), "kg", "bag", ground.confidence, headline=True
    )
    loads = whole(nominal(mass), nominal(v.barrow_load), 0.5)
    carried = step(
        "{m} ÷ {b} = {x}, so {n} loads",
        m=quantity(mass, "kg"),
        b=quantity(v.barrow_load, "kg"),
        x=nominal(mass) / nominal(v.barrow_load),
        n=loads,
    )
    barrows = figure("barrow_loads", "Barrow loads", loads, "", carried, source=PRACTICE, headline=True)
    return order, _loose(v, total), bags, barrows


def _loose(v: Values, total: Any) -> Figure:
    """The sand to order as a merchant measures it, in cubic metres or yards [m³]."""
    cubic = total * (1 + v.spare / 100) / 1000
    q = {"v": bulk.volume(total), "s": quantity(v.spare, "%"), "c": quantity(cubic, "m^3")}
    line = step("{v} × (1 + {s} spare) = {c}", **q) if nominal(v.spare) > 0 else step("{v} = {c}", **q)
    return figure("sand_loose", "Sand to order, by volume", cubic, "m^3", line, source=ORDER)


def _season(v: Values, ground: Ground, total: Any) -> tuple[Figure, ...]:
    if not v.has("already_this_year"):
        return ()
    now = total / ground.area
    before = already(v, ground)
    line = step(
        "{b} before + {n} now = {t}",
        b=quantity(before, "mm"),
        n=quantity(now, "mm"),
        t=quantity(before + now, "mm"),
    )
    return (figure("sand_this_year", "Sand this year", before + now, "mm", line),)


def _warnings(v: Values, ground: Ground, layer: Any, total: Any, unfilled: Any) -> Iterator[str]:
    thick = nominal(layer / ground.area)
    if thick > limit("dressing_depth"):
        yield (
            f"{text_of(quantity(thick, 'mm'))} over standing turf in one dressing: more than "
            f"{text_of(limit_quantity('dressing_depth'))} smothers it. Leaf must still show; "
            "put it on in two dressings."
        )
    if nominal(unfilled) > 1e-9:
        yield (
            f"{text_of(bulk.volume(unfilled))} of holes and grooves of earlier works stay open after this "
            "dressing: sand will go on running into them, and the layer comes out thinner."
        )
    if v.has("already_this_year"):
        yield from sand_aims.compared(nominal(already(v, ground) + total / ground.area))


OPERATION = Operation(
    key="topdressing",
    name="Topdressing",
    form=FORM,
    work=work,
    help="Fills open holes and grooves first, then lies over the turf; worked in with a mat or brush.",
    cautions=("leaf_must_show", "sand_dust", "sand_lifting"),
    group="seed and sand",
    order=50,
)
