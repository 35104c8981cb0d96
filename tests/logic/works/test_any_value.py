"""Whatever is typed, an opening, dressing or check gives finite figures or refuses with a sentence."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.field import Field
from logic.units import SYSTEMS, plus_minus
from logic.works.operation import Ground, Worked
from logic.works.operations import operations, plan, work_out

HOLES = {"tine_diameter": "12 mm", "spacing_across": "50 mm", "spacing_along": "50 mm", "depth": "80 mm"}
BLADES = {"blade_width": "2 mm", "blade_spacing": "25 mm", "depth": "5 mm"}
JOBS: dict[str, dict[str, Any]] = {
    "coring": {**HOLES, "outside_diameter": "15 mm", "cores": "return", "passes": "2"},
    "solid_tining": {**HOLES, "fill_share": "50 %", "stands_in_for": "coring"},
    "scarifying": {**BLADES, "passes": "2", "angles": ["0 °", "90 °"]},
    "verticutting": {**BLADES, "angles": ["10 °"]},
    "topdressing": {"depth": "2 mm", "already_this_year": "2 mm", "hollows": "10 L", "passes": "2"},
    "mowing": {"height_of_cut": "6 mm", "height_now": "12 mm", "growth": "1 mm/day", "angles": ["5 °"]},
    "rolling": {"roller_mass": "300 kg", "angles": ["0 °"]},
    "levelling": {"angles": ["0 °", "45 °"]},
    "brushing": {"angles": ["0 °", "45 °"]},
    "matting": {"angles": ["0 °", "45 °"]},
    "organic_matter": {"start": "7 %", "target": "5 %", "share": "10 %", "sand_rate": "2 kg/m^2"},
    "pan_test": {
        "pan_length": "400 mm",
        "pan_width": "300 mm",
        "caught": ["90 g", "91 g", "92 g"],
        "wanted": "0.7 kg/m^2",
    },
}
OBLONG = ((0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0))
NUMBERS = [
    (key, field)
    for key in JOBS
    for field in operations()[key].form.fields
    if field.kind in ("number", "list")
]


def work(key: str, **changed: Any) -> Worked:
    job = {"operation": key, **JOBS[key], **changed}
    return work_out(job, Ground(area=plus_minus(120, 1), polygon=OBLONG))


def readable(worked: Worked) -> None:
    assert worked.figures
    for one in worked.figures:
        assert math.isfinite(one.nominal), one.key
        assert math.isfinite(one.plus_minus), one.key
        assert one.steps, one.key
        for system in SYSTEMS:
            assert all(one.working(system))
            assert "nan" not in one.text_with_margin(system)


@pytest.mark.parametrize("key", JOBS)
def test_every_figure_shows_its_working_in_every_system(key: str) -> None:
    readable(work(key))


@pytest.mark.filterwarnings("error::FutureWarning")
@pytest.mark.parametrize(("key", "field"), NUMBERS, ids=lambda x: x if isinstance(x, str) else x.key)
def test_any_number_may_carry_its_own_margin(key: str, field: Field) -> None:
    said = JOBS[key].get(field.key) or field.default or "4 mm"
    if field.key == "rate":
        said = "3 kg/m^2"
    texts = said if isinstance(said, list) else [said]
    with_margin = [f"{number} ± 0.1 {unit}" for number, _, unit in (t.partition(" ") for t in texts)]
    readable(work(key, **{field.key: with_margin if isinstance(said, list) else with_margin[0]}))


@given(data=st.data(), value=st.floats(allow_nan=False, allow_infinity=False))
@settings(max_examples=200, deadline=None)
def test_any_number_at_all_is_worked_out_or_refused(data: st.DataObject, value: float) -> None:
    key, field = data.draw(st.sampled_from(NUMBERS))
    number = value if data.draw(st.booleans()) else 10 ** (value % 12 - 6)
    text = f"{number!r}"
    worked, reading = plan(
        {"operation": key, **JOBS[key], field.key: [text] * 3 if field.kind == "list" else text},
        Ground(area=plus_minus(120, 1), polygon=OBLONG),
    )
    if worked is None:
        assert all(sentence.endswith(".") for sentence in reading.problems.values())
    else:
        readable(worked)
