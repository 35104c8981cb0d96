"""Levels on a grid: where the green is high and low against a target, and what fill or cut that means.

Depth = target − height; positive is a hollow to fill. What goes in and what comes off are told apart in one
of two ways, which do not agree (only their difference does): by node or by cell; the working says which.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values
from logic.figure import Figure, Source, figure, step
from logic.measure.asking import length, setting, usual
from logic.units import nominal, plus_minus, quantity, spread

NODE = Source(
    "Node method: each depth × the area it serves. Calculation of cut and fill using grid method, 2014"
)
CELL = Source(
    "Cell method: area × mean of the corner depths. Budapest University of Technology, lecture notes 13.1"
)

FORM = Form(
    (
        length(
            "across", "Spacing along a row", "grid_spacing", help="From one reading to the next. 1 to 2 m."
        ),
        length("along", "Spacing between rows", "grid_spacing", help="From one row to the next."),
        Field("columns", "Readings in a row", least=2, most=60, whole=True, usual=(2, 30)),
        Field(
            "heights",
            "Readings",
            "mm",
            entry="Reading",
            kind="list",
            least=-10000,
            most=10000,
            usual=usual("height"),
            fewest=4,
            most_entries=2000,
            help="Row by row, from the same side each time.",
        ),
        Field(
            "reading",
            "What is read",
            kind="choice",
            default="height",
            choices=(("height", "Height: more is higher"), ("down", "Down from a string: more is lower")),
        ),
        Field(
            "target",
            "Wanted level",
            "mm",
            required=False,
            least=-10000,
            most=10000,
            help="In the same terms as the readings. Leave out for their mean: as much comes off as goes in.",
        ),
        Field(
            "split",
            "Fill and cut by",
            kind="choice",
            default="node",
            choices=(
                ("node", "Reading (each for the ground about it)"),
                ("cell", "Square (mean of its corners)"),
            ),
        ),
    )
)


@dataclass(frozen=True)
class Spot:
    """A reading on the map: where [m], and how far above (+) or below (−) the target [mm, ± carried]."""

    x: float
    y: float
    above: Any


@dataclass(frozen=True)
class HighLow:
    """The map of high and low spots: rows of Spots, rows `along` apart, spots `across` apart [m]."""

    across: float
    along: float
    rows: tuple[tuple[Spot, ...], ...]

    @property
    def spots(self) -> tuple[Spot, ...]:
        """All spots, row by row."""
        return tuple(spot for row in self.rows for spot in row)

    @property
    def highest(self) -> Spot:
        """The highest spot."""
        return max(self.spots, key=lambda s: nominal(s.above))

    @property
    def lowest(self) -> Spot:
        """The lowest spot."""
        return min(self.spots, key=lambda s: nominal(s.above))


@dataclass(frozen=True)
class Levels:
    """Levels worked out: fill, cut and net volumes [m³], unevenness [mm], and the map for drawing."""

    hollow_volume: Figure
    high_volume: Figure
    net_volume: Figure
    mean_level: Figure
    unevenness: Figure
    map: HighLow

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All figures, the ones used most first."""
        return (self.hollow_volume, self.high_volume, self.net_volume, self.mean_level, self.unevenness)


def levels_of(v: Values) -> Levels:
    """The Levels of what FORM read. Raises BadValue when the readings fill no grid."""
    count, columns = len(v.heights), int(v.columns)
    if count % columns or count < 2 * columns:
        raise BadValue(
            "heights", f"{count} readings do not fill rows of {columns}; at least two full rows are needed."
        )
    margin = setting("level_reading")
    sign = 1 if v.reading == "height" else -1
    read = [h if spread(h) else plus_minus(nominal(h), margin, "level") for h in v.heights]
    grid = [[sign * h for h in read[i : i + columns]] for i in range(0, count, columns)]
    target = None if v.target is None else sign * nominal(v.target)
    return grid_levels(grid, v.across, v.along, target, v.split)


