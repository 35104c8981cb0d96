"""What stands in a box and what is stored: changing the system of units never changes a stored value."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.field import Field
from logic.typed import PACES, shown, to_store
from logic.units import SYSTEMS, quantity, read_written, unit_of

LENGTH = Field("length", "Length", "m", paces=True)
DEPTH = Field("depth", "Depth", "mm")
RATE = Field("rate", "Rate", "g/m^2")


def size(stored: str, unit: str) -> float:
    written = read_written(stored, unit)
    return float(quantity(written.value, written.unit).to(unit_of(unit)).magnitude)


@pytest.mark.parametrize(
    ("stored", "system", "text", "label"),
    [
        ("20 m", "metric", "20", "m"),
        ("20 m", "imperial", "65.617", "ft"),
        ("65.617 ft", "imperial", "65.617", "ft"),
        ("12 ft 6 in", "imperial", "12 ft 6 in", "ft"),
        ("12 ft 6 in", "metric", "3.81", "m"),
        ("27 paces", "metric", "27", PACES),
        ("27 paces", "us", "27", PACES),
        ("paces", "metric", "", PACES),
        ("", "metric", "", "m"),
        ("", "us", "", "ft"),
        ("20", "metric", "20", "m"),
        ("x", "metric", "x", "m"),
        ("20 kg", "metric", "20 kg", "m"),
        ("20 lightsabre", "metric", "20 lightsabre", "m"),
        ("60 ± 0.01 m", "metric", "60 ± 0.01", "m"),
        ("60 m ± 1 cm", "metric", "60 m ± 1 cm", "m"),
        ("60 ± 0.01 m", "imperial", "60 ± 0.01 m", "ft"),
        ("27 ± 1 paces", "metric", "27 ± 1", PACES),
    ],
)
def test_what_a_box_shows(stored: str, system: str, text: str, label: str) -> None:
    seen = shown(LENGTH, stored, system)
    assert (seen.text, seen.label) == (text, label)


@pytest.mark.parametrize(
    ("typed", "unit", "stored"),
    [
        ("20", "m", "20 m"),
        (" 20 ", "m", "20 m"),
        ("20", "ft", "20 ft"),
        ("20 yd", "m", "20 yd"),
        ("27", PACES, "27 paces"),
        ("", "m", ""),
        ("", PACES, PACES),
        ("x", "m", "x"),
        ("60 ± 5 %", "m", "60 ± 5 % m"),
        ("1/2", "inch", "1/2 inch"),
        ("3", "", "3"),
    ],
)
def test_what_is_stored(typed: str, unit: str, stored: str) -> None:
    assert to_store(LENGTH, typed, unit) == stored


UNITS = st.sampled_from(["m", "cm", "ft", "in", "yd", "metres", "″"])
NUMBERS = st.floats(0.01, 900).map(lambda x: f"{x:.4g}") | st.integers(1, 900).map(str)
MARGINS = st.sampled_from(["", " ± 0.01", " ± 2 %", " ± 1 cm", " ± 1"])


@given(NUMBERS, UNITS, MARGINS, st.sampled_from(SYSTEMS))
def test_typing_what_is_shown_in_the_same_unit_stores_the_same_reading(
    number: str, unit: str, margin: str, system: str
) -> None:
    """Where the box shows the reading in the unit it was typed in, typing it again changes nothing at all."""
    stored = f"{number} {unit}{margin}"
    seen = shown(LENGTH, stored, system)
    again = to_store(LENGTH, seen.text, seen.unit)
    before, after = read_written(stored, "m"), read_written(again, "m")
    if unit_of(before.unit) == unit_of(seen.unit) or before.plus_minus is not None:
        assert (after.value, after.plus_minus) == (before.value, before.plus_minus)
        assert unit_of(after.unit) == unit_of(before.unit)
    else:
        assert size(again, "m") == pytest.approx(size(stored, "m"), rel=5e-5)  # five figures are shown


@given(st.floats(0.01, 900), st.sampled_from(SYSTEMS), st.sampled_from([LENGTH, DEPTH, RATE]))
def test_showing_in_another_system_and_back_leaves_the_stored_text(
    value: float, system: str, item: Field
) -> None:
    stored = f"{value!r} {item.unit}"
    metric = shown(item, stored)
    shown(item, stored, system)
    assert shown(item, stored) == metric
    assert float(metric.text) == value


@given(st.text(max_size=30), st.sampled_from(SYSTEMS))
def test_whatever_was_typed_can_be_shown_and_stored_again(text: str, system: str) -> None:
    stored = to_store(LENGTH, text, "m")
    seen = shown(LENGTH, stored, system)
    assert isinstance(seen.text, str)
    assert to_store(LENGTH, seen.text, seen.unit) is not None
