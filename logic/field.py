"""A Field says what a form asks for; a Form reads what was typed into values that a calculation can use.

The form on screen, the job file's schema, the command line and the docs are all drawn from these
declarations. Text typed by a person is never changed or thrown away: reading it gives values,
one sentence for each bad field, and warnings for unusual ones.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from dataclasses import field as dc_field
from typing import Any, Protocol

import pint

from logic import tables
from logic.bearing import bearing_of
from logic.errors import BadValue
from logic.figure import Source
from logic.units import nominal, plus_minus, quantity, read_written, text_of, unit_of

PACE_WORDS = ("pace", "paces", "step", "steps")


class PaceLike(Protocol):
    """What reads "27 paces": the walker's pace with its ±."""

    def length(self, count: float) -> Any:
        """`count` paces in metres, with ±."""


@dataclass(frozen=True)
class Field:
    """One thing that a form asks for.

    key: its name in the job file. label: for people. unit: what a bare number means, and the unit of the
    value read. kind: "number", "list" (of numbers), "choice", "rows" (a list of small forms), "bearing"
    (degrees from north; "N26 10E" too), "text", or "outline" (a whole outline inside another).
    fewest, most_entries: how many entries a list or rows may have. entry: what one is called ("Offset"),
    or each ("Along, Across").
    default: job-file text, "" for none. above / least / most: what is possible (above is exclusive).
    usual: outside it one is warned. paces: may be given in paces. measured: a length taken on the ground,
    so it carries the ± of the tape unless it states its own.
    """

    key: str
    label: str
    unit: str = ""
    kind: str = "number"
    default: str = ""
    above: float | None = None
    least: float | None = None
    most: float | None = None
    usual: tuple[float, float] | None = None
    choices: tuple[tuple[str, str], ...] = ()
    row: tuple[Field, ...] = ()
    fewest: int = 1
    most_entries: int = 400
    entry: str = ""
    whole: bool = False
    required: bool = True
    paces: bool = False
    measured: bool = False
    help: str = ""
    source: Source | None = None

    def name(self) -> str:
        """The label as it stands in the middle of a sentence."""
        return self.label[:1].lower() + self.label[1:] if self.label[1:2].islower() else self.label

    def entry_name(self, place: int) -> str:
        """What the entry at `place` (from 1) of a list or rows is called: "Offset 3"."""
        names = self.entry.split(", ")
        if 1 < len(names) >= place:
            return names[place - 1]
        return f"{self.entry or self.label} {place}"


@dataclass(frozen=True)
class Way:
    """One of several sets of fields that give the same thing ("by diameter", "by circumference")."""

    key: str
    label: str
    fields: tuple[str, ...]


class Values(Mapping[str, Any]):
    """What was read: numbers (± allowed) in each field's unit. `v.rate` and `v["rate"]` are the same."""

    def __init__(self, **values: Any) -> None:
        self._values = values

    def __getitem__(self, key: str) -> Any:
        return self._values[key]

    def __getattr__(self, key: str) -> Any:
        try:
            return self._values[key]
        except KeyError:
            raise AttributeError(key) from None

    def __iter__(self) -> Any:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)

    def has(self, key: str) -> bool:
        """True when the field was filled in."""
        return self._values.get(key) is not None


@dataclass(frozen=True)
class Reading:
    """What a form made of the text: values (None while something is wrong), and sentences by field key."""

    values: Values | None
    way: str = ""
    problems: Mapping[str, str] = dc_field(default_factory=dict)
    warnings: Mapping[str, str] = dc_field(default_factory=dict)


@dataclass(frozen=True)
class Form:
    """Fields, and the ways of choosing among them (none when every field belongs)."""

    fields: tuple[Field, ...]
    ways: tuple[Way, ...] = ()

    def field(self, key: str) -> Field:
        """The field named `key`. Raises KeyError."""
        for item in self.fields:
            if item.key == key:
                return item
        raise KeyError(key)

    def keys(self) -> tuple[str, ...]:
        """All field keys in order."""
        return tuple(f.key for f in self.fields)

    def way(self, given: Mapping[str, Any]) -> str:
        """The way that `given` (a job-file mapping) takes: the named one, else the one best filled in, else
        the first."""
        if not self.ways:
            return ""
        named = given.get("way")
        if any(way.key == named for way in self.ways):
            return str(named)

        def filled(way: Way) -> tuple[int, int]:
            have = sum(1 for key in way.fields if not is_empty(given.get(key)))
            return (have, -sum(1 for key in way.fields if is_empty(given.get(key))))

        best = max(self.ways, key=filled)
        return best.key if filled(best)[0] else self.ways[0].key

    def asked(self, way: str) -> tuple[Field, ...]:
        """The fields that belong to `way`: those in it, and those in no way at all."""
        if not self.ways:
            return self.fields
        chosen = next(w for w in self.ways if w.key == way)
        others = {key for w in self.ways for key in w.fields} - set(chosen.fields)
        return tuple(f for f in self.fields if f.key not in others)

    def read(self, given: Mapping[str, Any], pace: PaceLike | None = None) -> Reading:
        """Read job-file text into values.

        given: field key → text, number or list. pace: reads "N paces". Returns a Reading; never raises for
        what a person typed.
        """
        way = self.way(given)
        values: dict[str, Any] = {f.key: None for f in self.fields}
        problems: dict[str, str] = {}
        warnings: dict[str, str] = {}
        for item in self.asked(way):
            try:
                values[item.key], warning = _read_field(item, given.get(item.key), pace)
                if warning:
                    warnings[item.key] = warning
            except BadValue as bad:
                problems[item.key] = bad.sentence
        return Reading(None if problems else Values(**values), way, problems, warnings)


