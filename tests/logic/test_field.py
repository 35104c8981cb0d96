"""Forms: what is asked, how text becomes values, and the sentence for each thing that is wrong."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.field import Field, Form, Reading, Values, Way, from_table, is_empty
from logic.figure import Source
from logic.measure.pacing import calibrate
from logic.units import nominal, spread

WIDTH = Field("width", "Width", "m", above=0, most=1000, usual=(1, 100), paces=True, measured=True)
PURITY = Field("purity", "Purity", "percent", default="98 %", least=0, most=100)
RATE = Field("rate", "Rate of seed", "g/m^2", above=0, usual=(2, 50))
COUNT = Field("passes", "Passes", whole=True, least=1, most=20, default="2")
RULE = Field("rule", "Rule", kind="choice", default="a", choices=(("a", "One way"), ("b", "Another")))
WIDTHS = Field("widths", "Widths", "m", kind="list", least=0, most=100, fewest=2, most_entries=4)
NOTE = Field("note", "Note", kind="text", required=False)
BEARING = Field("bearing", "Bearing", kind="bearing")
LEG = (Field("distance", "Distance", "m", above=0, most=100, usual=(1, 50)), BEARING)
LEGS = Field("legs", "Legs", kind="rows", row=LEG, fewest=1, most_entries=3)
PACE = calibrate(20, (25, 25, 25))


def read(item: Field, given_: Any, pace: Any = PACE) -> Reading:
    return Form((item,)).read({item.key: given_}, pace)


def value(item: Field, given_: Any, pace: Any = PACE) -> Any:
    reading = read(item, given_, pace)
    assert reading.values is not None, reading.problems
    return reading.values[item.key]


def sentence(item: Field, given_: Any, pace: Any = PACE) -> str:
    reading = read(item, given_, pace)
    assert reading.values is None
    assert list(reading.problems) == [item.key]
    return reading.problems[item.key]


# --- numbers ------------------------------------------------------------------------------------


def test_a_bare_number_is_in_the_field_s_unit_and_any_other_is_converted() -> None:
    assert nominal(value(WIDTH, "5")) == 5
    assert nominal(value(WIDTH, 5)) == 5
    assert nominal(value(WIDTH, "500 cm")) == pytest.approx(5)
    assert nominal(value(WIDTH, "10 ft")) == pytest.approx(3.048)  # international foot, exact
    assert value(RATE, "1 oz/yd²") == pytest.approx(33.905747)  # NIST SP 811, Appendix B.8


def test_a_taped_length_carries_the_tape_s_margin_unless_it_states_its_own() -> None:
    assert spread(value(WIDTH, "5 m")) > 0
    assert spread(value(WIDTH, "5 ± 0.2 m")) == pytest.approx(0.2)
    assert spread(value(WIDTH, "5 m ± 20 cm")) == pytest.approx(0.2)
    assert spread(value(WIDTH, "10 ± 5 %")) == pytest.approx(0.5)
    assert spread(value(RATE, "8 g/m^2")) == 0
    assert spread(value(COUNT, "3")) == 0


def test_paces_become_metres_with_the_margin_of_the_pace() -> None:
    paced = value(WIDTH, "10 paces")
    assert nominal(paced) == pytest.approx(8)  # 20 m in 25 paces is 0.8 m
    assert spread(paced) > 0


def test_nothing_filled_in_takes_the_default_or_is_asked_for() -> None:
    assert value(PURITY, "") == 98
    assert value(PURITY, None) == 98
    assert sentence(RATE, "") == "Fill in the rate of seed."
    assert sentence(WIDTH, "paces") == "Fill in the width."
    assert value(NOTE, None) is None


@pytest.mark.parametrize(
    ("item", "given_", "words"),
    [
        (WIDTH, "-5", "must be more than 0"),
        (WIDTH, "0", "must be more than 0"),
        (WIDTH, "-3 paces", "can't be negative"),
        (WIDTH, "2 km", "can't be more than 1000 m"),
        (WIDTH, "x", "is not a number"),
        (WIDTH, "nan", "is not a number"),
        (WIDTH, "1e400", "is not a number"),
        (WIDTH, "5 kg", "can't be in kg; give it in m"),
        (WIDTH, "5 lightsabre", "is not a unit known here"),
        (WIDTH, "1,000", "can be read two ways"),
        (WIDTH, True, "must be a number"),
        (WIDTH, ["5"], "must be a number"),
        (WIDTH, {"value": 5}, "must be a number"),
        (WIDTH, math.inf, "is not a number"),
        (WIDTH, math.nan, "is not a number"),
        (WIDTH, 10**400, "is not a number"),
        (PURITY, "101 %", "can't be more than 100 %"),
        (PURITY, "-1", "can't be negative"),
        (RATE, "8 paces", "can't be given in paces"),
        (COUNT, "2.5", "must be a whole number"),
        (COUNT, "0", "can't be less than 1"),
        (RULE, "c", "must be one of: a, b"),
        (RULE, ["a"], "must be one of: a, b"),
        (RULE, 3, "must be one of: a, b"),
        (NOTE, 5, "must be text"),
        (WIDTHS, "5", "at least 2 values"),
        (WIDTHS, ["1"] * 5, "can't have more than 4 values"),
        (WIDTHS, {"a": 1}, "must be a list"),
        (WIDTHS, ["1", "x"], "Number 2 of the widths"),
        (WIDTHS, ["1", None], "Number 2 of the widths"),
        (LEGS, "5", "must be a list of rows"),
        (LEGS, [], "Fill in the legs"),
        (LEGS, [{"distance": "5"}], "Row 1 of the legs: Fill in the bearing"),
        (LEGS, [["5", "90"], ["-5", "90"]], "Row 2 of the legs: The distance must be more than 0"),
        (LEGS, [["5"]], "Row 1 of the legs needs: distance, bearing"),
        (LEGS, [5], "Row 1 of the legs needs: distance, bearing"),
        (LEGS, [["5", "90"]] * 4, "can't have more than 3 rows"),
        (BEARING, "N95E", "at most 90°"),
        (BEARING, "-1", "is not a bearing"),
        (BEARING, 361, "between 0° and 360°"),
        (BEARING, 10**400, "between 0° and 360°"),
        (BEARING, "left", "is not a bearing"),
    ],
)
def test_each_bad_value_gets_one_sentence_at_its_field(item: Field, given_: Any, words: str) -> None:
    said = sentence(item, given_)
    assert words in said
    assert said.count("\n") == 0
    assert said.endswith(".")


def test_paces_without_a_pace_say_what_to_do() -> None:
    assert sentence(WIDTH, "10 paces", pace=None).startswith("Measure your pace first")


def test_an_unusual_value_is_warned_of_and_taken() -> None:
    reading = read(RATE, "80")
    assert reading.values is not None
    assert reading.values["rate"] == 80
    warning = reading.warnings["rate"]
    assert (
        warning == "Unusual rate of seed: mostly 2 g/m² to 50 g/m². Check it, then carry on if it is right."
    )
    for edge in ("2", "50"):
        assert not read(RATE, edge).warnings


def test_one_bad_field_leaves_the_others_readable() -> None:
    form = Form((WIDTH, RATE, PURITY))
    reading = form.read({"width": "-1", "rate": "x", "purity": "90"})
    assert reading.values is None
    assert set(reading.problems) == {"width", "rate"}


# --- lists, rows, choices -----------------------------------------------------------------------


def test_a_list_is_read_from_json_or_from_lines() -> None:
    for written in (["0", "1,5", "2 m"], [0, 1.5, "200 cm"], "0; 1.5; 2", "0\n1.5\n2\n"):
        assert [nominal(v) for v in value(WIDTHS, written)] == pytest.approx([0, 1.5, 2])


def test_rows_are_read_from_objects_or_from_plain_lists() -> None:
    for written in ([{"distance": "5 m", "bearing": "N 45 E"}], [["5", 45]]):
        (row,) = value(LEGS, written)
        assert (row.distance, row["bearing"]) == (5, pytest.approx(45))
    reading = read(LEGS, [["5", 45], ["60", 45]])
    assert reading.warnings["legs"].startswith("Row 2: Unusual distance")


def test_a_choice_is_one_of_its_keys() -> None:
    assert value(RULE, "b") == "b"
    assert value(RULE, "") == "a"


def test_values_are_read_by_name_or_by_key() -> None:
    values = Values(rate=8.0, note=None)
    assert values.rate == values["rate"] == 8
    assert values.has("rate")
    assert not values.has("note")
    assert not values.has("unknown")
    assert dict(values) == {"rate": 8.0, "note": None}
    with pytest.raises(AttributeError):
        _ = values.unknown


# --- ways ---------------------------------------------------------------------------------------

BY_RATE = Way("rate", "By rate", ("rate",))
BY_COUNT = Way("plants", "By plants", ("plants", "seeds"))
PLANTS, SEEDS = Field("plants", "Plants"), Field("seeds", "Seeds to the gram")
FORM = Form((RATE, PLANTS, SEEDS, PURITY), (BY_RATE, BY_COUNT))


def test_the_way_is_the_named_one_or_the_one_best_filled_in() -> None:
    assert FORM.way({}) == "rate"
    assert FORM.way({"plants": "2"}) == "plants"
    assert FORM.way({"rate": "8"}) == "rate"
    assert FORM.way({"rate": "8", "plants": "2", "seeds": "13000"}) == "plants"
    assert FORM.way({"rate": "8", "way": "plants"}) == "plants"
    assert FORM.way({"rate": "8", "way": ["nonsense"]}) == "rate"
    assert Form((RATE,)).way({"way": "plants"}) == ""


def test_only_the_fields_of_the_way_and_of_none_are_asked() -> None:
    assert [f.key for f in FORM.asked("rate")] == ["rate", "purity"]
    assert [f.key for f in FORM.asked("plants")] == ["plants", "seeds", "purity"]
    reading = FORM.read({"way": "rate", "rate": "8", "plants": "rubbish"})
    assert reading.values is not None
    assert reading.values.plants is None


def test_an_unknown_field_is_a_mistake_of_the_program() -> None:
    assert FORM.field("seeds") is SEEDS
    with pytest.raises(KeyError):
        FORM.field("nothing")


@pytest.mark.parametrize(
    ("given_", "empty"), [("", True), (" paces ", True), (None, True), ([], True), ("0", False)]
)
def test_what_counts_as_empty(given_: Any, empty: bool) -> None:
    assert is_empty(given_) is empty


# --- tables -------------------------------------------------------------------------------------


def test_a_field_takes_its_unit_and_ranges_from_its_row() -> None:
    item = from_table("works", "topdressing", "depth", "Depth")
    assert item.unit == "mm"
    assert item.usual is not None
    assert isinstance(item.source, Source)


# --- whatever is typed --------------------------------------------------------------------------

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=6,
)
EVERYTHING = Form((WIDTH, PURITY, RATE, COUNT, RULE, WIDTHS, NOTE, BEARING, LEGS))


@given(st.fixed_dictionaries({}, optional=dict.fromkeys((*EVERYTHING.keys(), "way"), JSON)))
def test_whatever_a_job_file_holds_is_read_or_refused_in_words(given_: dict[str, Any]) -> None:
    reading = EVERYTHING.read(given_, PACE)
    assert (reading.values is None) == bool(reading.problems)
    for said in reading.problems.values():
        assert said
        assert "\n" not in said
        assert len(said) < 300


@given(st.floats(0.01, 999), st.sampled_from(["m", "cm", "mm", "ft", "in", "yd"]))
def test_the_unit_a_value_is_typed_in_makes_no_difference(metres: float, unit: str) -> None:
    per_metre = {"m": 1, "cm": 100, "mm": 1000, "ft": 1 / 0.3048, "in": 1 / 0.0254, "yd": 1 / 0.9144}[unit]
    typed = f"{metres * per_metre!r} {unit}"
    assert nominal(value(WIDTH, typed)) == pytest.approx(metres, rel=1e-12)


def test_a_bad_value_names_its_field() -> None:
    bad = BadValue("width", "The width must be more than 0.")
    assert (bad.field_key, bad.sentence, str(bad)) == ("width", bad.sentence, bad.sentence)
    assert isinstance(bad, ValueError)
