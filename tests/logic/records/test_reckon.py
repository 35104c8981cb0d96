"""A whole job worked out, and the sentence that says which part of it is wrong."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logic.errors import ImpossibleShape, SwardError
from logic.records import jobfile
from logic.records.reckon import DEFAULT_CONFIDENCE, reckon
from logic.works.operations import operations

RECTANGLE = {"method": "rectangle", "length": "12 ± 0.02 m", "width": "5 ± 0.02 m"}
SAND = {"operation": "topdressing", "depth": "2 mm", "bulk_density": "1600 kg/m^3"}
SEED = {"operation": "overseeding", "rate": "8 g/m^2"}


def job(**parts: Any) -> dict[str, Any]:
    return {"format": jobfile.FORMAT, "outline": RECTANGLE, **parts}


def test_the_printed_figures_have_the_documented_shape() -> None:
    shown = reckon(job(works=[SAND, SEED])).as_json()
    assert set(shown) == {"area", "perimeter", "readings", "works", "cautions", "warnings"}
    for part, unit in (("area", "m^2"), ("perimeter", "m")):
        assert set(shown[part]) == {"value", "plus_minus", "unit", "steps", "source"}
        assert shown[part]["unit"] == unit
    assert [work["operation"] for work in shown["works"]] == ["topdressing", "overseeding"]
    for work in shown["works"]:
        assert set(work) == {"operation", "figures", "warnings"}
        assert work["figures"]
        for figure in work["figures"]:
            assert set(figure) == {"key", "name", "value", "plus_minus", "unit", "steps", "source"}
            assert figure["steps"], figure["key"]
            assert all(isinstance(line, str) and line for line in figure["steps"])
            assert figure["source"]
            assert math.isfinite(figure["value"])
            assert figure["plus_minus"] >= 0
    assert json.loads(json.dumps(shown, allow_nan=False)) == shown


def test_length_times_width_with_its_margin() -> None:
    """u(A)² = (w u(l))² + (l u(w))² for independent readings (GUM, JCGM 100:2008, 5.1.2)."""
    area = reckon(job()).outline.area
    assert area.nominal == pytest.approx(60)
    assert area.plus_minus == pytest.approx(math.hypot(5 * 0.02, 12 * 0.02))


def test_sand_is_area_times_depth_times_density() -> None:
    """V = A × d and m = V × ρ: arithmetic from the definitions, 60 m² × 2 mm × 1600 kg/m³."""
    (sand,) = reckon(job(works=[SAND])).works
    assert sand.figure("sand_volume").value.to("L").magnitude.nominal_value == pytest.approx(120)
    assert sand.figure("sand_mass").value.to("kg").magnitude.nominal_value == pytest.approx(192)


def test_a_work_knows_of_those_before_it() -> None:
    holes = {
        "operation": "coring",
        "tine_diameter": "12 mm",
        "spacing_across": "50 mm",
        "spacing_along": "50 mm",
    }
    holes["depth"] = "80 mm"
    alone = reckon(job(works=[SAND])).works[0]
    after = reckon(job(works=[holes, SAND])).works[1]
    assert {f.key for f in after.figures} >= {f.key for f in alone.figures}
    assert after.figures != alone.figures


def test_cautions_come_once_each() -> None:
    twice = reckon(job(works=[SEED, SEED]))
    assert twice.cautions == reckon(job(works=[SEED])).cautions
    assert len({c.key for c in twice.cautions}) == len(twice.cautions)


@pytest.mark.parametrize(
    ("parts", "sentence"),
    [
        ({"outline": None}, "This job has no outline yet: measure the green first."),
        ({"outline": {}}, "This job has no outline yet: measure the green first."),
        ({"outline": {"method": "rectangle", "length": "12 m"}}, "In outline, width: Fill in the width."),
        (
            {"outline": {"method": "rectangle", "length": "-1", "width": "5"}},
            "In outline, length: The length must be more than 0.",
        ),
        (
            {"outline": {"method": "rectangle", "length": "9 paces", "width": "5"}},
            "In outline, length: Measure your pace first: walk a taped course and count.",
        ),
        ({"pace": {"course": "20 m"}}, "In pace, counts: Fill in the paces counted."),
        (
            {"works": [SAND, {"operation": "overseeding", "rate": "lots"}]},
            "In work 2 (overseeding), rate: “lots” is not a number.",
        ),
        (
            {"works": [{**SEED, "purity": "101 %"}]},
            "In work 1 (overseeding), purity: The purity of the seed can't be more than 100 %.",
        ),
        ({"confidence": 2}, "The confidence must be a number between 0.5 and 0.999."),
        ({"confidence": True}, "The confidence must be a number between 0.5 and 0.999."),
    ],
)
def test_what_is_wrong_is_said_with_its_place(parts: dict[str, Any], sentence: str) -> None:
    with pytest.raises(SwardError) as caught:
        reckon(job(**parts))
    assert caught.value.sentence == sentence


@pytest.mark.parametrize("name", [None, 5, ["coring"], {"a": 1}, "no such\nwork" * 50])
def test_an_unknown_operation_or_method_is_named_in_one_line(name: Any) -> None:
    with pytest.raises(
        SwardError, match=r"In work 1, operation: .* is not an operation known here"
    ) as caught:
        reckon(job(works=[{"operation": name}]))
    assert "\n" not in caught.value.sentence
    with pytest.raises(
        SwardError, match=r"In outline, method: .* is not a way of measuring known here"
    ) as caught:
        reckon(job(outline={"method": name}))
    assert "\n" not in caught.value.sentence


def test_three_sides_that_never_meet_are_no_shape() -> None:
    """A side is shorter than the other two together (Euclid, Elements, I.20)."""
    with pytest.raises(ImpossibleShape, match=r"^In outline: "):
        reckon(job(outline={"method": "triangle", "a": "10 m", "b": "4 m", "c": "5 m"}))


@pytest.mark.parametrize(("confidence", "bags"), [(0.5, 1), (0.9, 2), (0.999, 2)])
def test_the_confidence_of_the_job_decides_what_is_enough(confidence: float, bags: int) -> None:
    """60 ± 0.26 m² at 25 g/m² is 1.5 kg in the middle, so a bag of 1.5 kg is enough one time in two."""
    feed = {"operation": "feeding", "n": "6 %", "product_rate": "25 g/m^2", "bag_mass": "1.5 kg"}
    (work,) = reckon(job(works=[feed], confidence=confidence)).works
    assert work.figure("bags").nominal == bags


def test_without_a_word_of_confidence_nine_times_in_ten_is_meant() -> None:
    assert DEFAULT_CONFIDENCE == 0.9
    feed = {"operation": "feeding", "n": "6 %", "product_rate": "25 g/m^2", "bag_mass": "1.5 kg"}
    assert reckon(job(works=[feed])).as_json() == reckon(job(works=[feed], confidence=0.9)).as_json()


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=10),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=2),
    max_leaves=5,
)


@given(st.sampled_from(tuple(operations())), st.data())
def test_whatever_a_work_is_given_it_is_worked_out_or_refused_in_words(key: str, data: st.DataObject) -> None:
    keys = operations()[key].form.keys()
    values = data.draw(st.fixed_dictionaries({}, optional=dict.fromkeys((*keys, "way"), JSON)))
    try:
        shown = reckon(job(works=[{"operation": key, **values}])).as_json()
        json.dumps(shown, allow_nan=False)
    except SwardError as error:
        assert error.sentence.startswith("In work 1")  # noqa: PT017
