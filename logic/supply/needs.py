"""What the works of a job, or of all the jobs of a day, need of each material.

Amounts are added first and rounded up last: the ± that jobs share (one pace, one tape) stays shared.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from logic import tables
from logic.figure import Figure, Source, figure, step
from logic.units import nominal, plain_number, quantity, unit_of
from logic.works import species
from logic.works.operation import Worked

SUM = Source("amounts of the works, added", "derived")


@dataclass(frozen=True)
class Job:
    """The works of one job, under the name that tells it from the other jobs of the day."""

    name: str
    works: tuple[Worked, ...]


@dataclass(frozen=True)
class Material:
    """A kind of thing that is used up. key: "seed:browntop_bent"; kind: the row of materials.csv; unit:
    what it is reckoned in; shelf_months: how long it keeps once bought, None for as good as always; keep:
    how."""

    key: str
    kind: str
    name: str
    unit: str
    shelf_months: int | None
    keep: str


@dataclass(frozen=True)
class Need:
    """What is needed of a material. total: with its ±, each part a line; enough: what lasts at the
    confidence."""

    material: Material
    total: Figure
    enough: Figure


def material_of(kind: str, detail: str = "") -> Material:
    """The material of a kind, told apart by `detail` ("12-4-8", "Browntop bent"). Raises LookupError."""
    row = tables.row("materials", material=kind)
    key = f"{kind}:{_slug(detail)}" if detail else kind
    name = f"{row['name']}, {detail}" if detail else row["name"]
    months = int(row["shelf_months"]) if row["shelf_months"] else None
    return Material(key, kind, name, row["unit"], months, row["keep"])


def needs(jobs: Sequence[Job], confidence: float) -> tuple[Need, ...]:
    """What all the jobs need, by material, in the order of materials.csv.

    confidence: how sure it must be to last, 0.5 to 0.999.
    """
    parts: dict[Material, list[tuple[str, Figure]]] = {}
    for job in jobs:
        for worked in job.works:
            where = f"{job.name}, {worked.operation.name}" if len(jobs) > 1 else worked.operation.name
            for row in tables.rows("needs"):
                if row["operation"] != worked.operation.key:
                    continue
                for found in worked.figures:
                    if found.key == row["figure"]:
                        material = material_of(row["material"], _detail(row["detail"], worked))
                        parts.setdefault(material, []).append((where, found))
    order = [row["material"] for row in tables.rows("materials")]
    ranked = sorted(parts, key=lambda m: (order.index(m.kind), m.key))
    return tuple(_need(material, parts[material], confidence) for material in ranked)


def _need(material: Material, parts: Sequence[tuple[str, Figure]], confidence: float) -> Need:
    amounts = [found.value.to(unit_of(material.unit)).magnitude for _, found in parts]
    whole = sum(amounts[1:], amounts[0])
    lines = [step("{w}: {m}", w=where, m=found.value) for where, found in parts]
    if len(parts) > 1:
        lines.append(step("together {m}", m=quantity(whole, material.unit)))
    total = figure(
        f"need_{material.key}", material.name, whole, material.unit, *lines, source=SUM, order=True
    )
    sure = nominal(total.at_least(confidence).magnitude)
    if total.plus_minus > 0:
        lines.append(
            step(
                "{m}, or {e} to be {c} sure that it lasts",
                m=quantity(total.nominal, material.unit),
                e=quantity(sure, material.unit),
                c=quantity(confidence * 100, "%"),
            )
        )
    enough = figure(f"enough_{material.key}", material.name, sure, material.unit, *lines, source=SUM)
    return Need(material, total, enough)


def _detail(kind: str, worked: Worked) -> str:
    if kind == "grass":
        return _grass(worked.values)
    if kind == "nutrients":
        shares = [worked.values.get(key) for key in ("n", "p2o5", "k2o")]
        if all(share is not None for share in shares):
            return "-".join(plain_number(nominal(share)) for share in shares)
    return ""


def _grass(values: Any) -> str:
    if values.get("mixture"):
        names = [species.name_of(row.species) for row in values.mixture]
        return "mixture of " + ", ".join(dict.fromkeys(names))
    said = values.get("species")
    return "" if said in (None, species.NOT_SAID) else species.name_of(said)


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", text.lower()).strip("_")
