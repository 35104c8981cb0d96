"""Solid tining and spiking: nothing comes out, and sand fills only what is said to."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out

SIZES = {"tine_diameter": "8 mm", "spacing_across": "40 mm", "spacing_along": "40 mm", "depth": "70 mm"}


def spike(area: float = 100.0, **given_: Any) -> Worked:
    return work_out({"operation": "solid_tining", **SIZES, **given_}, Ground(area=area))


def test_holes_but_nothing_removed() -> None:
    worked = spike()
    keys = {f.key for f in worked.figures}
    # arithmetic of a published grid: 8 mm at 40 x 40 mm is 625 holes/m² and 3.14 %
    assert worked.figure("holes_per_area").nominal == pytest.approx(625)
    assert worked.figure("surface_holed").nominal == pytest.approx(3.14, abs=0.005)
    assert not keys & {"surface_removed", "core_volume", "fill_volume"}


def test_the_same_tine_hollow_makes_the_same_holes() -> None:
    hollow = work_out({"operation": "coring", **SIZES}, Ground(area=100.0))
    assert spike().figure("holes").nominal == hollow.figure("holes").nominal
    assert spike().figure("hole_volume").nominal == pytest.approx(hollow.figure("core_volume").nominal)


@given(share=st.floats(1, 100), area=st.floats(5, 2000))
@settings(max_examples=40, deadline=None)
def test_sand_fills_the_share_that_it_is_said_to(share: float, area: float) -> None:
    worked = spike(area, fill_share=f"{share!r} %")
    assert worked.figure("fill_volume").nominal == pytest.approx(
        worked.figure("hole_volume").nominal * share / 100
    )


def test_standing_in_for_coring() -> None:
    (warning,) = spike(stands_in_for="coring").warnings
    assert "nothing is taken out" in warning


def test_too_much_of_the_surface_at_once() -> None:
    assert any("arithmetic only" in w for w in spike(tine_diameter="25 mm").warnings)


def test_holes_that_would_meet_are_refused() -> None:
    with pytest.raises(BadValue, match="would meet") as refused:
        spike(spacing_along="8 mm")
    assert refused.value.field_key == "spacing_along"


def test_cautions() -> None:
    assert [c.key for c in spike().cautions] == ["garden_wires", "vibration"]
    assert [c.key for c in spike(depth="150 mm").cautions][-1] == "buried_services"
