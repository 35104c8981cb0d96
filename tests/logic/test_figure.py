"""A figure's working in any system of units, and how much is enough."""

from __future__ import annotations

from decimal import Decimal
from statistics import NormalDist
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.figure import DEFINITION, PRACTICE, Figure, Source, enough, figure, renamed, step
from logic.units import SYSTEMS, plus_minus, quantity


def sand(value: Any = 480.0, **more: Any) -> Figure:
    line = step(
        "{area} × {depth} = {mass:3} in {loads} {what}",
        area=quantity(120, "m^2"),
        depth=quantity(2.5, "mm"),
        mass=quantity(value, "kg"),
        loads=6,
        what="barrow loads",
    )
    return figure("sand_mass", "Sand to order", value, "kg", line, **more)


def test_the_working_reads_in_every_system_of_units() -> None:
    assert sand().working() == ("120 m² × 2.5 mm = 480 kg in 6 barrow loads",)
    assert sand().working("imperial") == ("143.5 yd² × 0.09843 in = 1058 lb in 6 barrow loads",)
    assert sand().working("us") == ("1292 ft² × 0.09843 in = 1058 lb in 6 barrow loads",)


def test_reading_the_working_in_another_system_changes_nothing() -> None:
    one = sand(plus_minus(480, 12))
    before = one.as_json()
    for system in SYSTEMS:
        one.working(system)
        one.text_with_margin(system)
    assert one.as_json() == before


def test_a_figure_as_the_command_line_prints_it() -> None:
    one = sand(plus_minus(480.0, 12.0), source=Source("A leaflet on sand", "second-hand"))
    assert one.as_json() == {
        "key": "sand_mass",
        "name": "Sand to order",
        "value": 480.0,
        "plus_minus": 12.0,
        "unit": "kg",
        "steps": ["120 m² × 2.5 mm = 480 kg in 6 barrow loads"],
        "source": "A leaflet on sand (quoted second-hand)",
    }


def test_a_plain_number_has_no_margin() -> None:
    assert sand().plus_minus == 0
    assert sand().text_with_margin() == "480 kg"
    assert sand(plus_minus(480, 12)).text_with_margin() == "480 ± 12 kg"


def test_a_template_reaches_neither_attributes_nor_indexes() -> None:
    class Secret:
        inside = "secret"

    for template in ("{x.inside}", "{x[0]}", "{x.__class__}", "{x.__init__.__globals__}"):
        with pytest.raises((KeyError, ValueError)):
            step(template, x=Secret()).text()


def test_text_in_a_step_stays_text() -> None:
    assert step("{name} × 2", name="{area} <b>&").text() == "{area} <b>& × 2"


@pytest.mark.parametrize(
    ("source", "words"),
    [
        (Source("A table, 1998"), "A table, 1998"),
        (Source("A table, 1998", "second-hand"), "A table, 1998 (quoted second-hand)"),
        (PRACTICE, "common practice, no source"),
        (DEFINITION, "worked out from the definition"),
        (Source("", "memory"), "from memory, unverified"),
        (Source("", "setting"), "your own setting"),
    ],
)
def test_a_source_says_how_far_it_can_be_trusted(source: Source, words: str) -> None:
    assert str(source) == words


def test_a_renamed_figure_is_otherwise_the_same() -> None:
    one = renamed(sand(), "bought", "Sand bought")
    assert (one.key, one.name, one.value, one.steps) == ("bought", "Sand bought", sand().value, sand().steps)


# --- enough -------------------------------------------------------------------------------------

#: Upper quantiles z of the standard normal distribution, Φ(z) = p, as printed in NIST/SEMATECH, e-Handbook of
#: Statistical Methods, 1.3.6.7.1 (table) and in any book of statistics, to three decimals.
QUANTILES = [("0.90", "1.282"), ("0.95", "1.645"), ("0.975", "1.960"), ("0.99", "2.326"), ("0.999", "3.090")]


@pytest.mark.parametrize(("confidence", "z"), QUANTILES)
def test_enough_is_the_value_and_z_times_its_margin(confidence: str, z: str) -> None:
    wanted = 480 + float(z) * 12
    assert sand(plus_minus(480, 12)).at_least(float(confidence)).magnitude == pytest.approx(
        wanted, abs=12 * 0.0006
    )


@given(st.floats(1, 1e6), st.floats(0.01, 100), st.floats(0.5, 0.999))
def test_what_is_enough_covers_that_share_of_the_normal_distribution(
    value: float, margin: float, confidence: float
) -> None:
    reached = NormalDist(value, margin).cdf(enough(plus_minus(value, margin), confidence))
    assert reached == pytest.approx(confidence, abs=1e-6)


@given(st.floats(1, 1e6), st.floats(0.5, 0.999))
def test_enough_of_what_is_known_exactly_is_just_that(value: float, confidence: float) -> None:
    assert enough(value, confidence) == value


@given(st.floats(1, 1e4), st.floats(0.01, 10), st.floats(0.5, 0.99), st.floats(0.0, 0.009))
def test_more_confidence_never_orders_less(value: float, margin: float, lower: float, more: float) -> None:
    uncertain = plus_minus(value, margin)
    assert enough(uncertain, lower + more) >= enough(uncertain, lower)


def test_enough_keeps_the_unit() -> None:
    amount = sand(plus_minus(480, 12)).at_least(0.9)
    assert f"{amount.units:~}" == "kg"
    assert Decimal(str(round(amount.magnitude, 1))) == Decimal("495.4")
