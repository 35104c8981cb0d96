"""Numbers as people write them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.numbers import number

NBSP, THIN = "\u00a0", "\u202f"


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12.5", 12.5),
        ("12,5", 12.5),
        ("0,5", 0.5),
        ("0,125", 0.125),
        (".5", 0.5),
        (",5", 0.5),
        ("-3", -3.0),
        ("−3", -3.0),
        ("1,000.5", 1000.5),
        ("1.000,5", 1000.5),
        ("1,234,567", 1234567.0),
        ("1.234.567", 1234567.0),
        (f"1{NBSP}000", 1000.0),
        (f"1{THIN}000", 1000.0),
        ("1 000", 1000.0),
        ("1e3", 1000.0),
        ("1,0000", 1.0),
        ("½", 0.5),
        ("3½", 3.5),
        ("3 ½", 3.5),
        ("-3½", -3.5),
        ("⅔", 2 / 3),
        ("5.", 5.0),
        ("5,", 5.0),
    ],
)
def test_a_number_is_read_with_a_point_or_a_comma(text: str, value: float) -> None:
    assert number(text) == pytest.approx(value, rel=1e-15)


def test_one_comma_before_three_digits_can_be_read_two_ways() -> None:
    for text, first, second in (("1,000", "1000", "1.000"), ("13,200", "13200", "13.200")):
        with pytest.raises(BadValue, match="two ways") as caught:
            number(text)
        assert first in caught.value.sentence
        assert second in caught.value.sentence


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "x",
        "nan",
        "inf",
        "-inf",
        "NaN",
        "1e400",
        "-1e400",
        "--5",
        "+-5",
        "1,2,3",
        "1.2.3",
        "1_000",
        "0x10",
        "1,23,456.7",
        "1e",
        "½½",
        ",",
        ".",
        "-",
    ],
)
def test_anything_else_is_not_a_number(text: str) -> None:
    with pytest.raises(BadValue):
        number(text)


@given(st.floats(-1e6, 1e6).map(lambda x: round(x, 4)))
def test_a_number_written_with_a_comma_is_the_same_number(value: float) -> None:
    text = f"{value:.4f}"
    assert number(text) == value
    assert number(text.replace(".", ",")) == value


@given(st.integers(1_000, 10**12), st.integers(0, 99))
def test_thousands_set_apart_change_nothing(whole: int, cents: int) -> None:
    value = whole + cents / 100
    english = f"{whole:,}.{cents:02d}"
    german = english.translate(str.maketrans(",.", ".,"))
    spaced = english.replace(",", NBSP)
    assert [number(t) for t in (english, german, spaced)] == [pytest.approx(value, rel=1e-12)] * 3
