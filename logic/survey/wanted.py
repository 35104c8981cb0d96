"""How many more readings or points would be enough, for those kinds of reading that can tell."""

from __future__ import annotations

from collections.abc import Mapping

from logic.figure import Figure, figure, step
from logic.survey.cover import CLASSES
from logic.survey.kind import Taken
from logic.units import nominal, quantity

#: The figure that says how many are wanted in all → what is counted, and the fields that hold what was taken.
_WANTED: Mapping[str, tuple[str, str]] = {
    "readings_needed": ("More readings wanted", "readings"),
    "cores_needed": ("More cores wanted", "thatch"),
    "points_needed": ("More points wanted", ""),
}


def still_wanted(taken: Taken) -> Figure | None:
    """What is wanted in all less what was taken, never below none; None where the reading can't tell."""
    for key, (name, field) in _WANTED.items():
        if not taken.has(key):
            continue
        wanted = taken.figure(key)
        have = len(taken.values[field]) if field else _points(taken)
        more = max(0.0, wanted.nominal - have)
        line = step(
            "{w} wanted − {h} taken = {m}" if more else "{w} wanted, {h} taken: enough",
            w=wanted.value,
            h=quantity(have, ""),
            m=quantity(more, ""),
        )
        return figure(f"more_{key}", name, more, "", *wanted.steps, line, source=wanted.source)
    return None


def _points(taken: Taken) -> int:
    """Points counted: every number of the reading's own classes."""
    return round(sum(nominal(taken.values[key] or 0.0) for key, _ in CLASSES))
