"""How visits stand, remembered: what a change did not touch is not worked out again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from logic.records.types import Pace, Visit

if TYPE_CHECKING:
    from logic.records.standing import Standing

_KEPT = 16  # visits


class Standings:
    """How the visits worked on last stand."""

    def __init__(self) -> None:
        self._stood: dict[str, Standing] = {}

    def of(self, visit: Visit, pace: Pace | None, confidence: float) -> Standing:
        """How the visit stands, measured with `pace`, figures rounded up at `confidence`."""
        from logic.records.standing import standing  # all that reckons comes `later` than the list

        stood = standing(visit, pace, confidence, self._stood.pop(visit.id, None))
        self._stood = dict([*self._stood.items(), (visit.id, stood)][-_KEPT:])
        return stood