def is_empty(given: Any) -> bool:
    """True when nothing has been filled in (a bare "paces" is nothing yet)."""
    if isinstance(given, str):
        return given.strip() in ("", *PACE_WORDS)
    return given is None or given == []


def _read_field(item: Field, given: Any, pace: PaceLike | None) -> tuple[Any, str]:
    if is_empty(given):
        given = item.default
    if is_empty(given):
        if item.required:
            raise BadValue(item.key, f"Fill in the {item.name()}.")
        return None, ""
    return _READERS[item.kind](item, given, pace)


def _read_number(item: Field, given: Any, pace: PaceLike | None) -> tuple[Any, str]:
    if isinstance(given, bool) or not isinstance(given, str | int | float):
        raise BadValue(item.key, f"The {item.name()} must be a number.")
    written = read_written(given if isinstance(given, str) else repr(given), item.unit)
    if written.unit.lower() in PACE_WORDS:
        value = _paced(item, written.value, pace)
    else:
        value = _converted(item, written.value, written.unit, written.plus_minus)
    _refuse_impossible(item, value)
    if item.whole:  # a count has no ±
        value = nominal(value)
    return value, _unusual(item, nominal(value))


def _paced(item: Field, count: float, pace: PaceLike | None) -> Any:
    if not item.paces:
        raise BadValue(item.key, f"The {item.name()} can't be given in paces.")
    if pace is None:
        raise BadValue(item.key, "Measure your pace first: walk a taped course and count.")
    if count < 0:
        raise BadValue(item.key, f"The {item.name()} can't be negative.")
    return pace.length(count)


def _converted(item: Field, value: float, unit: str, margin: float | None) -> Any:
    try:
        value_in = quantity(value, unit).to(unit_of(item.unit)).magnitude
        if margin is not None:
            margin = abs(quantity(value + margin, unit).to(unit_of(item.unit)).magnitude - value_in)
    except pint.DimensionalityError:
        wanted = item.unit or "a plain number"
        raise BadValue(item.key, f"The {item.name()} can't be in {unit}; give it in {wanted}.") from None
    except (OverflowError, pint.PintError):
        raise BadValue(item.key, f"The {item.name()} is not a number that can be used.") from None
    if not math.isfinite(value_in):
        raise BadValue(item.key, f"The {item.name()} is not a number that can be used.")
    if margin is not None:
        return plus_minus(value_in, margin, "stated")
    if item.measured and item.unit == "m" and value_in > 0:
        return plus_minus(value_in, _tape_margin(), "tape")
    return value_in


def _tape_margin() -> float:
    return float(tables.row("measuring", key="tape_edge")["value"])


def _refuse_impossible(item: Field, value: Any) -> None:
    number = nominal(value)
    vanishing = item.above == 0 and 0 < number < 1e-9
    if vanishing or abs(number) > 1e12:  # so far off that no sum with it means anything
        raise BadValue(item.key, f"The {item.name()} is not a number that can be used.")
    if item.above is not None and number <= item.above:
        bound = "0" if item.above == 0 else text_of(quantity(item.above, item.unit))
        raise BadValue(item.key, f"The {item.name()} must be more than {bound}.")
    if item.least is not None and number < item.least:
        if item.least == 0:
            raise BadValue(item.key, f"The {item.name()} can't be negative.")
        raise BadValue(item.key, f"The {item.name()} can't be less than {_bound(item, item.least)}.")
    if item.most is not None and number > item.most:
        raise BadValue(item.key, f"The {item.name()} can't be more than {_bound(item, item.most)}.")
    if item.whole and number != round(number):
        raise BadValue(item.key, f"The {item.name()} must be a whole number.")


def _bound(item: Field, value: float) -> str:
    return text_of(quantity(value, item.unit))


