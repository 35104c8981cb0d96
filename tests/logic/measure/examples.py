"""One small green or lawn for each way of measuring, by tape and in paces. Invented."""

from __future__ import annotations

import math
from typing import Any

PACE: dict[str, Any] = {"course": "25 m", "counts": [38, 40, 37, 37, 37]}

_OVAL = [f"{8 * math.sqrt(max(0.0, 1 - (x / 6) ** 2)):.2f} m" for x in range(-6, 7)]
_ROUND = [4.1, 4.3, 4.8, 5.3, 5.6, 5.4, 4.9, 4.4, 4.2, 4.4, 4.9, 5.5, 5.7, 5.4, 4.7, 4.2]

EXAMPLES: dict[str, dict[str, Any]] = {
    "rectangle, tape": {"method": "rectangle", "length": "12 m", "width": "7.5 m"},
    "rectangle, paces": {"method": "rectangle", "length": "16 paces", "width": "9.5 paces"},
    "rectangle, mixed": {"method": "rectangle", "length": "16 paces", "width": "7.5 m"},
    "circle across": {"method": "circle", "diameter": "9 m"},
    "circle round, paces": {"method": "circle", "circumference": "40 paces"},
    "oval, paces": {"method": "ellipse", "length": "18 paces", "width": "12 paces"},
    "triangle, sides": {"method": "triangle", "a": "9 m", "b": "8 m", "c": "11 m"},
    "triangle, height": {"method": "triangle", "base": "14 paces", "height": "6 m"},
    "triangle, angle": {"method": "triangle", "a": "9 m", "b": "8 m", "angle": "70 deg"},
    "trapezium": {"method": "trapezium", "a": "10 m", "b": "7 m", "height": "6 m", "start": "1 m"},
    "parallelogram": {"method": "parallelogram", "base": "10 m", "height": "6 m", "side": "7 m"},
    "quadrilateral": {
        "method": "quadrilateral",
        "ab": "10 m",
        "bc": "6.08 m",
        "cd": "8.06 m",
        "da": "7.07 m",
        "ac": "10.82 m",
    },
    "quadrilateral, perpendiculars": {
        "method": "quadrilateral",
        "diagonal": "12 m",
        "perpendicular_b": "4 m",
        "perpendicular_d": "5 paces",
        "foot_b": "5 m",
        "foot_d": "7 m",
    },
    "kite": {"method": "kite", "long": "12 m", "cross": "7 m", "crossing": "4 m"},
    "sector": {"method": "sector", "radius": "8 m", "angle": "90 deg"},
    "segment": {"method": "segment", "chord": "12 m", "rise": "3 m"},
    "ring": {"method": "ring", "outer": "14 m", "inner": "9 m"},
    "stadium": {"method": "stadium", "length": "16 paces", "width": "6 m"},
    "L": {"method": "l_shape", "length": "12 m", "width": "10 m", "cut_length": "7 m", "cut_width": "6 m"},
    "L, arms": {
        "method": "l_shape",
        "arm_length": "12 paces",
        "arm_width": "4 m",
        "leg_length": "6 m",
        "leg_width": "5 m",
    },
    "octagon": {"method": "regular", "count": 8, "side": "4 m"},
    "octagon, middle to side": {"method": "regular", "count": 8, "apothem": "6 paces"},
    "kidney": {"method": "kidney", "length": "11 m", "width_a": "5 m", "middle": "4.4 m", "width_b": "6 m"},
    "offsets, curved": {"method": "offsets", "spacing": "1 m", "offsets": _OVAL},
    "offsets, straight, paces": {
        "method": "offsets",
        "spacing": "2 paces",
        "offsets": ["0", "5 paces", "6 paces", "6.5 paces", "5 paces", "0"],
        "rule": "trapezoid",
    },
    "offsets, odd strips, paces": {
        "method": "offsets",
        "spacing": "2 paces",
        "offsets": ["2 paces", "5 paces", "6 paces", "6.5 paces", "5 paces", "3 paces"],
    },
    "offsets, two sides, stations": {
        "method": "offsets",
        "stations": ["0 m", "1 m", "2 m", "4 m", "6 m", "8 m", "9 m", "10 m"],
        "offsets": ["0 m", "2.2 m", "3 m", "3.6 m", "3.5 m", "2.8 m", "2 m", "0 m"],
        "offsets_other": ["0 m", "1.1 m", "1.6 m", "2.5 m", "2.8 m", "2.2 m", "1.4 m", "0 m"],
    },
    "radii": {"method": "radii", "radii": [f"{r} m" for r in _ROUND]},
    "radii, paces": {"method": "radii", "radii": [f"{r + 2} paces" for r in _ROUND]},
    "ties": {
        "method": "ties",
        "sides": ["7 m", "6 m", "5 m", "6 m", "8 m"],
        "ties": ["10 m", "11 m"],
    },
    "corners": {
        "method": "coordinates",
        "points": [["0 m", "0 m"], ["10 m", "0 m"], ["9 m", "6 m"], ["1 m", "7 m"]],
    },
    "walk, paces": {
        "method": "traverse",
        "legs": [
            {"bearing": "6 deg", "distance": "15 paces"},
            {"bearing": "95 deg", "distance": "10.5 paces"},
            {"bearing": "184 deg", "distance": "14 paces"},
            {"bearing": "N88W", "distance": "11 paces"},
        ],
    },
    "compound": {
        "method": "compound",
        "parts": [
            {"sign": "+", "outline": {"method": "rectangle", "length": "16 paces", "width": "6 m"}},
            {"sign": "+", "outline": {"method": "circle", "diameter": "8 paces"}},
            {"sign": "-", "outline": {"method": "circle", "diameter": "2 m"}},
        ],
    },
    "twice": {
        "method": "twice",
        "first": {"method": "ellipse", "length": "18 paces", "width": "12 paces"},
        "second": {"method": "ellipse", "length": "11.9 m", "width": "7.9 m"},
    },
}
