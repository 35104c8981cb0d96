"""The year as a strip: for each month how well it suits an operation, by temperatures typed in or logged."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form, Values
from logic.figure import Source
from logic.programme.growth import growth_potential
from logic.units import nominal, plain_number, quantity, text_of

GOOD, POSSIBLE, POOR = "good", "possible", "poor"
_RANK = {POOR: 0, POSSIBLE: 1, GOOD: 2}

FORM = Form(
    (
        Field(
            "air",
            "Mean air temperature of each month",
            "degC",
            kind="list",
            least=-40,
            most=45,
            usual=(-10, 30),
            fewest=12,
            most_entries=12,
            entry="January, February, March, April, May, June, July, August, September, October, November, "
            "December",
            help="January first. From a local record, or this sward's own log.",
        ),
        Field(
            "soil",
            "Mean soil temperature of each month",
            "degC",
            kind="list",
            least=-20,
            most=45,
            usual=(-5, 30),
            fewest=12,
            most_entries=12,
            required=False,
            entry="January, February, March, April, May, June, July, August, September, October, November, "
            "December",
            help="Left empty, that of the air: in spring soil lags behind.",
        ),
        Field(
            "grass",
            "Grass",
            kind="choice",
            choices=tuple((r["key"], r["name"]) for r in tables.rows("timing_growth")),
            default="cool",
        ),
    )
)


@dataclass(frozen=True)
class Climate:
    """Mean temperatures of the twelve months [°C], and which growth curve the grass follows.

    south: True below the equator, where the windows by month are half a year off.
    """

    air: tuple[float, ...]
    soil: tuple[float, ...]
    grass: str = "cool"
    south: bool = False

    def growth(self, month: int) -> float:
        """Growth potential of a month (1 to 12)."""
        return growth_potential(self.air[month - 1], self.grass)


@dataclass(frozen=True)
class Month:
    """A month of a strip: number 1 to 12, state "good", "possible" or "poor", and why in a sentence."""

    number: int
    state: str
    sentence: str


@dataclass(frozen=True)
class Strip:
    """Twelve months for an operation, and where the window comes from."""

    operation: str
    months: tuple[Month, ...]
    source: Source

    def good(self) -> tuple[int, ...]:
        """The months that suit it well."""
        return tuple(m.number for m in self.months if m.state == GOOD)


def climate_of(v: Values, latitude: float | None = None) -> Climate:
    """The Climate of what FORM read. Raises BadValue unless every list has twelve."""
    if len(v.air) != 12 or (v.has("soil") and len(v.soil) != 12):
        raise BadValue("air", "Give all twelve months, January first.")
    air = tuple(nominal(t) for t in v.air)
    soil = tuple(nominal(t) for t in v.soil) if v.has("soil") else air
    return Climate(air, soil, v.grass, latitude is not None and latitude < 0)


def monthly_means(log: Iterable[tuple[date, float]]) -> Mapping[int, float]:
    """Mean of each month that has readings, from a sward's own log of (day, temperature [°C])."""
    found: dict[int, list[float]] = {}
    for day, temperature in log:
        found.setdefault(day.month, []).append(temperature)
    return {month: sum(values) / len(values) for month, values in sorted(found.items())}


def with_log(climate: Climate, air: Mapping[int, float], soil: Mapping[int, float] | None = None) -> Climate:
    """The climate with the means that a log knows in place of those typed in. A month whose soil the log
    doesn't know, and which followed the air, goes on following it."""
    followed = climate.soil == climate.air
    new_air = _replaced(climate.air, air)
    new_soil = _replaced(new_air if followed else climate.soil, soil or {})
    return Climate(new_air, new_soil, climate.grass, climate.south)


def _replaced(values: Sequence[float], by_month: Mapping[int, float]) -> tuple[float, ...]:
    return tuple(by_month.get(number, value) for number, value in enumerate(values, start=1))


def strip(operation: str, climate: Climate) -> Strip | None:
    """The year strip of an operation; None for one that any month suits (no row in timing_windows.csv)."""
    rows = [r for r in tables.rows("timing_windows") if r["operation"] == operation]
    if not rows:
        return None
    months = tuple(_month(rows[0], climate, number) for number in range(1, 13))
    return Strip(operation, months, tables.source_of(rows[0]))


def strips(climate: Climate) -> tuple[Strip, ...]:
    """The strips of all operations that have a window."""
    found = (strip(r["operation"], climate) for r in tables.rows("timing_windows"))
    return tuple(s for s in found if s)


def _month(row: Mapping[str, str], climate: Climate, number: int) -> Month:
    air, soil = climate.air[number - 1], climate.soil[number - 1]
    growth = climate.growth(number)
    value = soil if row["measure"] == "soil" else growth
    shown = f"soil {_degrees(soil)}" if row["measure"] == "soil" else f"growth {plain_number(growth, 2)} of 1"
    state = _by(value, float(row["good_from"]), float(row["possible_from"]))
    reason = f"{shown}: {row['why']}"
    if row["too_hot"] and air > float(row["too_hot"]):
        state, reason = POOR, f"{_degrees(air)} in the air is too hot for it"
    calendar = _by_months(row, (number + 5) % 12 + 1 if climate.south else number)
    if _RANK[calendar] < _RANK[state]:
        state, reason = calendar, f"{shown}, but not the season: {row['why']}"
    return Month(number, state, f"{reason[:1].upper()}{reason[1:]}.")


def _by(value: float, good: float, possible: float) -> str:
    return GOOD if value >= good else POSSIBLE if value >= possible else POOR


def _by_months(row: Mapping[str, str], number: int) -> str:
    if not row["good_months"]:
        return GOOD
    if str(number) in row["good_months"].split(";"):
        return GOOD
    return POSSIBLE if str(number) in row["possible_months"].split(";") else POOR


def _degrees(value: float) -> str:
    return text_of(quantity(value, "degC"))
