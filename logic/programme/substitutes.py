"""When the right machine is not to be had: what can stand in, what that costs, and who agreed to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.figure import Source
from logic.works.operations import operation_named


@dataclass(frozen=True)
class Substitute:
    """`used` can stand in for `wanted`; cost: what that means for the green."""

    used: str
    wanted: str
    cost: str
    source: Source


def substitutes(wanted: str) -> tuple[Substitute, ...]:
    """What can stand in for an operation: rows of substitutes.csv."""
    return tuple(
        Substitute(r["used"], r["wanted"], r["cost"], tables.source_of(r))
        for r in tables.rows("substitutes")
        if r["wanted"] == wanted
    )


def machine(operation: str) -> tuple[str, str]:
    """(the machine for an operation, the next best), both "" where none is listed."""
    for row in tables.rows("programme_machines"):
        if row["operation"] == operation:
            return row["machine"], row["next_best"]
    return "", ""


def machine_of(entry: Mapping[str, Any]) -> str:
    """What a stored work is done with: what was agreed on, else the machine for it, "" where none is
    listed."""
    return str(entry.get("machine") or machine(str(entry.get("operation")))[0])


def next_best_cost(operation: str) -> tuple[str, Source]:
    """What doing a work with the next best means, and where that comes from. Raises LookupError."""
    row = tables.row("programme_machines", operation=operation)
    return row["cost"], tables.source_of(row)


def with_next_best(entry: Mapping[str, Any], agreed_by: str, at: datetime) -> dict[str, Any]:
    """A stored work done with the next best machine, and that the customer agreed, who, and when.

    Raises BadValue when none is listed or nobody agreed.
    """
    operation = str(entry.get("operation"))
    _, next_best = machine(operation)
    if not next_best:
        raise BadValue("operation", "Nothing is listed that could stand in for that machine.")
    cost, _ = next_best_cost(operation)
    return {**entry, "machine": next_best, "agreed": _agreed(f"{next_best}: {cost}", agreed_by, at)}


def _agreed(words: str, name: str, at: datetime) -> dict[str, str]:
    if not name.strip():
        raise BadValue("agreed", "Write down who agreed to this.")
    return {"words": words, "name": name.strip(), "at": at.isoformat()}


def substituted(entry: Mapping[str, Any], used: str, agreed_by: str, at: datetime) -> dict[str, Any]:
    """A stored work done with what stands in for it: values that both ask for carry over, and it is noted
    that the customer agreed, who, and when. Raises BadValue when `used` can't stand in for it or nobody
    agreed."""
    wanted = str(entry.get("operation"))
    found = next((s for s in substitutes(wanted) if s.used == used), None)
    if found is None:
        raise BadValue("operation", f"{operation_named(used).name} can't stand in for that.")
    asked = operation_named(used).form.keys()
    carried = {key: value for key, value in (entry.get("values") or {}).items() if key in asked}
    return {
        **{key: value for key, value in entry.items() if key != "machine"},
        "operation": used,
        "values": {**carried, "stands_in_for": wanted},
        "agreed": _agreed(found.cost, agreed_by, at),
    }
