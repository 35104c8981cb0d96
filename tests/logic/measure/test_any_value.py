"""Whatever is typed, a way of measuring gives finite figures or refuses with a sentence: it never breaks."""

from __future__ import annotations

import copy
import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.measure.methods import measure
from logic.measure.outline import Outline
from logic.measure.pacing import pace_of
from logic.units import SYSTEMS
from tests.logic.measure.examples import EXAMPLES, PACE

NUMBERS = st.one_of(
    st.floats(0, 1000),
    st.floats(1e-12, 1e-3),
    st.sampled_from([0, 1e-300, 5e-324, 999.999999, 1000, -3, 90, 180, 270, 360]),
)
TEXTS = st.one_of(
    NUMBERS.map(lambda x: f"{x!r} m"),
    NUMBERS.map(lambda x: f"{x!r} paces"),
    NUMBERS.map(lambda x: f"{x!r} ft"),
    NUMBERS.map(repr),
    st.builds(lambda x, u: f"{x!r} ± {abs(u)!r} m", NUMBERS, NUMBERS),
    st.builds(lambda x, u: f"{x!r} ± {abs(u)!r} deg", NUMBERS, NUMBERS),
    st.text(max_size=8),
)
LENGTHS = st.builds(
    lambda power, unit: f"{10**power!r} {unit}",
    st.one_of(st.floats(-9, 3), st.floats(0, 1.3)),
    st.sampled_from(["m", "paces", "± 0 m", "± 3 m", "± 1000 m"]),
)
ANYTHING = st.one_of(
    TEXTS,
    st.none(),
    st.booleans(),
    NUMBERS,
    st.just(math.nan),
    st.lists(TEXTS, max_size=5),
    st.dictionaries(st.text(max_size=3), TEXTS, max_size=2),
)


def leaves(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Paths to everything in a job that a person fills in."""
    if isinstance(value, dict):
        return [p for k, v in value.items() if k != "method" for p in leaves(v, (*path, k))]
    if isinstance(value, list):
        return [path, *(p for i, v in enumerate(value) for p in leaves(v, (*path, i)))]
    return [path]


def with_value(job: dict[str, Any], path: tuple[Any, ...], value: Any) -> dict[str, Any]:
    changed = copy.deepcopy(job)
    place: Any = changed
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return changed


def holds(outline: Outline | None, problems: Any) -> None:
    if outline is None:
        assert problems
        for sentence in problems.values():
            assert sentence[:1].isupper() or sentence[0] in "“0123456789"
            assert sentence.rstrip().endswith((".", "!"))
        return
    for figure in outline.figures:
        assert math.isfinite(figure.nominal), figure.key
        assert math.isfinite(figure.plus_minus), figure.key
        assert figure.nominal > 0
        for system in SYSTEMS:
            assert all(figure.working(system))
            assert "nan" not in figure.text_with_margin(system)
    assert len(outline.polygon) >= 3
    assert all(math.isfinite(c) for point in outline.polygon for c in point)
    json.dumps([figure.as_json() for figure in outline.figures], allow_nan=False)


@pytest.mark.parametrize("name", EXAMPLES)
@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_any_value_in_any_place(name: str, data: st.DataObject) -> None:
    job = EXAMPLES[name]
    for _ in range(data.draw(st.integers(1, 2))):
        path = data.draw(st.sampled_from(leaves(EXAMPLES[name])))
        try:
            job = with_value(job, path, data.draw(ANYTHING))
        except (TypeError, IndexError, KeyError):
            continue  # the place went with what was put in before
    outline, reading = measure(job, pace_of(PACE))
    holds(outline, reading.problems)


@pytest.mark.parametrize("name", EXAMPLES)
@given(data=st.data())
@settings(max_examples=40, deadline=None)
def test_all_lengths_at_any_size(name: str, data: st.DataObject) -> None:
    job = EXAMPLES[name]
    for path in leaves(job):
        at: Any = job
        for key in path:
            at = at[key]
        if isinstance(at, str) and at[:1].isdigit():
            job = with_value(job, path, data.draw(LENGTHS))
    outline, reading = measure(job, pace_of(PACE))
    holds(outline, reading.problems)
