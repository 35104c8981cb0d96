"""The levels of a visit: on a grid, or hollow by hollow under a straight-edge; drafted like an outline."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from logic.errors import BadValue
from logic.field import Form, PaceLike, Reading
from logic.figure import Figure
from logic.measure import hollows, levels
from logic.measure.levels import HighLow

#: The ways of taking levels: key, name, form.
WAYS: Mapping[str, tuple[str, Form]] = {
    "hollows": ("Hollows one by one", hollows.FORM),
    "grid": ("Heights on a grid", levels.FORM),
}
FIRST_WAY = "hollows"


@dataclass(frozen=True)
class Levelled:
    """Levels worked out. volume: the fill for the hollows [m³]. map: high and low spots, of a grid only."""

    figures: tuple[Figure, ...]
    volume: Figure
    map: HighLow | None = None


def level_form(way: Any) -> Form:
    """What a way of taking levels asks for. Raises BadValue for an unknown one."""
    if not isinstance(way, str) or way not in WAYS:
        raise BadValue("method", f"“{way}” is not a way of taking levels known here: {', '.join(WAYS)}.")
    return WAYS[way][1]


def take_levels(given: Mapping[str, Any], pace: PaceLike | None = None) -> tuple[Levelled | None, Reading]:
    """The levels of a job file's "levels" part, or None with a sentence for each bad field."""
    way = given.get("method", FIRST_WAY)
    reading = level_form(way).read(given, pace)
    if reading.values is None:
        return None, reading
    try:
        if way == "grid":
            grid = levels.levels_of(reading.values)
            return Levelled(grid.figures, grid.hollow_volume, grid.map), reading
        single = hollows.hollows_of(reading.values)
        return Levelled(single.figures, single.hollow_volume), reading
    except BadValue as bad:
        return None, Reading(None, reading.way, {bad.field_key or "": bad.sentence}, reading.warnings)
