"""A day's shaking of hands and arms, and a day's noise, by machine and time: the authority's formulas.

It shows where a day stands. It replaces no assessment: local codes and the law where you are go first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from logic import tables
from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.units import quantity, text_of

VIBRATION = Source(
    "Control of Vibration at Work Regulations 2005, Schedule 1: A(8) = a × √(T ÷ 8 h), several as root of "
    "the sum of squares; points = 2 × a² × hours"
)
NOISE = Source("Control of Noise at Work Regulations: LEP,d = 10 × log10(Σ hours × 10^(L ÷ 10) ÷ 8 h)")
DEFER = (
    "These are British values. Local codes and the law where you are go first, and a measured figure beats "
    "a maker's."
)


@dataclass(frozen=True)
class Use:
    """A machine in hand for `hours`. vibration: a of the handles [m/s²]; noise: level at the ear [dB(A)];
    None for what isn't known."""

    name: str
    hours: float
    vibration: float | None = None
    noise: float | None = None

    def __post_init__(self) -> None:
        if not 0 <= self.hours <= 24:
            raise BadValue("hours", "Hours in a day lie between 0 and 24.")
        if self.vibration is not None and not 0 <= self.vibration <= 100:
            raise BadValue("vibration", "Vibration of handles lies between 0 and 100 m/s².")
        if self.noise is not None and not 0 <= self.noise <= 160:
            raise BadValue("noise", "Noise at the ear lies between 0 and 160 dB(A).")


@dataclass(frozen=True)
class Exposure:
    """Where a day stands: figures, state ("below", "action", "limit"), sentence, and machines without a
    figure."""

    figures: tuple[Figure, ...]
    state: str
    sentence: str
    unknown: tuple[str, ...] = ()

    def figure(self, key: str) -> Figure:
        """The figure named `key`. Raises KeyError."""
        for one in self.figures:
            if one.key == key:
                return one
        raise KeyError(key)


def value(key: str) -> float:
    """A value of exposure_values.csv. Raises LookupError."""
    return float(tables.row("exposure_values", key=key)["value"])


def points(vibration: float, hours: float) -> float:
    """Exposure points of a machine: 2 × a² × hours. They add up over a day. Source: VIBRATION."""
    return 2 * vibration**2 * hours


def vibration(uses: Sequence[Use]) -> Exposure:
    """Points and A(8) of a day's machines, held against the action and limit values. Source: VIBRATION."""
    known = [one for one in uses if one.vibration is not None]
    unknown = tuple(dict.fromkeys(one.name for one in uses if one.vibration is None and one.hours > 0))
    parts = [(one, points(one.vibration or 0.0, one.hours)) for one in known]
    total = math.fsum(part for _, part in parts)
    daily = value("vibration_action") * math.sqrt(total / value("points_action"))
    lines = [
        step(
            "{name}: 2 × ({a})² × {t} = {p}",
            name=one.name,
            a=quantity(one.vibration, "m/s^2"),
            t=quantity(one.hours, "hour"),
            p=part,
        )
        for one, part in parts
    ]
    added = step("together {p} points", p=total)
    turned = step("2.5 m/s² × √({p} ÷ 100) = {a}", p=total, a=quantity(daily, "m/s^2"))
    figures = (
        figure(
            "vibration_points",
            "Vibration, points today",
            total,
            "",
            *lines,
            added,
            source=VIBRATION,
            headline=True,
        ),
        figure("a8", "Vibration A(8)", daily, "m/s^2", *lines, added, turned, source=VIBRATION),
    )
    state = _state(total, value("points_action"), value("points_limit"))
    return Exposure(figures, state, _vibration_sentence(state, unknown), unknown)


def _state(found: float, action: float, most: float) -> str:
    slack = 1e-9 * most  # rounding must not turn a value into one above it
    return "limit" if found > most + slack else "action" if found >= action - slack else "below"


