"""Organic matter: how many corings bring it down, and how much sand dilutes it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from uncertainties import umath

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, quantity, text_of
from logic.works.limits import limit, limit_quantity, limit_source
from logic.works.operation import Ground, Operation, Work

REMOVAL = Source(
    "each pass removes a share and clean sand replaces it: n = ln(target ÷ start) ÷ ln(1 − share)", "derived"
)
BALANCE = Source("mass balance of a slice of fixed depth, evenly mixed, nothing growing", "derived")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "organic_matter", key, label, **more)


FORM = Form(
    fields=(
        _field("start", "Organic matter now", help="By weight, in the slice that the laboratory burned."),
        _field("target", "Organic matter wanted"),
        _field(
            "share",
            "Surface removed in a pass",
            required=False,
            help="Left empty, what the coring of this programme removes.",
        ),
        _field("slice_depth", "Depth of the slice"),
        _field("slice_density", "Bulk density of the slice"),
        _field(
            "sand_rate",
            "Sand to be worked in",
            required=False,
            help="Left empty, this programme's dressings.",
        ),
    )
)


def passes_to(start: Any, target: Any, share: Any) -> Any:
    """Passes that bring organic matter from `start` to `target` [%] when each replaces `share` [%] by sand.

    Source: start × (1 − share)^n = target, solved for n. Raises ValueError unless 0 < target < start and
    0 < share < 100.
    """
    if not 0 < nominal(target) < nominal(start) or not 0 < nominal(share) < 100:
        raise ValueError("target must lie below start, and share between 0 and 100 %")
    return umath.log(target / start) / umath.log(1 - share / 100)


def work(v: Values, ground: Ground) -> Work:
    """All figures of a dilution. Raises BadValue when the target is not below the start."""
    if nominal(v.target) >= nominal(v.start):
        raise BadValue("target", "The organic matter wanted must be less than there is now.")
    mass = v.slice_depth * v.slice_density / 1000
    figures = (
        *_passes(v, ground),
        _sand_to_target(v, mass, ground),
        *_after_sand(v, mass, ground),
    )
    return Work(figures, tuple(_warnings(v, ground)))


def _share(v: Values, ground: Ground) -> Any:
    """Surface removed in a pass [%]: as given, else of the last coring before this, else 0."""
    if v.has("share"):
        return v.share
    corings = ground.before("surface_removed_overlap") or ground.before("surface_removed")
    return corings[-1].nominal if corings else 0.0


def _passes(v: Values, ground: Ground) -> tuple[Figure, ...]:
    share = _share(v, ground)
    if nominal(share) <= 0:
        return ()
    passes = passes_to(v.start, v.target, share)
    after = v.start * (1 - share / 100)
    q = {
        "s": quantity(v.start, "%"),
        "t": quantity(v.target, "%"),
        "p": quantity(share, "%"),
        "n": passes,
        "w": math.ceil(nominal(passes) - 1e-9),
        "a": quantity(after, "%"),
    }
    once = step("{s} × (1 − {p}) = {a}", **q)
    solved = step("ln({t} ÷ {s}) ÷ ln(1 − {p}) = {n}, so {w} passes", **q)
    return (
        figure("om_after_one_pass", "Organic matter after one pass", after, "%", once, source=REMOVAL),
        figure("passes_to_target", "Passes to get there", passes, "", solved, source=REMOVAL, headline=True),
    )


def _sand_to_target(v: Values, mass: Any, ground: Ground) -> Figure:
    """Sand [kg/m²] that pushes as much of the slice below it: M × (1 − target ÷ start)."""
    sand = mass * (1 - v.target / v.start)
    q = {
        "d": quantity(v.slice_depth, "mm"),
        "b": quantity(v.slice_density, "kg/m^3"),
        "m": quantity(mass, "kg/m^2"),
        "t": quantity(v.target, "%"),
        "s": quantity(v.start, "%"),
        "r": quantity(sand, "kg/m^2"),
    }
    slice_ = step("a slice of {d} at {b} weighs {m}", **q)
    line = step("{m} × (1 − {t} ÷ {s}) = {r}", **q)
    return figure(
        "sand_to_target",
        "Sand that dilutes it so far",
        sand,
        "kg/m^2",
        slice_,
        line,
        source=BALANCE,
        headline=True,
    )


def _after_sand(v: Values, mass: Any, ground: Ground) -> tuple[Figure, ...]:
    """Organic matter after the sand given, or after this programme's dressings: OM × (1 − S ÷ M)."""
    planned = sum(f.nominal for f in ground.before("sand_rate"))
    sand = v.sand_rate if v.has("sand_rate") else planned
    if nominal(sand) <= 0:
        return ()
    if nominal(sand) >= nominal(mass):
        raise BadValue(
            "sand_rate", "That is more sand than the whole slice weighs: measure it again afterwards."
        )
    after = v.start * (1 - sand / mass)
    line = step(
        "{s} × (1 − {r} ÷ {m}) = {a}",
        s=quantity(v.start, "%"),
        r=quantity(sand, "kg/m^2"),
        m=quantity(mass, "kg/m^2"),
        a=quantity(after, "%"),
    )
    return (figure("om_after_sand", "Organic matter after the sand", after, "%", line, source=BALANCE),)


def _warnings(v: Values, ground: Ground) -> Iterator[str]:
    yield (
        "Turf goes on making organic matter, which these sums leave out, so they show the most that can be "
        "gained. Measure again, by the same laboratory and method."
    )
    if nominal(v.target) > limit("organic_matter"):
        yield (
            f"The usual aim in the surface is {text_of(limit_quantity('organic_matter'))} or less "
            f"({limit_source('organic_matter')}), though no single best value is agreed."
        )
    if nominal(_share(v, ground)) <= 0:
        yield "Give the surface removed in a pass, or put a coring before this, to see how many it takes."


OPERATION = Operation(
    key="organic_matter",
    name="Organic matter dilution",
    form=FORM,
    work=work,
    help="What coring and sand can do to the organic matter in the surface.",
    group="check",
    order=92,
)
