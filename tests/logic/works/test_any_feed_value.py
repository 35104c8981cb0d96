"""Whatever is typed, a sowing, feed, spray, watering or check gives finite figures or refuses."""

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

LABEL = {"n": "12 %", "p2o5": "4 %", "k2o": "8 %", "fe": "2 %", "n_so_far": "3 g/m^2", "turf": "bent"}
SEED = {"seeds_per_gram": "1020 1/g", "seed_age": "1", "carrier_ratio": "4", "cover_depth": "4 mm"}
MIXED = [{"species": "chewings_fescue", "share": "80 %"}, {"species": "browntop_bent", "share": "20 %"}]
PACED = {"flow": "1 L/min", "swath": "0.5 m"}
JOBS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("overseeding", {**SEED, "rate": "20 g/m^2", "species": "chewings_fescue"}),
    ("overseeding", {**SEED, "live_rate": "15 g/m^2"}),
    ("overseeding", {**SEED, "target_density": "2 1/cm^2"}),
    ("overseeding", {"rate": "20 g/m^2", "seed_age": "1", "mixture": MIXED}),
    ("feeding", {**LABEL, "nutrient_rate": "3 g/m^2", "bag_mass": "20 kg"}),
    ("feeding", {**LABEL, "product_rate": "25 g/m^2", "label_basis": "elemental"}),
    ("liquid_feeding", {**LABEL, "nutrient_rate": "0.5 g/m^2", "label_by": "weight", "density": "1.2 kg/L"}),
    ("liquid_feeding", {**LABEL, "product_rate": "5 mL/m^2"}),
    ("iron", {"product_rate": "4 g/m^2"}),
    ("iron", {"fe_rate": "0.5 g/m^2", "product": "other", "fe": "6 %"}),
    ("drenching", {"product_rate": "2 mL/m^2"}),
    ("drenching", {"dilution": "200", "dilution_kind": "to"}),
    ("spraying", {**PACED, "product_rate": "2 mL/m^2"}),
    ("watering", {"depth": "5 mm", "flow": "15 L/min", "can": "10 L", "uniformity": "70 %"}),
    ("watering", {"volume": "500 L", "application_rate": "20 mm/hour"}),
    ("seedbed_watering", {"flow": "15 L/min", "can": "10 L"}),
    ("soil_test", {"k": "20 ppm", "p": "10 ppm", "ca": "200 ppm", "mg": "30 ppm", "s": "3 ppm", "ph": "5.2"}),
    (
        "sprayer_calibration",
        {
            "catch": "1 L",
            "course": "20 m",
            "course_time": "24 s",
            "swath": "0.5 m",
            "product_rate": "2 mL/m^2",
            "tank": "15 L",
        },
    ),
    ("sprayer_calibration", {**PACED, "speed": "3 km/hour"}),
    ("sprayer_calibration", {"plot_area": "10 m^2", "plot_catch": "400 mL"}),
    ("sprayer_calibration", {"acre_catch": "200 mL", "swath": "1 m"}),
    (
        "spreader_calibration",
        {
            "mass_used": "420 g",
            "distance": "10 m",
            "swath": "1.2 m",
            "wanted_rate": "35 g/m^2",
            "setting": "5",
        },
    ),
    ("spreader_calibration", {"mass_used": "420 g", "plot_area": "12 m^2"}),
    ("spreader_calibration", {"tray_mass": "18 g", "tray_area": "0.06 m^2", "tray_count": "3"}),
    ("spreader_swath", {"tray_spacing": "0.3 m", "tray_masses": ["4 g", "10 g", "20 g", "10 g", "4 g"]}),
    (
        "running_sheet",
        {
            "loaded": "1 kg",
            "spare": "50 g",
            "strips": "3",
            "left": ["700 g", "400 g"],
            "strip_lengths": ["10 m", "12 m", "8 m"],
            "setting": "5",
        },
    ),
    ("catch_cans", {"catches": ["20 mL"] * 4, "opening": "80 mm", "minutes": "15", "wanted_depth": "5 mm"}),
    ("catch_cans", {"mean_depth": "8 mm", "uniformity": "77 %"}),
    ("water_use", {"et0": "4 mm", "crop_factor": "0.8", "days": "3"}),
    ("water_use", {"t_max": "25 degC", "t_min": "12 degC", "latitude": "52", "day": "196"}),
    ("rate_applied", {"mass_out": "2 kg", "mass_back": "150 g", "wanted_rate": "12 g/m^2"}),
    ("rate_applied", {"volume_out": "1 L", "wanted_volume_rate": "8 mL/m^2", "covered": "100 m^2"}),
    ("how_far", {"mass": "2 kg", "rate": "12 g/m^2"}),
    ("how_far", {"volume": "1 L", "volume_rate": "2 mL/m^2"}),
)
NAMES = [f"{key}-{place}" for place, (key, _) in enumerate(JOBS)]


def asked(place: int) -> list[Field]:
    """The number fields that belong to the job's way."""
    key, job = JOBS[place]
    form = operations()[key].form
    return [field for field in form.asked(form.way(job)) if field.kind in ("number", "list")]


def given_text(place: int, field: Field) -> Any:
    """What the job says there, else what stands there at first."""
    return JOBS[place][1].get(field.key) or field.default


NUMBERS = [(place, field) for place in range(len(JOBS)) for field in asked(place)]


MEASURED = [(place, field) for place, field in NUMBERS if given_text(place, field) and not field.whole]


def ground() -> Ground:
    return Ground(area=plus_minus(120, 1))


def readable(worked: Worked) -> None:
    assert worked.figures
    for one in worked.figures:
        assert math.isfinite(one.nominal), one.key
        assert math.isfinite(one.plus_minus), one.key
        assert one.steps, one.key
        for system in SYSTEMS:
            assert all(one.working(system))
            assert "nan" not in one.text_with_margin(system)
    keys = [one.key for one in worked.figures]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("place", range(len(JOBS)), ids=NAMES)
def test_every_figure_shows_its_working_in_every_system(place: int) -> None:
    key, job = JOBS[place]
    worked = work_out({"operation": key, **job}, ground())
    readable(worked)
    assert 1 <= sum(one.headline for one in worked.figures) <= 4


@pytest.mark.filterwarnings("error::FutureWarning")
@pytest.mark.parametrize(
    ("place", "field"), MEASURED, ids=[f"{NAMES[place]}-{field.key}" for place, field in MEASURED]
)
def test_any_number_may_carry_its_own_margin(place: int, field: Field) -> None:
    key, job = JOBS[place]
    said = given_text(place, field)
    texts = said if isinstance(said, list) else [said]
    with_margin = [f"{number} ± 0.1 {unit}" for number, _, unit in (t.partition(" ") for t in texts)]
    changed = {field.key: with_margin if isinstance(said, list) else with_margin[0]}
    readable(work_out({"operation": key, **job, **changed}, ground()))


@given(data=st.data(), value=st.floats(allow_nan=False, allow_infinity=False))
@settings(max_examples=200, deadline=None)
def test_any_number_at_all_is_worked_out_or_refused(data: st.DataObject, value: float) -> None:
    place, field = data.draw(st.sampled_from(NUMBERS))
    key, job = JOBS[place]
    number = value if data.draw(st.booleans()) else 10 ** (value % 12 - 6)
    text = f"{number!r}"
    entry = {"operation": key, **job, field.key: [text] * 5 if field.kind == "list" else text}
    worked, reading = plan(entry, ground())
    if worked is None:
        assert all(sentence.endswith(".") for sentence in reading.problems.values())
    else:
        readable(worked)
