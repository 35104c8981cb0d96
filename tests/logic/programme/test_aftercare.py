"""What the customer is asked to do afterwards."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from logic import tables
from logic.programme.aftercare import aftercare
from logic.works.operations import operations

KEYS = tuple(operations())


def test_every_row_belongs_to_an_operation() -> None:
    assert {row["operation"] for row in tables.rows("aftercare")} <= set(KEYS)


def test_seed_is_to_be_kept_moist_and_nothing_done_asks_for_nothing() -> None:
    assert any("water" in line.lower() or "moist" in line.lower() for line in aftercare(["overseeding"]))
    assert aftercare([]) == ()
    assert aftercare(["something only a newer version knows"]) == ()


@given(st.lists(st.sampled_from(KEYS), max_size=6))
def test_each_sentence_comes_once_and_in_the_order_of_the_table(done: list[str]) -> None:
    said = aftercare(done)
    assert len(set(said)) == len(said)
    assert set(said) == {row["sentence"] for row in tables.rows("aftercare") if row["operation"] in done}
    order = {row["sentence"]: int(row["order"]) for row in reversed(tables.rows("aftercare"))}
    assert all(order[a] <= order[b] for a, b in pairwise(said))
    assert aftercare(reversed(done)) == said
