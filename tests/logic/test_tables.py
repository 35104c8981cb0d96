"""The tables of numbers that a person may want to correct."""

from __future__ import annotations

import pytest

from logic import tables
from logic.figure import Source


def test_a_row_is_found_by_its_columns() -> None:
    row = tables.row("measuring", key="tape_edge")
    assert float(row["value"]) > 0


def test_a_row_that_is_missing_or_not_the_only_one_is_an_error() -> None:
    with pytest.raises(LookupError, match="0 rows"):
        tables.row("measuring", key="no such row")
    with pytest.raises(LookupError, match="rows for"):
        tables.row("works", form="topdressing")


def test_a_row_gives_its_source_and_how_far_to_trust_it() -> None:
    assert tables.source_of({"source": "A leaflet", "trust": "published"}) == Source("A leaflet", "published")
    with pytest.raises(LookupError, match="gossip"):
        tables.source_of({"source": "A leaflet", "trust": "gossip"})
