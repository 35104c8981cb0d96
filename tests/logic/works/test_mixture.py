"""Mixtures: laws, refusals and warnings. The published sums stand in tests/checks."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def sow(*rows: dict[str, Any], **given: Any) -> Worked:
    entry = {"operation": "overseeding", "rate": "20 g/m^2", "mixture": list(rows), **given}
    return work_out(entry, Ground(area=100.0))


def grass(share: Any, count: Any = 1000, **more: Any) -> dict[str, Any]:
    return {"share": share, "seeds_per_gram": count, **more}


def test_shares_by_count_are_not_shares_by_weight() -> None:
    # Cornell's own counts: ryegrass 250,000 and meadow grass 1,500,000 to the pound; 70:30 by weight is
    # 70 × 250 : 30 × 1500 = 17,500 : 45,000, so 28 % and 72 % of the seeds
    worked = sow(grass(70, "250000 /lb"), grass(30, "1500000 /lb"))
    assert worked.figure("share_by_count_1").nominal == pytest.approx(28, abs=0.01)
    assert worked.figure("share_by_count_2").nominal == pytest.approx(72, abs=0.01)


@given(share=st.floats(1, 99), germination=st.floats(70, 100))
def test_a_mixture_of_a_grass_with_itself_is_that_grass(share: float, germination: float) -> None:
    alike = {"purity": 95, "germination": germination}
    mixed = sow(grass(share, 2744, **alike), grass(100 - share, 2744, **alike))
    plain = work_out(
        {"operation": "overseeding", "rate": "20 g/m^2", "seeds_per_gram": 2744, **alike}, Ground(area=100.0)
    )
    for key in ("pure_live_seed", "seeds_per_area", "plants_per_area", "seed_weigh_out"):
        assert mixed.figure(key).nominal == pytest.approx(plain.figure(key).nominal)


@given(share=st.floats(1, 99))
def test_the_grasses_weighed_out_add_up(share: float) -> None:
    worked = sow(grass(share), grass(100 - share))
    weighed = [worked.figure(f"mixture_mass_{place}").nominal for place in (1, 2)]
    assert sum(weighed) == pytest.approx(worked.figure("seed_weigh_out").nominal)


def test_the_age_of_the_test_counts_for_every_grass() -> None:
    fresh, old = (sow(grass(60), grass(40, germination=90), seed_age=age) for age in (0, 1))
    assert old.figure("pure_live_seed").nominal == pytest.approx(0.9 * fresh.figure("pure_live_seed").nominal)


def test_the_table_gives_the_count_of_a_grass() -> None:
    worked = sow({"species": "smooth_meadow", "share": 100})
    assert worked.figure("seeds_per_area").nominal == pytest.approx(20 * 2744 / 10_000)


def test_what_the_shares_leave_is_no_seed_and_is_said() -> None:
    worked = sow(grass(90, germination=80))
    assert worked.figure("pure_live_seed").nominal == pytest.approx(72)
    assert "leave 10 % of the bag" in worked.warnings[0]


def test_a_bent_in_the_mixture_minds_its_cover() -> None:
    worked = sow(
        {"species": "chewings_fescue", "share": 80}, {"species": "browntop_bent", "share": 20}, cover_depth=10
    )
    assert any("deep for bent" in sentence for sentence in worked.warnings)


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([grass(60), grass(41)], "add up to 101 %, more than the bag"),
        ([{"share": 100}], "Row 1 of the mixture: say which grass"),
        ([grass(0)], "more than 0"),
        ([grass(50), {"seeds_per_gram": 900}], "Row 2 of the mixture, grass by grass: Fill in the share"),
    ],
)
def test_what_cannot_be_is_refused(rows: list[dict[str, Any]], words: str) -> None:
    with pytest.raises(BadValue, match=words) as caught:
        sow(*rows)
    assert caught.value.field_key == "mixture"
