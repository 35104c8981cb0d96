"""Compound ground: parts added and taken off, each measured in its own way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from logic.errors import BadValue, ImpossibleShape, SwardError
from logic.field import Field, Form, Values
from logic.figure import Source, Step, step
from logic.measure.asking import length, m2
from logic.measure.geometry import Point, Polygon, perimeter, shoelace
from logic.measure.outline import Context, Dimension, Method, Outline, Trace
from logic.measure.overlay import Laid, Part, lay
from logic.units import nominal, text_of

SOURCE = Source(
    "Parts added and subtracted: OpenStax, Prealgebra 2e; Purdue University Turf Tips, 18 Apr 2014"
)
_APART = 1.0  # between parts drawn side by side [m]
_NOTED = 0.002  # share of the ground by which parts must overlap to be told: above what round edges leave


@dataclass(frozen=True)
class _Piece:
    added: bool
    name: str
    outline: Outline
    at: Point | None
    turn: float


def trace(v: Values, ctx: Context) -> Trace:
    """Area [m²]: the sum of the parts added less the sum of those taken off.

    ± shared between parts (one pace, one walker) is shared here too. Parts that all say where they lie are
    laid together: joins leave the perimeter, and overlaps are told.
    """
    pieces = [_piece(i, row, ctx) for i, row in enumerate(v.parts)]
    if not any(p.added for p in pieces):
        raise ImpossibleShape("At least one part must be added (+).", "parts")
    area = sum(p.outline.area.value.magnitude * (1 if p.added else -1) for p in pieces)
    if nominal(area) <= 0:
        raise ImpossibleShape("More ground is taken off than there is. Check the parts.", "parts")
    steps = (*_lines(pieces), step("area = {a}", a=m2(area)))
    placed = all(p.at is not None for p in pieces[1:])
    warnings = tuple(
        f"Part {i}: {said}" for i, p in enumerate(pieces, start=1) for said in p.outline.warnings
    )
    if placed:
        return _placed([replace(p, at=p.at or (0.0, 0.0)) for p in pieces], area, steps, warnings)
    return _side_by_side(pieces, area, steps, warnings)


def _piece(index: int, row: Values, ctx: Context) -> _Piece:
    try:
        outline = ctx.outline_of(row.outline, ctx.pace)
    except SwardError as bad:
        raise BadValue("parts", f"Part {index + 1}: {bad.sentence}") from None
    at = None if row.at is None else (nominal(row.at[0]), nominal(row.at[1]))
    name = row.part_name or f"part {index + 1} ({outline.method.replace('_', ' ')})"
    return _Piece(row.sign == "+", name, outline, at, nominal(row.turn))


def _lines(pieces: Sequence[_Piece]) -> list[Step]:
    # The name is text from a person: it goes in as a value, never into the template.
    return [
        step(f"{'plus' if p.added else 'less'} {{name}}: {{a}}", name=p.name, a=p.outline.area.value)
        for p in pieces
    ]


def _placed(pieces: Sequence[_Piece], area: Any, steps: tuple[Step, ...], warnings: tuple[str, ...]) -> Trace:
    parts = [Part(*_moved(p), p.added) for p in pieces]
    laid = lay(parts)
    if not laid.pieces:
        raise ImpossibleShape("Where they lie, what is taken off covers all that is added.", "parts")
    drawn = sum((_area(part) if part.added else -_area(part)) for part in parts)
    added = sum(p.outline.perimeter.value.magnitude for p in pieces if p.added)
    outer = sum(perimeter(ring) for ring in laid.pieces)
    edge = outer + sum(perimeter(ring) for ring in laid.holes)
    share = added / nominal(added)  # 1, carrying the ± of the parts' own edges
    return Trace(
        polygon=laid.pieces[0],
        pieces=laid.pieces[1:],
        holes=tuple(hole[::-1] for hole in laid.holes),
        area=area,
        perimeter=outer * share,
        edge=edge * share,
        steps=steps,
        source=SOURCE,
        dimensions=_dimensions(pieces),
        warnings=(*warnings, *_overlap(laid, drawn)),
        perimeter_steps=(step("parts laid where they lie; edges where they join are left out"),),
    )


def _overlap(laid: Laid, drawn: float) -> tuple[str, ...]:
    gap = abs(drawn - laid.area)
    if gap <= max(_NOTED * laid.area, 0.01):
        return ()
    sentence = (
        f"Where they lie, parts overlap or a part taken off reaches outside, by "
        f"{text_of(m2(gap), figures=2)}. The area counts each part in full, so check where they lie."
    )
    return (sentence,)


def _side_by_side(
    pieces: Sequence[_Piece], area: Any, steps: tuple[Step, ...], warnings: tuple[str, ...]
) -> Trace:
    """Parts that do not say where they lie: those added are drawn in a row."""
    spots: list[_Piece] = []
    right = 0.0
    for p in (p for p in pieces if p.added):
        ring = p.outline.polygon
        left = min(x for x, _ in ring)
        spots.append(replace(p, at=(right - left, -min(y for _, y in ring)), turn=0.0))
        right += max(x for x, _ in ring) - left + _APART
    outlines = [_moved(p) for p in spots]
    added = sum(p.outline.perimeter.value.magnitude for p in pieces if p.added)
    off = sum((p.outline.perimeter.value.magnitude for p in pieces if not p.added), 0.0)
    return Trace(
        polygon=outlines[0][0],
        pieces=tuple(ring for ring, _ in outlines[1:]),
        holes=tuple(hole for _, holes in outlines for hole in holes),
        area=area,
        perimeter=added,
        edge=added + off,
        steps=steps,
        source=SOURCE,
        dimensions=_dimensions(spots),
        warnings=warnings,
        perimeter_steps=(step("it is not said where the parts lie: drawn in a row, joins counted twice"),),
    )


def _moved(p: _Piece) -> tuple[Polygon, tuple[Polygon, ...]]:
    holes = tuple(tuple(_place(q, p) for q in hole) for hole in p.outline.holes)
    return tuple(_place(q, p) for q in p.outline.polygon), holes


def _place(point: Point, p: _Piece) -> Point:
    x, y = p.at or (0.0, 0.0)
    c, s = math.cos(math.radians(p.turn)), math.sin(math.radians(p.turn))
    return x + point[0] * c - point[1] * s, y + point[0] * s + point[1] * c


def _area(part: Part) -> float:
    return float(abs(shoelace(part.polygon)) - sum(abs(shoelace(hole)) for hole in part.holes))


def _dimensions(pieces: Sequence[_Piece]) -> tuple[Dimension, ...]:
    return tuple(
        Dimension(_place(d.start, p), _place(d.end, p), d.value, f"parts.{i}.outline.{d.field}")
        for i, p in enumerate(pieces)
        for d in p.outline.dimensions
    )


METHOD = Method(
    key="compound",
    name="Several parts, added and taken off",
    form=Form(
        (
            Field(
                "parts",
                "Parts",
                entry="Part",
                kind="rows",
                fewest=1,
                most_entries=20,
                row=(
                    Field(
                        "sign",
                        "Add or take off",
                        kind="choice",
                        default="+",
                        choices=(("+", "Add"), ("-", "Take off (path, bunker, water, bed)")),
                    ),
                    Field("outline", "How it was measured", kind="outline"),
                    Field(
                        "part_name", "Name", kind="text", required=False, help="For the working: path, pond."
                    ),
                    length(
                        "at",
                        "Where it lies",
                        entry="Along, Across",
                        kind="list",
                        required=False,
                        above=None,
                        least=-1000,
                        usual=None,
                        fewest=2,
                        most_entries=2,
                        measured=False,
                        help="From the first part's own start (first corner, or middle if round) to this "
                        "part's: along, across. Leave out if it does not matter where.",
                    ),
                    Field(
                        "turn",
                        "Turned by",
                        "degree",
                        default="0",
                        least=-360,
                        most=360,
                        help="Anticlockwise, about its own start.",
                    ),
                ),
                help="Each part is measured in its own way.",
            ),
        )
    ),
    trace=trace,
    help="For ground that no one shape fits: a rectangle and a half circle, a lawn less its beds. Say where "
    "the parts lie and overlaps are found for you.",
    group="irregular",
    order=150,
)
