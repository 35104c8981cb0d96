"""A Figure: a computed value that can show its working and say where the method comes from.

The screen, the PDF, the job file and the tests all read the same Figure.
"""

from __future__ import annotations

import string
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from statistics import NormalDist
from typing import Any

from logic.units import nominal, quantity, spread, text_of

#: How far a value can be trusted, best first.
TRUST = ("published", "second-hand", "derived", "practice", "memory", "setting")
_TRUST_WORDS = {
    "published": "",
    "second-hand": "quoted second-hand",
    "derived": "worked out from the definition",
    "practice": "common practice, no source",
    "memory": "from memory, unverified",
    "setting": "your own setting",
}


@dataclass(frozen=True)
class Source:
    """Where a method or a value comes from, and how far to trust it (one of TRUST)."""

    text: str
    trust: str = "published"

    def __str__(self) -> str:
        words = _TRUST_WORDS[self.trust]
        if not self.text or self.text == words:
            return words
        return f"{self.text} ({words})" if words else self.text


DEFINITION = Source("", "derived")
PRACTICE = Source("", "practice")


@dataclass(frozen=True)
class Step:
    """One line of working. `template` names its quantities in braces: "{area} × {rate} = {mass}".

    The quantities are kept, not their text, so that the same line can be read in any system of units.
    """

    template: str
    values: Mapping[str, Any] = field(default_factory=dict)

    def text(self, system: str = "metric") -> str:
        """The line in words and numbers."""
        return _Filler(system).vformat(self.template, (), self.values)


class _Filler(string.Formatter):
    """Fills a template with quantities and plain values; never looks into attributes or indexes."""

    def __init__(self, system: str) -> None:
        self.system = system

    def get_field(self, field_name: str, args: Any, kwargs: Mapping[str, Any]) -> Any:
        return kwargs[field_name], field_name

    def format_field(self, value: Any, format_spec: str) -> str:
        if hasattr(value, "magnitude"):
            return text_of(value, self.system, figures=int(format_spec or 4))
        if isinstance(value, str):
            return value
        return text_of(quantity(value, ""), self.system, figures=int(format_spec or 4))


def step(template: str, **values: Any) -> Step:
    """A line of working; each value a quantity, a number (± allowed) or text."""
    return Step(template, values)


@dataclass(frozen=True, eq=False)
class Figure:
    """A named, computed value. Two are the same when they are one: working it out again makes another.

    key: its name in the job file; name: its name for people; value: a pint quantity whose magnitude may
    carry ± (one standard uncertainty); unit: the unit of `value` as the job file writes it; steps: the
    lines of the calculation; source: where the method comes from; order: True for an amount that is
    bought, weighed or fetched and is therefore rounded up at the confidence of the settings;
    headline: True for the few that are shown large.
    """

    key: str
    name: str
    value: Any
    unit: str
    steps: tuple[Step, ...]
    source: Source
    order: bool = False
    headline: bool = False

    @property
    def nominal(self) -> float:
        """The value in `unit`, without its ±."""
        return nominal(self.value.magnitude)

    @property
    def plus_minus(self) -> float:
        """One standard uncertainty in `unit`."""
        return spread(self.value.magnitude)

    def text(self, system: str = "metric", figures: int = 3) -> str:
        """The value for people, without ±."""
        return text_of(self.value, system, figures)

    def text_with_margin(self, system: str = "metric") -> str:
        """The value for people with its ± where there is one."""
        return text_of(self.value, system, plus_minus=True)

    def at_least(self, confidence: float) -> Any:
        """The quantity that is enough with probability `confidence` (0.5 to 0.999), errors normal."""
        return quantity(enough(self.value.magnitude, confidence), self.unit)

    def working(self, system: str = "metric") -> tuple[str, ...]:
        """The lines of the calculation as text."""
        return tuple(line.text(system) for line in self.steps)

    def as_json(self) -> dict[str, Any]:
        """The figure as `swardwright reckon` prints it."""
        return {
            "key": self.key,
            "name": self.name,
            "value": self.nominal,
            "plus_minus": self.plus_minus,
            "unit": self.unit,
            "steps": list(self.working()),
            "source": str(self.source),
        }


def figure(
    key: str,
    name: str,
    value: Any,
    unit: str,
    *steps: Step,
    source: Source = DEFINITION,
    order: bool = False,
    headline: bool = False,
) -> Figure:
    """A Figure from a number (± allowed) in `unit`."""
    return Figure(key, name, quantity(value, unit), unit, steps, source, order, headline)


def renamed(old: Figure, key: str, name: str) -> Figure:
    """The same figure under another key and name."""
    return replace(old, key=key, name=name)


def enough(value: Any, confidence: float) -> float:
    """The amount that covers `value` (± allowed) with probability `confidence`: value + z·u.

    Source: upper limit of a one-sided interval of a normal error (any statistics text).
    """
    return nominal(value) + NormalDist().inv_cdf(confidence) * spread(value)