def _vibration_sentence(state: str, unknown: tuple[str, ...]) -> str:
    said = {
        "below": "Below the action value.",
        "action": "At or above the action value: cut the time, change machine or share the work.",
        "limit": "Above the limit value: stop using shaking machines today.",
    }[state]
    missing = f" Not counted, as no figure is known: {', '.join(unknown)}." if unknown else ""
    return f"{said}{missing} {DEFER}"


def time_left(used: float, vibration_: float, to: str = "limit") -> Figure:
    """Hours left on a machine [h] to the "action" or "limit" value, given the points used so far.

    (points allowed − used) ÷ (2 a²), never below 0. Raises BadValue when the machine doesn't shake.
    """
    if vibration_ <= 0:
        raise BadValue("vibration", "Give the machine's vibration, more than 0.")
    allowed = value(f"points_{to}")
    hours = max(0.0, (allowed - used) / (2 * vibration_**2))
    line = step(
        "({a} − {u}) ÷ (2 × ({v})²) = {t}",
        a=allowed,
        u=used,
        v=quantity(vibration_, "m/s^2"),
        t=quantity(hours, "hour"),
    )
    name = f"Time left to the {to} value"
    return figure(f"time_to_{to}", name, hours, "hour", line, source=VIBRATION)


def noise(uses: Sequence[Use]) -> Exposure:
    """The day's noise LEP,d [dB(A)], held against the action and limit values. Source: NOISE.

    Hearing protection is not taken off; the limit value allows for it, the action values don't.
    """
    known = [one for one in uses if one.noise is not None and one.hours > 0]
    unknown = tuple(dict.fromkeys(one.name for one in uses if one.noise is None and one.hours > 0))
    if not known:
        return Exposure((), "below", f"No noise is known yet. {DEFER}", unknown)
    dose = math.fsum(one.hours * 10 ** ((one.noise or 0.0) / 10) for one in known)
    level = 10 * math.log10(dose / 8)
    lines = [
        step("{name}: {l} dB(A) for {t}", name=one.name, l=one.noise, t=quantity(one.hours, "hour"))
        for one in known
    ]
    shared = step("energy of all shared over 8 h = {l} dB(A)", l=level)
    figures = (
        figure("lep_d", "Noise over the day, dB(A)", level, "", *lines, shared, source=NOISE, headline=True),
    )
    return Exposure(figures, _noise_state(level), _noise_sentence(level, unknown), unknown)


def _noise_state(level: float) -> str:
    return "limit" if level > value("noise_limit") else "action" if level >= value("noise_lower") else "below"


def _noise_sentence(level: float, unknown: tuple[str, ...]) -> str:
    found = f"{text_of(quantity(level, ''))} dB(A) over the day"
    if level > value("noise_limit"):
        said = f"{found}: above the limit of 87 unless hearing protection takes off enough."
    elif level >= value("noise_upper"):
        said = f"{found}: at or above 85, so hearing protection must be worn."
    elif level >= value("noise_lower"):
        said = f"{found}: above 80, so hearing protection must be to hand."
    else:
        said = f"{found}: below 80."
    missing = f" Not counted, as no figure is known: {', '.join(unknown)}." if unknown else ""
    return f"{said}{missing} {DEFER}"


def noise_time_left(uses: Sequence[Use], level: float, to: str = "upper") -> Figure:
    """Hours left at `level` [dB(A)] to the "lower", "upper" or "limit" value, given the day so far; never
    below 0."""
    dose = math.fsum(one.hours * 10 ** (one.noise / 10) for one in uses if one.noise is not None)
    allowed = value(f"noise_{to}")
    hours = max(0.0, (8 * 10 ** (allowed / 10) - dose) / 10 ** (level / 10))
    line = step(
        "what is left to {a} dB(A) over 8 h, at {l} dB(A) = {t}",
        a=allowed,
        l=level,
        t=quantity(hours, "hour"),
    )
    return figure(f"noise_time_to_{to}", f"Time left to {allowed:g} dB(A)", hours, "hour", line, source=NOISE)
