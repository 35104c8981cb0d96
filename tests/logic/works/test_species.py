"""The table of grasses: every grass can be sown from it."""

from __future__ import annotations

import pytest

from logic import tables
from logic.works import species

GRASSES = [key for key, _ in species.choices() if key != species.NOT_SAID]

#: Range checks for a typed count, seeds in a gram: common practice, no source; velvet bent is finer still.
USUAL = {"bent": (9_000, 25_000), "fescue": (600, 1_300), "ryegrass": (400, 600), "meadow": (1_800, 5_600)}


@pytest.mark.parametrize("grass", GRASSES)
def test_every_grass_has_one_count_of_its_own_size(grass: str) -> None:
    count = species.count_of(grass)
    low, high = next(band for kind, band in USUAL.items() if kind in grass)
    assert low <= count.low <= count.value <= count.high <= high


@pytest.mark.parametrize("grass", GRASSES)
def test_a_rate_in_the_middle_of_the_published_ones_is_not_warned_of(grass: str) -> None:
    rates = [r for r in tables.rows("species") if r["species"] == grass and r["field"] == "rate"]
    for rate in rates:
        middle = (float(rate["low"]) + float(rate["high"])) / 2
        assert not species.rate_warning(grass, middle)
        assert species.rate_warning(grass, 10 * float(rate["high"]))


def test_a_grass_not_in_the_table_is_an_error() -> None:
    with pytest.raises(LookupError):
        species.count_of("couch")


def test_a_single_source_is_named_with_its_trust() -> None:
    assert str(species.count_of("browntop_bent").source) == "from memory, unverified"
    assert "1979" in str(species.count_of("hard_fescue").source)
