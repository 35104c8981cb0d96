"""Quantities as people write them, and as they are shown."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.units import (
    SYSTEMS,
    convert,
    nominal,
    plain_number,
    plus_minus,
    quantity,
    read_written,
    shown_unit,
    text_of,
    unit_of,
)


def in_unit(value: float, unit: str, wanted: str) -> float:
    return float(quantity(value, unit).to(unit_of(wanted)).magnitude)


# --- numbers with units -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("12 ft 6 in", 3.81),
        ("12 feet 6 inches", 3.81),
        ("12' 6\"", 3.81),
        ("12′6″", 3.81),
        ("12 ft 6½ in", 3.8227),
        ("12 ft 6 1/2 in", 3.8227),
        ("12½ ft", 3.81),
        ("12 1/2 ft", 3.81),
        ("1/2 in", 0.0127),
        ('¾"', 0.01905),
        ("12 ft", 3.6576),
        ("0 ft 9 in", 0.2286),
        ("5", 5.0),
        ("5m", 5.0),
        ("5 metres", 5.0),
        ("500 mm", 0.5),
        ("500 MM", 0.5),
        ("5 M", 5.0),
        ("2 yds", 1.8288),
    ],
)
def test_lengths_as_people_write_them(text: str, metres: float) -> None:
    """An inch is 25.4 mm and a yard 0.9144 m, exactly (international yard and pound agreement, 1959)."""
    written = read_written(text, "m")
    assert in_unit(written.value, written.unit, "m") == pytest.approx(metres, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "value", "unit", "margin"),
    [
        ("60 ± 0.01 m", 60, "m", 0.01),
        ("60 m ± 0.01 m", 60, "m", 0.01),
        ("60 m ± 1 cm", 60, "m", 0.01),
        ("60 ± 1 cm", 60, "cm", 1),
        ("60 m ± 0,5", 60, "m", 0.5),
        ("60 m +/- 1 %", 60, "m", 0.6),
        ("60 +- 1 % m", 60, "m", 0.6),
        ("60 ± 1%", 60, "m", 0.6),
        ("12 ft 6 in ± 1 in", 12.5, "ft", 1 / 12),
        ("8 g/m² ± 0.5 g/m²", 8, "g/m²", 0.5),
        ("27 paces ± 1", 27, "paces", 1),
    ],
)
def test_a_plus_minus_is_in_its_own_unit(text: str, value: float, unit: str, margin: float) -> None:
    written = read_written(text, "m")
    assert (written.value, written.unit) == (value, unit)
    assert written.plus_minus == pytest.approx(margin, rel=1e-12)


@pytest.mark.parametrize("text", ["60 ±", "60 ± x", "60 ± nan", "60 m ± 1 kg", "60 m ± 1 lightsabre", "± 3"])
def test_a_plus_minus_that_says_nothing_is_refused(text: str) -> None:
    with pytest.raises(BadValue):
        read_written(text, "m")


def test_a_density_is_not_read_as_part_of_the_number() -> None:
    assert read_written("5 1/m²", "").value == 5
    assert read_written("27 26 27", "").value == 27


@pytest.mark.parametrize(
    ("text", "same_as"),
    [
        ("g/m²", "g/m^2"),
        ("g/m2", "g/m^2"),
        ("g/m**2", "g/m^2"),
        ("g / sq m", "g/m^2"),
        ("oz/yd²", "oz/yd^2"),
        ("lb/1000 ft^2", "lb/ksqft"),
        ("lb / 1000 sq ft", "lb/ksqft"),
        ("l/ha", "L/hectare"),
        ("ML", "mL"),
        ("Kg", "kg"),
        ("per m²", "1/m^2"),
        ("/m²", "1/m^2"),
        ("per cent", "percent"),
        ("%", "percent"),
        ("imp gallons", "imperial_gallon"),
        ("imperial gallons", "imperial_gallon"),
        ("imp gal/acre", "imperial_gallon/acre"),
        ("US gal", "gallon"),
        ("gal", "gallon"),
        ("°", "degree"),
        ("mins", "minute"),
        ("", "1"),
    ],
)
def test_spellings_of_a_unit(text: str, same_as: str) -> None:
    assert unit_of(text) == unit_of(same_as)


@pytest.mark.parametrize(
    "text",
    [
        "lightsabre",
        "m m",
        "m^9",
        "__import__('os')",
        "()",
        "g..",
        "m**2**9",
        "m" * 41,
        "m/" * 20,
        "1e9m",
        "m;g",
        "²",
        "^",
    ],
)
def test_text_that_is_no_unit_is_refused(text: str) -> None:
    with pytest.raises(BadValue):
        unit_of(text)


ODD = st.text(
    alphabet=st.sampled_from(list("0123456789.,  \u00a0±½%'\"′″/*^²³-+−eEmgftinl()_x\n\t\ud800漢")),
    max_size=60,
)


@given(st.one_of(st.text(max_size=60), ODD))
@example("9" * 5000 + " ft 6 in")
@example("9" * 400 + "' 6\"")
@example("1" + " " * 100_000 + "x")
@example("1," * 50_000)
@example("9" * 100_000)
@example("1 ± " + "9" * 100_000)
@example("5 \ud800")
@example("1/0 in")
@example("5 m ± 1/0")
def test_hostile_text_gets_one_short_sentence_or_a_finite_number(text: str) -> None:
    sentence = "ok"
    try:
        written = read_written(text, "m")
        unit_of(written.unit)
        assert math.isfinite(written.value)
        assert written.plus_minus is None or math.isfinite(written.plus_minus)
    except BadValue as bad:
        sentence = bad.sentence
    assert 0 < len(sentence) < 200
    assert "\n" not in sentence


# --- units against their definitions ------------------------------------------------------------


@pytest.mark.parametrize(
    ("unit", "size", "wanted"),
    [
        # NIST Special Publication 811, Appendix B.8; the UK Weights and Measures Act 1985, Schedule 1: exact.
        ("inch", 25.4, "mm"),
        ("ft", 0.3048, "m"),
        ("yd", 0.9144, "m"),
        ("mile", 1609.344, "m"),
        ("ft^2", 0.09290304, "m^2"),
        ("yd^2", 0.83612736, "m^2"),
        ("lb", 453.59237, "g"),
        ("gal", 3.785411784, "L"),
        ("US gal", 3.785411784, "L"),
        ("imp gal", 4.54609, "L"),
        ("imp pt", 0.56826125, "L"),
        ("imp fl oz", 28.4130625, "mL"),
        ("us fl oz", 29.5735295625, "mL"),
        ("ha", 10_000, "m^2"),
        ("are", 100, "m^2"),
        ("1000 ft^2", 92.90304, "m^2"),
        ("t", 1000, "kg"),
        ("mph", 1.609344, "km/hour"),
    ],
)
def test_a_unit_has_its_defined_size(unit: str, size: float, wanted: str) -> None:
    assert in_unit(1, unit, wanted) == pytest.approx(size, rel=1e-12)


def test_a_bare_gallon_is_the_us_one_and_says_so() -> None:
    litres = quantity(2, "gal").to("L")
    assert text_of(quantity(litres.magnitude, "L"), "us") == "2 US gal"


# --- writing for people -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "unit", "metric", "imperial", "us"),
    [
        (62.4, "m^2", "62.4 m²", "74.6 yd²", "672 ft²"),
        (999, "g", "999 g", "2.2 lb", "2.2 lb"),
        (1200, "g", "1.2 kg", "2.65 lb", "2.65 lb"),
        (20, "m", "20 m", "65.6 ft", "65.6 ft"),
        (8, "g/m^2", "8 g/m²", "0.236 oz/yd²", "1.64 lb/1000 ft²"),
        (240, "mL", "240 mL", "8.45 imp fl oz", "8.12 US fl oz"),
        (15, "L", "15 L", "3.3 imp gal", "3.96 US gal"),
        (400, "1/m^2", "400 per m²", "37.2 per ft²", "37.2 per ft²"),
        (90, "minute", "1.5 h", "1.5 h", "1.5 h"),
        (80, "percent", "80 %", "80 %", "80 %"),
        (45, "degree", "45°", "45°", "45°"),
        (3, "", "3", "3", "3"),
        (0, "g", "0 g", "0 oz", "0 oz"),
        (12345, "", "12345", "12345", "12345"),
    ],
)
def test_a_quantity_is_written_in_the_units_of_each_system(
    value: float, unit: str, metric: str, imperial: str, us: str
) -> None:
    shown = quantity(value, unit)
    assert [text_of(shown, system) for system in SYSTEMS] == [metric, imperial, us]


def test_a_plus_minus_is_written_to_two_figures_and_the_value_to_match() -> None:
    assert text_of(quantity(plus_minus(62.4187, 2.0712), "m^2"), plus_minus=True) == "62.4 ± 2.1 m²"
    assert text_of(quantity(plus_minus(1234.5, 87.3), "g"), plus_minus=True) == "1.234 ± 0.087 kg"
    assert text_of(quantity(plus_minus(62.4, 0), "m^2"), plus_minus=True) == "62.4 m²"


@given(st.floats(1e-9, 1e9), st.integers(1, 6))
def test_a_written_number_is_the_value_to_its_significant_figures(value: float, figures: int) -> None:
    shown = float(plain_number(value, figures))
    step = 10.0 ** (math.floor(math.log10(value)) - figures + 1)
    assert abs(shown - value) <= 0.5 * min(step, 1) * (1 + 1e-9)


UNITS = (
    "m",
    "mm",
    "m^2",
    "m^3",
    "g",
    "kg",
    "mL",
    "L",
    "g/m^2",
    "kg/m^2",
    "L/m^2",
    "mL/m^2",
    "L/hectare",
    "1/m^2",
)


@given(st.floats(1e-3, 1e6), st.sampled_from(UNITS), st.sampled_from(SYSTEMS))
def test_every_system_shows_the_same_quantity(value: float, unit: str, system: str) -> None:
    original = quantity(value, unit)
    shown = read_written(text_of(original, system, figures=9), "")
    assert in_unit(shown.value, shown.unit, unit) == pytest.approx(value, rel=1e-8, abs=1e-8)
    assert original == quantity(value, unit)


@given(st.floats(1, 1e4), st.floats(0.1, 10), st.sampled_from(UNITS), st.sampled_from(SYSTEMS))
def test_a_plus_minus_keeps_its_share_in_every_system(
    value: float, share: float, unit: str, system: str
) -> None:
    margin = value * share / 100
    magnitude, _ = convert(quantity(plus_minus(value, margin), unit), system)
    assert magnitude.std_dev / nominal(magnitude) == pytest.approx(share / 100, rel=1e-9)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("unit", UNITS)
def test_a_form_shows_a_label_that_it_can_read_back(unit: str, system: str) -> None:
    name, label = shown_unit(unit, system)
    assert unit_of(label) == unit_of(name)


def test_a_value_with_its_margin_stays_one_reading() -> None:
    """A value used twice is not two readings: the ± of x - x is nothing (GUM, JCGM 100:2008, 5.2)."""
    reading: Any = quantity(plus_minus(10, 1), "m")
    assert nominal((reading - reading).magnitude) == 0
    assert (reading - reading).magnitude.std_dev == 0


@given(st.floats(-1e9, 1e9))
def test_writing_without_unit_never_shows_a_minus_nought(value: float) -> None:
    assume(abs(value) < 1e-12)
    assert plain_number(value) != "-0"
