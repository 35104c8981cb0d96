"""How many more readings or points are wanted: what is wanted in all less what was taken."""

from __future__ import annotations

from typing import Any

import pytest

from logic.survey.kinds import take
from logic.survey.wanted import still_wanted


@pytest.mark.parametrize(
    ("given", "more"),
    [
        # (1.96 × 0.4 ÷ 0.2)² = 15.4 → 16 in all (agronomy, height of cut; derived), 3 taken
        ({"kind": "height_of_cut", "readings": [4, 4.5, 4.2], "spread": "0.4 mm", "within": "0.2 mm"}, 13),
        ({"kind": "height_of_cut", "readings": [4] * 20, "spread": "0.4 mm", "within": "0.2 mm"}, 0),
        # z² p (1 − p) ÷ E²: a share of 10 % to within 5 % wants 139 points, 40 counted
        ({"kind": "cover", "grass": "36", "moss": "4", "within": "5 %"}, 99),
        ({"kind": "cover", "grass": "360", "moss": "40", "within": "5 %"}, 0),
    ],
)
def test_more_wanted(given: dict[str, Any], more: int) -> None:
    found = still_wanted(take(given))
    assert found is not None
    assert found.nominal == more
    assert str(more) in found.working()[-1] or "enough" in found.working()[-1]


def test_a_reading_that_cannot_tell_says_nothing() -> None:
    assert still_wanted(take({"kind": "core", "thatch": ["12 mm"]})) is None
    assert still_wanted(take({"kind": "ball_roll", "up": ["2 m"], "down": ["2.5 m"]})) is None
