"""What an operation of the programme declares, what it is given, and what it gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from logic import tables
from logic.field import Form, Values
from logic.figure import Figure, Source


@dataclass(frozen=True)
class Ground:
    """What is worked on. area [m²] and perimeter [m] carry ±; longest_run [m]; polygon, holes [m].

    pieces: further separate pieces of ground beside the polygon [m].
    confidence: how sure an amount to buy or weigh must be to last (0.5 to 0.999).
    earlier: the works planned before this one, so that a dressing knows of the holes it has to fill.
    """

    area: Any
    perimeter: Any = 0.0
    longest_run: float = 0.0
    polygon: tuple[tuple[float, float], ...] = ()
    holes: tuple[tuple[tuple[float, float], ...], ...] = ()
    pieces: tuple[tuple[tuple[float, float], ...], ...] = ()
    confidence: float = 0.9
    earlier: tuple[Worked, ...] = ()
    asked: dict[tuple[str, ...], tuple[Figure, ...]] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )

    def before(self, *keys: str) -> Sequence[Figure]:
        """Figures with one of these keys of all earlier works, in order.

        It is noted in `asked` what came: while that stays the same, so does what was worked out of it.
        """
        found = tuple(f for done in self.earlier for f in done.figures if f.key in keys)
        self.asked[keys] = found
        return found


@dataclass(frozen=True)
class Work:
    """What an operation works out: figures, warnings (sentences), and keys of cautions.csv beyond its own."""

    figures: tuple[Figure, ...]
    warnings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Operation:
    """One operation. work: values and ground → Work; cautions: keys of assets/tables/cautions.csv that
    always apply; group: "open up", "seed and sand", "feed and water", "check"; order: place in a day."""

    key: str
    name: str
    form: Form
    work: Callable[[Values, Ground], Work]
    help: str = ""
    cautions: tuple[str, ...] = ()
    group: str = "seed and sand"
    order: int = 50


@dataclass(frozen=True)
class Caution:
    """A warning of harm, in words for the person doing the work."""

    key: str
    sentence: str
    source: Source


@dataclass(frozen=True)
class Worked:
    """An operation worked out: what screen, paper and job file show."""

    operation: Operation
    values: Values
    figures: tuple[Figure, ...]
    warnings: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    field_warnings: Mapping[str, str] = field(default_factory=dict)

    def figure(self, key: str) -> Figure:
        """The figure named `key`. Raises KeyError."""
        for one in self.figures:
            if one.key == key:
                return one
        raise KeyError(key)


def caution(key: str) -> Caution:
    """The caution named `key` in assets/tables/cautions.csv. Raises LookupError."""
    record = tables.row("cautions", key=key)
    return Caution(key, record["sentence"], tables.source_of(record))
