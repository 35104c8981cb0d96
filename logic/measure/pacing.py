"""The walker's pace: calibrated over a taped course, then used wherever a length is given in paces."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from uncertainties.core import Variable

from logic.errors import BadValue
from logic.field import Field, Form, PaceLike
from logic.figure import Figure, Source, figure, step
from logic.measure.asking import setting
from logic.units import nominal, plus_minus, quantity, spread

SOURCE = Source(
    "Surveying field-work sheets: pace length = course ÷ mean count; standard error of the mean count"
)

FORM = Form(
    (
        Field(
            "course",
            "Taped course",
            "m",
            default="20 m",
            above=0,
            most=1000,
            usual=(10, 100),
            help="Lay the tape on turf like the green's: 20 to 30 m is plenty.",
        ),
        Field(
            "counts",
            "Paces counted",
            "",
            kind="list",
            above=0,
            most=5000,
            fewest=1,
            help="Walk it at least three times, both ways. Write half and quarter paces too.",
        ),
    )
)


@dataclass(frozen=True)
class PaceScale:
    """A calibrated pace. metres: length of one pace [m] with ± (one object, so that the calibration's error
    is common to everything paced with it); count_margin: standard uncertainty of a count [paces]."""

    metres: Any
    count_margin: float
    figure: Figure

    def length(self, count: float) -> Any:
        """`count` paces in metres; ± from the calibration and from the part pace at the end.

        Source: law of propagation; A ∝ p², so the calibration counts twice in an area.
        """
        counted = plus_minus(count, self.count_margin, "count") if count > 0 else 0.0
        return self.metres * counted


def calibrate(course: float, counts: Sequence[float]) -> PaceScale:
    """A PaceScale from a taped course [m] and the counts of repeated walks.

    ± is the standard error of the mean count, but never less than a quarter pace shared over the walks;
    one walk alone gets the published relative error of uncalibrated pacing.
    Raises BadValue when there is no count.
    Source: surveying field-work sheets (25 m course, five walks): p = D / mean n, SE = s / √k.
    """
    if not counts:
        raise BadValue("counts", "Count the paces of at least one walk.")
    walks, mean = len(counts), sum(counts) / len(counts)
    margin = setting("count_margin")
    if walks > 1:
        deviation = math.sqrt(sum((n - mean) ** 2 for n in counts) / (walks - 1))
        relative = max(deviation / math.sqrt(walks), margin / math.sqrt(walks)) / mean
    else:
        relative = setting("pace_uncalibrated")
    metres = plus_minus(course / mean, course / mean * relative, "pace")
    shown = figure(
        "pace",
        "Your pace",
        metres,
        "m",
        step("course {course} ÷ mean count {mean} = {pace}", course=_m(course), mean=mean, pace=_m(metres)),
        step("{walks} walks; the pace is known to {relative}", walks=walks, relative=_percent(relative)),
        source=SOURCE,
    )
    return PaceScale(metres, margin, shown)


def repeated(value: Any, count: int, pace: PaceLike | None) -> list[Any]:
    """`count` separate readings of the same length as `value` [m]: each with an error of its own, save for
    the pace's length, which they share."""
    if not spread(value):
        return [value] * count
    if isinstance(value, Variable):
        return [Variable(value.nominal_value, value.std_dev, value.tag) for _ in range(count)]
    if pace is None:
        raise BadValue("pace", "Measure your pace first: walk a taped course and count.")
    paces = nominal(value) / nominal(pace.length(1))
    return [pace.length(paces) for _ in range(count)]


def pace_of(given: Mapping[str, Any] | None) -> PaceScale | None:
    """The PaceScale of a job file's "pace" part, None when there is none. Raises BadValue."""
    if not given:
        return None
    reading = FORM.read(given)
    if reading.values is None:
        key, sentence = next(iter(reading.problems.items()))
        raise BadValue(key, sentence)
    return calibrate(reading.values.course, reading.values.counts)


def _m(value: Any) -> Any:
    return quantity(value, "m")


def _percent(value: float) -> Any:
    return quantity(value * 100, "percent")
