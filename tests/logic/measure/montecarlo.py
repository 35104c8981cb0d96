"""Plays the errors of readings with random numbers and reworks the area each time, to hold ± against.

Nothing here uses the propagation of `uncertainties`: readings are written out anew with their errors in them
and read as a job would be. What a method declares about the shape between its readings (and the directions
of radii judged by eye) is no reading, so it is taken over as declared.
"""

from __future__ import annotations

import math
import random
import statistics
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from logic.bearing import bearing_of
from logic.measure.geometry import perimeter, shoelace
from logic.measure.methods import method_named, outline_of
from logic.measure.outline import Context, Trace
from logic.measure.pacing import PaceScale, pace_of
from logic.measure.traverse import compass_rule
from logic.units import nominal, read_written, spread

# Standard uncertainties as the tables have them, written out here so that a change there is noticed.
TAPE, COUNT, ANGLE, COMPASS = 0.02, 0.25, 1.0, 2.0
DECLARED = ("shape", "closing", "twice")


@dataclass(frozen=True)
class Held:
    """± of the area as propagated and as played, both [m²], and of the perimeter [m]."""

    propagated: float
    played: float
    perimeter_propagated: float
    perimeter_played: float

    @property
    def ratio(self) -> float:
        """Propagated ÷ played."""
        return self.propagated / self.played

    @property
    def perimeter_ratio(self) -> float:
        """The same for the perimeter."""
        return self.perimeter_propagated / self.perimeter_played


def hold(job: dict[str, Any], pace_given: dict[str, Any], draws: int, seed: int) -> Held:
    """Play `draws` measurements of the same ground and hold their scatter against the ± of one."""
    pace = pace_of(pace_given)
    assert pace is not None
    told = traced(job, pace)
    rng = random.Random(seed)
    areas, rounds = [], []
    for _ in range(draws):
        errors = Errors(rng, pace)
        area, round_ = _played(job, errors)
        areas.append(area)
        rounds.append(round_)
    return Held(
        spread(told.area),
        math.hypot(statistics.stdev(areas), declared(told.area, job["method"])),
        spread(told.perimeter),
        math.hypot(statistics.stdev(rounds), declared(told.perimeter, job["method"])),
    )


def traced(job: dict[str, Any], pace: PaceScale | None) -> Trace:
    """What the method makes of the job."""
    method = method_named(job["method"])
    reading = method.form.read(job, pace)
    assert reading.values is not None, reading.problems
    return method.trace(reading.values, Context(pace, outline_of))


def declared(value: Any, method: str) -> float:
    """The part of ± that is declared, not read."""
    tags = (*DECLARED, "angle") if method == "radii" else DECLARED
    return math.sqrt(sum(u * u for reading, u in value.error_components().items() if reading.tag in tags))


class Errors:
    """One walker's day: a pace that is off by so much all day, and each reading off by its own."""

    def __init__(self, rng: random.Random, pace: PaceScale) -> None:
        self.rng = rng
        self.calibrated = pace
        self.pace = rng.gauss(nominal(pace.metres), spread(pace.metres))

    def length(self, text: str) -> float:
        """A length [m] as it might have been read."""
        written = read_written(text, "m")
        if written.value == 0:
            return 0.0
        if written.unit == "paces":
            return self.pace * self.rng.gauss(written.value, COUNT)
        assert written.unit == "m"
        return self.rng.gauss(written.value, TAPE)

    def again(self, given: Any, key: str = "") -> Any:
        """A job written anew with errors in all its readings."""
        if isinstance(given, dict):
            return {k: self.again(v, k) for k, v in given.items()}
        if isinstance(given, list):
            return [self.again(v, key) for v in given]
        if key == "angle":
            return f"{self.rng.gauss(read_written(given, 'deg').value, ANGLE)!r} deg"
        if key == "bearing":
            return f"{self.rng.gauss(bearing_of(given), COMPASS) % 360:.9f}"
        if key == "points":  # a corner is read from the tape even where it stands at nought
            return f"{self.rng.gauss(read_written(given, 'm').value, TAPE):.12f} ± 0 m"
        if key in ("method", "way", "rule", "sign", "count"):
            return given
        return f"{self.length(given):.12f} ± 0 m"


def _played(job: dict[str, Any], errors: Errors) -> tuple[float, float]:
    special = _SPECIAL.get(job["method"])
    if special is not None:
        return special(job, errors)
    again = traced(errors.again(job), None)
    return nominal(again.area), nominal(again.perimeter)


def _offsets(job: dict[str, Any], errors: Errors) -> tuple[float, float]:
    """The ground as it lies: offsets stand where the strips really end. Straight lines, or parabolas through
    three offsets at uneven spacing (Simpson's rule for irregularly spaced data; from memory, unverified)."""
    count = len(job["offsets"])
    if "stations" in job:
        x = [errors.length(s) for s in job["stations"]]
        even = [read_written(s, "m").value for s in job["stations"]]
    else:
        x, even = [0.0], [float(i) for i in range(count)]
        for _ in range(count - 1):
            x.append(x[-1] + errors.length(job["spacing"]))
    h = [errors.length(o) for o in job["offsets"]]
    if "offsets_other" in job:
        h = [a + errors.length(b) for a, b in zip(h, job["offsets_other"], strict=True)]
    area, i = 0.0, 0
    while i < count - 1:
        pair = job.get("rule") != "trapezoid" and i < count - 2
        if pair and math.isclose(even[i + 1] - even[i], even[i + 2] - even[i + 1]):
            p, q = x[i + 1] - x[i], x[i + 2] - x[i + 1]
            area += (
                (p + q)
                / 6
                * ((2 - q / p) * h[i] + (p + q) ** 2 / (p * q) * h[i + 1] + (2 - p / q) * h[i + 2])
            )
            i += 2
        else:
            area += (x[i + 1] - x[i]) * (h[i] + h[i + 1]) / 2
            i += 1
    return area, 0.0


def _twice(job: dict[str, Any], errors: Errors) -> tuple[float, float]:
    """Two outlines weighted as the first reading of them was."""
    u, w = (spread(traced(job[key], errors.calibrated).area) ** 2 for key in ("first", "second"))
    one, two = (nominal(traced(errors.again(job[key]), None).area) for key in ("first", "second"))
    return (one * w + two * u) / (u + w), 0.0


def _walk(job: dict[str, Any], errors: Errors) -> tuple[float, float]:
    """The adjusted walk without the refusal of bad ones, which would cut off the tails."""
    legs = errors.again(job["legs"])
    lengths = [read_written(leg["distance"], "m").value for leg in legs]
    turns = [math.radians(float(leg["bearing"])) for leg in legs]
    walk = compass_rule(
        [d * math.cos(t) for d, t in zip(lengths, turns, strict=True)],
        [d * math.sin(t) for d, t in zip(lengths, turns, strict=True)],
        lengths,
    )
    corners = walk.corners()
    return abs(shoelace(corners)), perimeter(corners)


_SPECIAL: dict[str, Callable[[dict[str, Any], Errors], tuple[float, float]]] = {
    "offsets": _offsets,
    "traverse": _walk,
    "twice": _twice,
}
