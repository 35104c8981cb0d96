"""What a kind of reading declares, where it is taken, and what is found."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from logic.field import Form, Values
from logic.figure import Figure, Source
from logic.measure.geometry import Point, Polygon


@dataclass(frozen=True)
class Spot:
    """Where and when a reading is taken.

    surface: "green" or "lawn", which some classes depend on. x, y: place on the sketch [m]. area [m², ±
    carried], perimeter [m] and polygon of the sward, once measured. latitude, longitude [degrees, north and
    east positive].
    """

    surface: str = "green"
    x: float | None = None
    y: float | None = None
    area: Any = None
    perimeter: Any = None
    polygon: Polygon = ()
    latitude: float | None = None
    longitude: float | None = None
    day: date | None = None


@dataclass(frozen=True)
class Label:
    """A class word for a figure ("restricting"), whose class it is, and the figure's key."""

    figure: str
    word: str
    source: Source


@dataclass(frozen=True)
class Layer:
    """A layer of a profile, for drawing: depths of its top and bottom below the surface [mm], and what it
    is."""

    top: float
    bottom: float
    name: str


@dataclass(frozen=True)
class Line:
    """A line to draw. on: "sketch" (points in metres), "depth" (x a value, y a depth in mm), "sky" (x degrees
    from north, y degrees above the horizon) or "clock" (x hours, y a value)."""

    name: str
    on: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Mark:
    """A point on the sketch [m] with what was found there."""

    x: float
    y: float
    value: float
    text: str


Drawing = Layer | Line | Mark


@dataclass(frozen=True)
class Finding:
    """What a reading says. figures; labels: class words; warnings: sentences; cautions: keys of cautions.csv;
    drawing: what to draw of it."""

    figures: tuple[Figure, ...]
    labels: tuple[Label, ...] = ()
    warnings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    drawing: tuple[Drawing, ...] = ()


@dataclass(frozen=True)
class Kind:
    """One kind of reading. read: values and spot → Finding; raises BadValue.

    help: how to take it; how_many: how many are enough; tells_not: what it doesn't tell. alike: fields that
    two readings must share to be compared (the method, the meter). group: "grass", "soil", "surface" or
    "place".
    """

    key: str
    name: str
    form: Form
    read: Callable[[Values, Spot], Finding]
    help: str
    how_many: str
    tells_not: str
    alike: tuple[str, ...] = ()
    group: str = "grass"
    order: int = 50


@dataclass(frozen=True)
class Taken:
    """A reading worked out: what screen, paper, trend and programme see."""

    kind: Kind
    values: Values
    finding: Finding
    field_warnings: Mapping[str, str] = field(default_factory=dict)

    @property
    def figures(self) -> tuple[Figure, ...]:
        """The figures found."""
        return self.finding.figures

    def figure(self, key: str) -> Figure:
        """The figure named `key`. Raises KeyError."""
        for one in self.figures:
            if one.key == key:
                return one
        raise KeyError(key)

    def has(self, key: str) -> bool:
        """True when a figure named `key` was found."""
        return any(one.key == key for one in self.figures)

    def as_json(self) -> dict[str, Any]:
        """The reading as `swardwright reckon` prints it: figures, classes and whose, warnings."""
        return {
            "kind": self.kind.key,
            "figures": [one.as_json() for one in self.figures],
            "classes": [
                {"figure": label.figure, "word": label.word, "source": str(label.source)}
                for label in self.finding.labels
            ],
            "warnings": [*self.field_warnings.values(), *self.finding.warnings],
        }

    def word(self, key: str) -> str:
        """The class word of the figure named `key`, "" for none."""
        return next((label.word for label in self.finding.labels if label.figure == key), "")