def _unusual(item: Field, number: float) -> str:
    if item.usual is None or item.usual[0] <= number <= item.usual[1]:
        return ""
    low, high = (_bound(item, edge) for edge in item.usual)
    return f"Unusual {item.name()}: mostly {low} to {high}. Check it, then carry on if it is right."


def _read_list(item: Field, given: Any, pace: PaceLike | None) -> tuple[Any, str]:
    entries = _entries(item, given)
    _refuse_count(item, len(entries), "values")
    values, warning = [], ""
    for place, entry in enumerate(entries, start=1):
        try:
            value, unusual = _read_number(item, entry, pace)
        except BadValue as bad:
            raise BadValue(item.key, f"Number {place} of the {item.name()}: {bad.sentence}") from None
        values.append(value)
        warning = warning or unusual
    return tuple(values), warning


def _entries(item: Field, given: Any) -> list[Any]:
    """A list as the job file gives it, or text with one value a line or after a semicolon."""
    if isinstance(given, str):
        return [part for part in given.replace("\n", ";").split(";") if part.strip()]
    if isinstance(given, list | tuple):
        return list(given)
    raise BadValue(item.key, f"The {item.name()} must be a list.")


def _read_choice(item: Field, given: Any, pace: PaceLike | None) -> tuple[Any, str]:
    if not isinstance(given, str) or given not in {key for key, _ in item.choices}:
        known = ", ".join(key for key, _ in item.choices)
        raise BadValue(item.key, f"The {item.name()} must be one of: {known}.")
    return given, ""


def _refuse_count(item: Field, count: int, what: str) -> None:
    if count < item.fewest:
        raise BadValue(item.key, f"Give at least {item.fewest} {what} for the {item.name()}.")
    if count > item.most_entries:
        raise BadValue(item.key, f"The {item.name()} can't have more than {item.most_entries} {what}.")


def _read_rows(item: Field, given: Any, pace: PaceLike | None) -> tuple[Any, str]:
    if not isinstance(given, list | tuple):
        raise BadValue(item.key, f"The {item.name()} must be a list of rows.")
    _refuse_count(item, len(given), "rows")
    form = Form(item.row)
    rows: list[Values] = []
    warning = ""
    for place, entry in enumerate(given, start=1):
        if isinstance(entry, Mapping):
            mapping: Mapping[str, Any] = entry
        elif isinstance(entry, list | tuple) and len(entry) == len(item.row):
            mapping = dict(zip(form.keys(), entry, strict=True))
        else:
            raise BadValue(item.key, f"Row {place} of the {item.name()} needs: {', '.join(form.keys())}.")
        reading = form.read(mapping, pace)
        if reading.values is None:
            sentence = next(iter(reading.problems.values()))
            raise BadValue(item.key, f"Row {place} of the {item.name()}: {sentence}")
        unusual = next(iter(reading.warnings.values()), "")
        warning = warning or (f"Row {place}: {unusual}" if unusual else "")
        rows.append(reading.values)
    return tuple(rows), warning


def _read_bearing(item: Field, given: Any, pace: PaceLike | None) -> tuple[Any, str]:
    return bearing_of(given, item.key), ""


def _read_text(item: Field, given: Any, pace: PaceLike | None) -> tuple[Any, str]:
    if not isinstance(given, str):
        raise BadValue(item.key, f"The {item.name()} must be text.")
    return given, ""


def _read_outline(item: Field, given: Any, pace: PaceLike | None) -> tuple[Any, str]:
    if not isinstance(given, Mapping):
        raise BadValue(item.key, f"The {item.name()} must say how it was measured.")
    return given, ""


_READERS: dict[str, Callable[[Field, Any, PaceLike | None], tuple[Any, str]]] = {
    "number": _read_number,
    "list": _read_list,
    "choice": _read_choice,
    "rows": _read_rows,
    "bearing": _read_bearing,
    "text": _read_text,
    "outline": _read_outline,
}


def from_table(table: str, form: str, key: str, label: str, **more: Any) -> Field:
    """A number Field whose unit, default and ranges stand in assets/tables/`table`.csv, row (form, key).

    Columns: form, field, unit, default, above, least, most, usual_low, usual_high, source, trust.
    """
    record = tables.row(table, form=form, field=key)

    def edge(column: str) -> float | None:
        return float(record[column]) if record[column] else None

    low, high = edge("usual_low"), edge("usual_high")
    return Field(
        key=key,
        label=label,
        unit=record["unit"],
        default=record["default"],
        above=edge("above"),
        least=edge("least"),
        most=edge("most"),
        usual=(low, high) if low is not None and high is not None else None,
        source=tables.source_of(record),
        **more,
    )
