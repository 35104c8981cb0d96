"""The running sheets of a step: tanks to fill one after the other, and whether seed or feed is lasting."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from logic import tables
from logic.errors import BadValue
from logic.figure import Figure
from logic.programme.day import Actual
from logic.units import nominal, quantity, read_written, text_of
from logic.works.operation import Worked
from logic.works.running_sheet import Lasting, Run, lasting

_MOST_TANKS = 40


def tanks(worked: Worked, system: str = "metric") -> tuple[tuple[str, str], ...]:
    """Each tank to fill as (key, words): product and mix of a full one, and of the last."""
    found = {one.key: one for one in worked.figures}
    wanted = ("tanks", "product_per_tank", "last_tank_volume", "product_in_last_tank")
    if not all(key in found for key in wanted):
        return ()
    full = worked.values.get("tank")
    fills = min(_MOST_TANKS, math.ceil(found["tanks"].nominal - 1e-9))
    if fills < 1 or full is None:
        return ()
    lines = []
    for number in range(1, fills + 1):
        last = number == fills
        mix = (
            found["last_tank_volume"].text(system) if last else text_of(quantity(nominal(full), "L"), system)
        )
        product = found["product_in_last_tank" if last else "product_per_tank"].text(system)
        lines.append((f"tank-{number}", f"Tank {number} of {fills}: {product} in {mix} of mix"))
    return tuple(lines)


@dataclass(frozen=True)
class Spread:
    """A run with a spreader. directions; loaded, spare: for each direction, in the hopper (with the sand that
    carries the seed) and meant to come back [g]."""

    directions: int
    loaded: float
    spare: float


def spread(worked: Worked) -> Spread | None:
    """The run of a work that is spread from a weighed hopper; None for any other."""
    found = {one.key: one for one in worked.figures}
    loaded = found.get("weigh_out_per_pass") or found.get("product_mass_per_pass")
    directions = worked.values.get("directions")
    if loaded is None or directions is None:
        return None
    count = max(1, round(nominal(directions)))
    left_over, carrier = found.get("seed_left_over"), found.get("carrier_mass")
    spare = _grams(left_over) / count if left_over else 0.0
    each = _grams(carrier) / count if carrier else 0.0  # sand in the hopper, which comes down with the seed
    return Spread(count, _grams(loaded) + each, spare * (1 + each / _grams(loaded)))


def _grams(found: Figure) -> float:
    return float(nominal(quantity(found.nominal, found.unit).to("g").magnitude))


def strips_key(direction: int) -> str:
    """The key under which the strips of a direction are written down."""
    return f"strips-{direction}"


def left_key(direction: int, strip: int) -> str:
    """The key under which what is left after a strip is written down."""
    return f"left-{direction}-{strip}"


def weighed(actual: Mapping[str, Actual], direction: int) -> tuple[float, ...]:
    """What was left after each strip of a direction so far [g]; stops at the first that can't be read."""
    found: list[float] = []
    while (there := actual.get(left_key(direction, len(found) + 1))) is not None:
        try:
            written = read_written(there.value, "g")
            found.append(float(quantity(written.value, written.unit).to("g").magnitude))
        except (BadValue, ValueError, AttributeError, TypeError):
            break
    return tuple(found)


def strips_of(actual: Mapping[str, Actual], direction: int) -> int:
    """How many strips the direction has, as written down; 0 when nobody has said."""
    there = actual.get(strips_key(direction))
    match = re.match(r"\s*(\d{1,3})\s*$", there.value) if there else None
    return int(match.group(1)) if match else 0


def how_it_lasts(found: Spread, strips: int, left: tuple[float, ...]) -> Lasting | None:
    """Whether it is lasting after the strips weighed so far. Raises BadValue for weighings that can't be.

    Source: as running_sheet.
    """
    if not strips or not left:
        return None
    if len(left) > strips:
        raise BadValue("left", f"There are {len(left)} weighings, but only {strips} strips.")
    if any(later > earlier for earlier, later in zip((found.loaded, *left), left, strict=False)):
        raise BadValue("left", "There is more left than before: check the weighing.")
    if left[-1] == found.loaded:
        raise BadValue("left", "Nothing has gone down yet: is the spreader open?")
    tolerance = (
        float(tables.row("works", form="running_sheet", field="tolerance")["default"].rstrip(" %")) / 100
    )
    return lasting(Run(found.loaded, found.spare, left[-1], len(left) / strips, tolerance))
