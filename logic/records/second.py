"""The second measurement of one piece of ground, held against the first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from logic.field import PaceLike, Reading
from logic.measure.methods import measure
from logic.measure.outline import Outline
from logic.measure.twice import Z95, compare
from logic.units import nominal, quantity, spread, text_of


@dataclass(frozen=True)
class Twice:
    """Two measurements held together. used: the outline to go on with, drawn as the first.

    second: None while its readings are missing or wrong (`reading` says which); agree: None until then.
    """

    used: Outline
    second: Outline | None
    reading: Reading
    agree: bool | None = None
    gap: float = 0.0
    allowed: float = 0.0

    def sentence(self, system: str = "metric") -> str:
        """What the comparison says, "" while there is none."""
        if self.second is None or self.agree is None:
            return ""
        gap, allowed = (text_of(quantity(v, "m^2"), system, figures=2) for v in (self.gap, self.allowed))
        if self.agree:
            together = self.used.area.text_with_margin(system)
            return (
                f"They agree: {gap} apart, and up to {allowed} is within their ±. Together: {together}, "
                "which is used from here on."
            )
        return (
            f"They disagree: {gap} apart, but only {allowed} is within their ±. One of them has a mistake. "
            "Until you find it, the first one is used."
        )


def measured_twice(
    first: Outline, given_first: Mapping[str, Any], given_second: Mapping[str, Any], pace: PaceLike | None
) -> Twice:
    """Hold a second measurement (job-file form) against the first, whose Outline is known.

    Where they agree the area is both together, by weight (logic.measure.twice); where they disagree it stays
    the first's, with a warning. Raises BadValue for an unknown way of measuring only.
    """
    second, reading = measure(given_second, pace)
    if second is None:
        return Twice(first, None, reading)
    found = compare(first.area.value.magnitude, second.area.value.magnitude)
    gap, allowed = abs(nominal(found.difference)), Z95 * spread(found.difference)
    if not found.agree:
        told = Twice(first, second, reading, False, gap, allowed)
        used = replace(first, warnings=(*first.warnings, "Measured twice. " + told.sentence()))
        return replace(told, used=used)
    both, _ = measure({"method": "twice", "first": given_first, "second": given_second}, pace)
    used = replace(first, area=both.area) if both else first
    return Twice(used, second, reading, True, gap, allowed)
