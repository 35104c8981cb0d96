"""Walks that are adjusted from printed latitudes and departures, and walks that must be refused."""

from __future__ import annotations

from typing import Any

import pytest

from logic.errors import ImpossibleShape
from logic.measure.coordinates import refuse_no_outline
from logic.measure.geometry import shoelace
from logic.measure.methods import outline_of
from logic.measure.traverse import compass_rule


def test_balanced_latitudes_and_departures_as_printed(check: Any) -> None:
    """M-V1: Purdue ASM 215 prints the raw and the balanced values of each leg."""
    north = [255.88, -153.70, -694.28, 202.91, 388.48]
    east = [125.72, 590.78, -192.54, -6.02, -517.41]
    lengths = [285.10, 610.45, 720.48, 203.00, 647.02]
    walk = compass_rule(north, east, lengths)
    check("M-V1").holds(walk.misclosure, "0.8860")
    check("M-V1").holds(abs(shoelace(walk.corners())), "272,608.1")
    assert walk.north == pytest.approx([255.96, -153.52, -694.07, 202.97, 388.66], abs=0.01)
    assert walk.east == pytest.approx([125.66, 590.65, -192.69, -6.07, -517.55], abs=0.01)


def test_the_loop_that_crosses_itself_is_adjusted_but_has_no_area(check: Any) -> None:
    """M-V3: J. Mahun, problem 2. The adjustment is printed; the loop crosses itself."""
    walk = compass_rule(
        [-436.662, 523.690, -234.660, 147.517],
        [-466.732, 0.0, -335.645, 802.484],
        [639.15, 523.69, 409.54, 815.93],
    )
    check("M-V3").holds(walk.misclosure, "0.157")
    assert walk.north == pytest.approx([-436.631, 523.715, -234.640, 147.556], abs=0.001)
    assert walk.east == pytest.approx([-466.761, -0.023, -335.663, 802.447], abs=0.001)
    with pytest.raises(ImpossibleShape, match="crosses itself"):
        refuse_no_outline(walk.corners(), "legs")


def _square_ending(short: float) -> dict[str, Any]:
    """A square of 10 m whose last leg is `short` metres too short: the walk misses its start by that."""
    last = f"{10 - short} m"
    legs = [("0", "10 m"), ("90", "10 m"), ("180", "10 m"), ("270", last)]
    return {"method": "traverse", "legs": [{"bearing": b, "distance": d} for b, d in legs]}


def test_a_walk_that_misses_by_more_than_five_percent_is_refused(check: Any) -> None:
    assert "above -> refuse" in check("M-V7").expected
    with pytest.raises(ImpossibleShape, match="walk it again"):
        outline_of(_square_ending(2.1))


def test_a_walk_that_misses_by_two_to_five_percent_is_warned_of() -> None:
    assert "close" in outline_of(_square_ending(1.5)).warnings[0]
    assert not outline_of(_square_ending(0.5)).warnings
