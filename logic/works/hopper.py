"""What goes through the spreader: seed for each direction, the spare, the carrier and the setting."""

from __future__ import annotations

from typing import Any

from logic.field import Values
from logic.figure import PRACTICE, Figure, Source, figure, step
from logic.units import quantity
from logic.works.operation import Ground

MASS = Source("Seeding rates, Cornell University: bag weight is rate × area")
HALVES = Source("Rotary spreader calibration procedures, UMass Extension: equal parts in crossing directions")


def weighing_list(v: Values, rate: Any, ground: Ground) -> tuple[Figure, ...]:
    """All masses of a sowing at `rate` of bag seed [g/m²].

    v: directions, hopper_allowance [%], carrier_ratio [parts of carrier to 1 of seed, by mass].
    Source: seed mass = rate × area; hopper rate of a pass = (rate / passes) × (1 + ratio).
    """
    passes, ratio = round(v.directions), v.carrier_ratio
    mass = rate * ground.area
    out = mass * (1 + v.hopper_allowance / 100)
    area, grams = quantity(ground.area, "m^2"), [quantity(x, "g") for x in (mass, out, out / passes)]
    needed = step("area {a} × rate {r} = {m}", a=area, r=quantity(rate, "g/m^2"), m=grams[0])
    spare = step("{m} with {x} extra = {w}", m=grams[0], x=quantity(v.hopper_allowance, "%"), w=grams[1])
    net = step("{m} in {n} equal parts = {p}", m=grams[0], n=passes, p=quantity(mass / passes, "g"))
    parted = step("{w} in {n} equal parts = {p}", w=grams[1], n=passes, p=grams[2])
    left = step("{w} weighed out − {m} sown = {x}", w=grams[1], m=grams[0], x=quantity(out - mass, "g"))
    seed = (
        _grams("seed_mass", "Seed that goes down", mass, needed, source=MASS, headline=True),
        _grams(
            "seed_mass_per_pass", "Seed down in each direction", mass / passes, needed, net, source=HALVES
        ),
        _grams("seed_weigh_out", "Seed to weigh out", out, needed, spare, order=True, headline=True),
        _grams(
            "weigh_out_per_pass",
            "Weigh out for each direction",
            out / passes,
            needed,
            spare,
            parted,
            source=HALVES,
            order=True,
            headline=passes > 1,
        ),
        _grams("seed_left_over", "Expect left over", out - mass, left),
    )
    return (*seed, *_carrier(out, passes, ratio), _setting(rate, passes, ratio))


def _grams(key: str, name: str, value: Any, *lines: Any, source: Source = PRACTICE, **more: bool) -> Figure:
    return figure(key, name, value, "g", *lines, source=source, **more)


def _carrier(out: Any, passes: int, ratio: Any) -> tuple[Figure, ...]:
    if ratio == 0:
        return ()
    carrier = out * ratio
    each = (out + carrier) / passes
    seed, sand = quantity(out, "g"), quantity(carrier, "g")
    line = step("{m} of seed × {r} parts = {c} of dry sand", m=seed, r=ratio, c=sand)
    mixed = step("{m} of seed + {c} = {t}", m=seed, c=sand, t=quantity(out + carrier, "g"))
    parted = step("in {n} equal parts = {p}", n=passes, p=quantity(each, "g"))
    return (
        _grams("carrier_mass", "Dry sand to carry it", carrier, line, order=True),
        _grams("hopper_mass", "Seed and sand together", out + carrier, line, mixed),
        _grams("hopper_mass_per_pass", "Into the hopper for each direction", each, line, mixed, parted),
    )


def _setting(rate: Any, passes: int, ratio: Any) -> Figure:
    setting = rate / passes * (1 + ratio)
    each = step(
        "{r} in {n} directions = {p} of seed each time",
        r=quantity(rate, "g/m^2"),
        n=passes,
        p=quantity(rate / passes, "g/m^2"),
    )
    carried = step(
        "{p} × {k} parts, sand and seed = {s}",
        p=quantity(rate / passes, "g/m^2"),
        k=1 + ratio,
        s=quantity(setting, "g/m^2"),
    )
    lines = (each, carried) if ratio != 0 else (each,)
    return figure("spreader_rate", "Set the spreader to", setting, "g/m^2", *lines, source=HALVES)
