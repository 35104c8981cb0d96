"""The walker's pace: calibrated over a taped course, then used wherever a length is given in paces."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from uncertainties.core import Variable

from logic.errors import BadValue
from logic.field import Field, Form, PaceLike
from logic.figure import Figure, Source, Step, figure, step
from logic.measure.asking import setting, usual
from logic.measure.twice import compare
from logic.units import nominal, plus_minus, quantity, spread, text_of

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
            entry="Walk",
            kind="list",
            above=0,
            most=5000,
            fewest=1,
            help="Walk it at least three times, both ways. Write half and quarter paces too.",
        ),
        Field(
            "counting",
            "You count",
            kind="choice",
            default="single",
            choices=(("single", "Every step"), ("double", "Every second step (the same foot)")),
            help="Trades differ on what a pace is. Count the same way on the job as here.",
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
    counting: str = "single"
    warnings: tuple[str, ...] = ()

    def length(self, count: float) -> Any:
        """`count` paces in metres; ± from the calibration and from the part pace at the end.

        Source: law of propagation; A ∝ p², so the calibration counts twice in an area.
        """
        counted = plus_minus(count, self.count_margin, "count") if count > 0 else 0.0
        return self.metres * counted


def calibrate(course: float, counts: Sequence[float], counting: str = "single") -> PaceScale:
    """A PaceScale from a taped course [m] and the counts of repeated walks, of every step ("single") or every
    second one ("double").

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
        _known(walks, relative),
        source=SOURCE,
    )
    return PaceScale(metres, margin, shown, counting, _unusual(course / mean, counting))


def _known(walks: int, relative: float) -> Step:
    if walks == 1:
        text = "one walk only, so the pace is taken as known to {relative}; walk it again to know better"
    else:
        text = "from {walks} walks and how they scatter, the pace is known to {relative:2}"
    return step(text, walks=walks, relative=_percent(relative))


def _unusual(pace: float, counting: str) -> tuple[str, ...]:
    low, high = usual("single_step" if counting == "single" else "double_step")
    if low <= pace <= high:
        return ()
    what = "one step" if counting == "single" else "two steps"
    sentence = (
        f"A pace of {text_of(_m(pace))} is unusual for {what}: mostly {text_of(_m(low))} to "
        f"{text_of(_m(high))}. Check the course, the counts, and which steps you count."
    )
    return (sentence,)


def recheck(old: PaceScale, new: PaceScale) -> str:
    """What a new calibration says of the one in use: "" while they agree within their ±, else a sentence."""
    if old.counting != new.counting:
        return "The two calibrations count different steps, so they can't be held against each other."
    if compare(old.metres, new.metres).agree:
        return ""
    was, now = text_of(old.figure.value), text_of(new.figure.value)
    return f"Your pace has changed from {was} to {now}, more than their ± explains. Use the new one now."


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
    return calibrate(reading.values.course, reading.values.counts, reading.values.counting)


def _m(value: Any) -> Any:
    return quantity(value, "m")


def _percent(value: float) -> Any:
    return quantity(value * 100, "percent")
