"""Further printed examples of measuring, beyond the rows of measuring.csv; the source stands beside each."""

from __future__ import annotations

from typing import Any

import pytest

from logic.measure.methods import method_named, outline_of
from logic.measure.outline import Context
from logic.measure.pacing import calibrate, pace_of
from logic.units import nominal

# Bare numbers are taken as metres where the source has another unit: only the numbers matter.
PRINTED: list[tuple[str, dict[str, Any], float, float]] = [
    # Extension pond-area text: triangle 80, 90, 130 ft -> 3,549.6 ft².
    ("pond triangle", {"method": "triangle", "a": 80, "b": 90, "c": 130}, 3549.6, 0.05),
    # OpenStax, Algebra and Trigonometry: sides 10, 15, 7 -> 29.4.
    ("triangle 10 15 7", {"method": "triangle", "a": 10, "b": 15, "c": 7}, 29.4, 0.05),
    # Surveying sheet: 129.26, 258.73, 211.25 m -> 13,580.95 m² (worked out from its sides).
    ("surveyed triangle", {"method": "triangle", "a": 129.26, "b": 258.73, "c": 211.25}, 13580.95, 0.01),
    # Trade handout “How to measure an area”: ellipse 15 × 5 ft -> 58.9 ft².
    ("oval", {"method": "ellipse", "length": 15, "width": 5}, 58.9, 0.05),
    # Mathematics exercise collection, annulus: r 20, R 30 cm -> 1,570.7963 cm².
    ("ring", {"method": "ring", "outer": 60, "inner": 40}, 1570.7963, 1e-4),
    # OpenStax, Prealgebra 2e: height 9 m, bases 6.2 and 7.8 m -> 63 m².
    ("trapezium", {"method": "trapezium", "a": 6.2, "b": 7.8, "height": 9}, 63, 1e-9),
    # Surveying hand-outs, offsets every 4 m: Simpson 147.2, trapezoid 142.8 m² (worked out from its list).
    (
        "offsets, Simpson",
        {"method": "offsets", "spacing": 4, "offsets": [0.5, 1.4, 2.5, 5.6, 8.5, 7.4, 3.8, 5.1, 2.3]},
        147.2,
        1e-9,
    ),
    # Bed measured every 10 ft over 60 ft -> 960 ft² by the extension offset rule.
    (
        "offsets, extension rule",
        {"method": "offsets", "spacing": 10, "offsets": [0, 19, 22, 23, 19, 13, 0], "rule": "trapezoid"},
        960,
        1e-9,
    ),
    # Compass-rule slides: 80.40 N76E, 46.30 S36E, 72.80 S61W, 68.00 N38W; area 4,169.14 m² (worked out).
    (
        "walk of four legs",
        {
            "method": "traverse",
            "legs": [
                {"bearing": b, "distance": d}
                for b, d in (("N76E", 80.40), ("S36E", 46.30), ("S61W", 72.80), ("N38W", 68.00))
            ],
        },
        4169.14,
        0.01,
    ),
    # 19th-century surveying textbook: offsets on both sides of a line of 769 links -> 188,291 square links.
    (
        "offsets both sides, as corners",
        {
            "method": "coordinates",
            "points": [[0, 0], [150, 141], [597, 167], [769, 0], [624, -172], [323, -180]],
        },
        188291,
        1e-6,
    ),
    # OpenStax, Contemporary Mathematics: bay of 5 × 10 and a half circle of 5 ft across -> 59.8 ft².
    (
        "bay",
        {
            "method": "compound",
            "parts": [
                {"sign": "+", "outline": {"method": "rectangle", "length": 10, "width": 5}},
                {"sign": "+", "outline": {"method": "sector", "radius": 2.5, "angle": 180}},
            ],
        },
        59.8,
        0.05,
    ),
]


@pytest.mark.parametrize(("name", "job", "printed", "margin"), PRINTED, ids=[row[0] for row in PRINTED])
def test_printed_example(name: str, job: dict[str, Any], printed: float, margin: float) -> None:
    assert outline_of(job).area.nominal == pytest.approx(printed, abs=margin)


def test_corrections_of_the_compass_rule_as_printed() -> None:
    """Compass-rule slides: adjusted latitudes 19.365, −37.506, −35.372, 53.513; misclosure 0.421, 1/635."""
    walk = [("N76E", 80.40), ("S36E", 46.30), ("S61W", 72.80), ("N38W", 68.00)]
    outline = outline_of({"method": "traverse", "legs": [{"bearing": b, "distance": d} for b, d in walk]})
    ends = sorted(y for _, y in outline.polygon)
    assert ends == pytest.approx(sorted([0, 19.365, 19.365 - 37.506, 19.365 - 37.506 - 35.372]), abs=0.002)
    assert "0.421 m from where they began" in outline.area.working()[0]


def test_further_pace_factors_as_printed() -> None:
    """Surveying field-work sheets: 45 m in 50 53 51 53 52 53 -> 0.8654 m, 770 paces -> 666.35 m;
    90 m in 173 168 171 171 173 -> 0.5257 m."""
    first = calibrate(45, [50, 53, 51, 53, 52, 53])
    assert nominal(first.metres) == pytest.approx(0.8654, abs=5e-5)
    assert nominal(first.length(770)) == pytest.approx(666.35, abs=0.01)
    assert nominal(calibrate(90, [173, 168, 171, 171, 173]).metres) == pytest.approx(0.5257, abs=5e-5)


def test_area_of_a_taped_field_and_its_margin_as_printed() -> None:
    """Engineering-exam forum: 339.21 ± 0.05 ft × 563.67 ± 0.09 ft -> 191,202 ft², ± 41.5 ft²."""
    area = outline_of({"method": "rectangle", "length": "339.21 ± 0.05 ft", "width": "563.67 ± 0.09 ft"}).area
    assert area.nominal / 0.3048**2 == pytest.approx(191202.5, abs=0.1)
    assert area.plus_minus / 0.3048**2 == pytest.approx(41.55, abs=0.05)


def test_the_rule_of_thumb_for_kidneys_is_shown_beside_ours() -> None:
    """Popular rule 0.45 (A + B) L: 20 ft with bulges 10 and 15 -> 225 ft²."""
    method = method_named("kidney")
    reading = method.form.read({"length": 20, "width_a": 10, "middle": 11, "width_b": 15})
    assert reading.values is not None
    steps = method.trace(reading.values, Context(pace_of(None), outline_of)).steps
    assert nominal(steps[2].values["t"].magnitude) == pytest.approx(225)