def grid_levels(
    heights: Sequence[Sequence[Any]],
    across: Any,
    along: Any,
    target: float | None = None,
    split: str = "node",
) -> Levels:
    """Levels from a full grid of heights [mm, more is higher], spacings [m] and the wanted level [mm].

    target None: the area-weighted mean. split: "node" or "cell". ± from readings and spacings, and from the
    split: half the difference between the two ways.
    Source: node and cell methods as NODE, CELL.
    """
    rows, columns = len(heights), len(heights[0])
    weights = [[_corners(i, rows) * _corners(j, columns) / 4 for j in range(columns)] for i in range(rows)]
    cell, cells = across * along, (rows - 1) * (columns - 1)
    mean = (
        sum(w * h for ws, hs in zip(weights, heights, strict=True) for w, h in zip(ws, hs, strict=True))
        / cells
    )
    wanted = mean if target is None else target
    depth = [[wanted - h for h in row] for row in heights]
    by_node = _split(
        [(w, d) for ws, ds in zip(weights, depth, strict=True) for w, d in zip(ws, ds, strict=True)]
    )
    by_cell = _split(
        [
            (1.0, (depth[i][j] + depth[i][j + 1] + depth[i + 1][j] + depth[i + 1][j + 1]) / 4)
            for i in range(rows - 1)
            for j in range(columns - 1)
        ]
    )
    chosen, other = (by_node, by_cell) if split == "node" else (by_cell, by_node)
    unsure = plus_minus(0.0, abs(nominal(chosen[0]) - nominal(other[0])) / 2 * nominal(cell) / 1000, "shape")
    fill, cut = (cell * part / 1000 + unsure for part in chosen)
    net = cell * (chosen[0] - chosen[1]) / 1000
    source, way = (
        (NODE, "each reading for the ground about it") if split == "node" else (CELL, "square by square")
    )
    spots = tuple(
        tuple(Spot(j * nominal(across), i * nominal(along), -d) for j, d in enumerate(row))
        for i, row in enumerate(depth)
    )
    flat = [nominal(d) for row in depth for d in row]
    middle = sum(flat) / len(flat)
    uneven = (sum((d - middle) ** 2 for d in flat) / (len(flat) - 1)) ** 0.5
    laid = step("{n} squares of {c} each", n=quantity(cells, ""), c=quantity(cell, "m^2"))
    split_note = step(
        f"fill and cut told apart {way}; the other way gives {{o}} of fill", o=_m3(cell * other[0] / 1000)
    )
    return Levels(
        figure(
            "hollow_volume", "Fill for the hollows", fill, "m^3", laid, split_note, source=source, order=True
        ),
        figure("high_volume", "To come off the high spots", cut, "m^3", laid, split_note, source=source),
        figure(
            "net_volume",
            "Net fill",
            net,
            "m^3",
            step("fill {f} − cut {c} = {n}", f=_m3(fill), c=_m3(cut), n=_m3(net)),
            source=source,
        ),
        figure(
            "mean_level",
            "Mean level",
            mean,
            "mm",
            step("mean of the readings, each for the ground it serves = {m}", m=quantity(mean, "mm")),
        ),
        figure(
            "unevenness",
            "Unevenness",
            uneven,
            "mm",
            step("standard deviation of the readings = {s}", s=quantity(uneven, "mm")),
        ),
        HighLow(nominal(across), nominal(along), spots),
    )


def layer_volume(area: Any, depth: Any) -> Any:
    """Volume [m³] of an even layer: area [m²] × depth [mm] ÷ 1000 (definition)."""
    return area * depth / 1000


def _corners(index: int, count: int) -> int:
    return 1 if index in (0, count - 1) else 2


def _split(weighed: Sequence[tuple[float, Any]]) -> tuple[Any, Any]:
    """(what goes in, what comes off), both positive, in cells × mm."""
    fill = sum((w * d for w, d in weighed if nominal(d) > 0), 0.0)
    cut = sum((-w * d for w, d in weighed if nominal(d) < 0), 0.0)
    return fill, cut


def _m3(value: Any) -> Any:
    return quantity(value, "m^3")
