"""Lifting bags by hand, and keeping petrol: the guide figures, and what they say of a bag or a can.

Above a guide figure a fuller assessment is called for; it is no legal top weight. Local codes go first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logic import tables
from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.programme.exposure import value
from logic.units import quantity, text_of

LIFTING = Source("Manual-handling local rules restating older HSE figures", "second-hand")


@dataclass(frozen=True)
class Finding:
    """A figure, whether it is within the guide, and the sentence to show."""

    figure: Figure
    within: bool
    sentence: str


def choices(group: str) -> tuple[tuple[str, str], ...]:
    """The rows of a group ("filter", "pace", "twist") as (key, name)."""
    return tuple((r["key"], r["name"]) for r in tables.rows("exposure_lifting") if r["group"] == group)


def lifting(mass: float, where: str = "man_elbow", pace: str = "half_hourly", twist: str = "none") -> Finding:
    """The guide figure for a lift [kg], cut for pace and twist, and whether `mass` [kg] is within it.

    Source: LIFTING; the starting figures are HSE's, as restated. Raises BadValue for a mass that isn't one.
    """
    if not 0 < mass <= 1000:
        raise BadValue("mass", "The weight must be more than 0 and at most 1000 kg.")
    start = tables.row("exposure_lifting", group="filter", key=where)
    cuts = [
        tables.row("exposure_lifting", group=group, key=key)
        for group, key in (("pace", pace), ("twist", twist))
    ]
    allowed = float(start["value"])
    lines = [step("{w}: {m}", w=start["name"], m=quantity(allowed, "kg"))]
    for cut in cuts:
        share = float(cut["value"])
        if share:
            allowed *= 1 - share / 100
            lines.append(
                step(
                    "{c}: cut by {s} = {m}", c=cut["name"], s=quantity(share, "%"), m=quantity(allowed, "kg")
                )
            )
    found = figure("lift_filter", "Guide figure for this lift", allowed, "kg", *lines, source=LIFTING)
    shown, within = text_of(quantity(mass, "kg")), mass <= allowed + 1e-9
    sentence = (
        f"{shown} is within the guide figure of {found.text()}."
        if within
        else f"{shown} is above the guide figure of {found.text()}: split the load, use a barrow or a tail "
        f"lift, or lift together. Follow the local rules."
    )
    return Finding(found, within, sentence)


@dataclass(frozen=True)
class Can:
    """A can of petrol: how much it holds [L], and whether it is of metal."""

    litres: float
    metal: bool = False


def petrol(cans: Sequence[Can]) -> Finding:
    """Petrol kept in all [L], and whether that needs notice.

    Source: Petroleum (Consolidation) Regulations 2014, as rows of exposure_values.csv. Great Britain only.
    """
    total = sum(can.litres for can in cans)
    line = step("{n} cans together {t}", n=len(cans), t=quantity(total, "L"))
    source = tables.source_of(tables.row("exposure_values", key="petrol_free"))
    found = figure("petrol", "Petrol kept", total, "L", line, source=source)
    free, notice = value("petrol_free"), value("petrol_notice")
    large = [c for c in cans if c.litres > value("petrol_metal" if c.metal else "petrol_plastic")]
    shown = found.text()
    if total > notice:
        said = f"{shown} is more than {notice:g} L: a licence is needed."
    elif total > free:
        said = (
            f"{shown} is above {free:g} L: notify the petroleum authority (up to {notice:g} L with notice)."
        )
    else:
        said = f"{shown}: up to {free:g} L needs no notice."
    if large:
        said += " A can is larger than allowed: 10 L of plastic, 20 L of metal."
    return Finding(
        found,
        total <= free and not large,
        f"{said} Rules differ outside Great Britain: follow the local ones.",
    )
