"""Sand grading: sieve results against published limits, against the sand below, and over gravel."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from logic import tables
from logic.field import Field, Form, Values, Way, from_table
from logic.figure import DEFINITION, Figure, Source, figure, step
from logic.units import quantity, text_of
from logic.works import grading, layers
from logic.works.limits import limit, limit_source
from logic.works.operation import Ground, Operation, Work

READ_OFF = Source(
    "Filter evaluation technical manual, US Army Corps of Engineers: log size, straight percent"
)
SIZES = (10, 15, 50, 60, 85, 90)

_SIZE = from_table("works", "sand_grading", "size", "Sieve")
_BY_SHARE = (_SIZE, from_table("works", "sand_grading", "share", "Share"))
_BY_WEIGHT = (_SIZE, from_table("works", "sand_grading", "mass", "Weight held"))


def _sieves(key: str, label: str, row: tuple[Field, ...] = _BY_SHARE, **more: Any) -> Field:
    return Field(key, label, kind="rows", row=row, fewest=3, entry="Sieve", **more)


FORM = Form(
    fields=(
        _sieves("sieves", "Sieves of this sand", help="A size and a share for each sieve."),
        _sieves("weights", "Weights of this sand", _BY_WEIGHT, help="Your own sieving; the pan is size 0."),
        Field("given_as", "Shares are", kind="choice", choices=grading.KINDS, default="passing"),
        _sieves("profile", "Sieves of the sand below", required=False, help="Of the green as it is."),
        _sieves("gravel", "Sieves of the gravel under it", required=False, help="Where sand lies on gravel."),
    ),
    ways=(
        Way("shares", "By shares from a laboratory", ("sieves",)),
        Way("weights", "By weights of your own", ("weights",)),
    ),
)


def curve_of(v: Values, key: str) -> grading.Curve:
    """The grading curve in the rows field `key`, for the sums and for drawing. Raises BadValue."""
    if key == "weights":
        return grading.curve([(float(r.size), float(r.mass)) for r in v.weights], "weighed", key)
    return grading.curve([(float(r.size), float(r.share)) for r in v[key]], v.given_as, key)


def work(v: Values, ground: Ground) -> Work:
    """D-values, uniformity, fractions and verdicts. Raises BadValue when the rows are not one sieving."""
    sand = curve_of(v, "weights" if v.has("weights") else "sieves")
    sizes = {n: d for n in SIZES if (d := sand.size_at(n)) is not None}
    figures = [
        *(_d_figure(n, d, sand) for n, d in sizes.items()),
        *_ratios(sizes),
        *_fractions(sand),
        *layers.gravel_window(sizes),
    ]
    warnings = [*_unread(sand, sizes), *_outside(figures), *_verdicts(sand)]
    if v.has("profile"):
        warnings += layers.compared(sand, curve_of(v, "profile"))
    if v.has("gravel"):
        warnings += layers.on_gravel(sizes, curve_of(v, "gravel"))
    return Work(tuple(figures), tuple(warnings))


def _d_figure(percent: int, size: float, sand: grading.Curve) -> Figure:
    (s1, p1), (s2, p2) = next(
        (low, high)
        for low, high in pairwise(sand.points)
        if low[1] <= percent <= high[1] and high[1] > low[1]
    )
    line = step(
        "{p1} is finer than {s1}, {p2} finer than {s2}; between them, on a log scale, {n} is finer than {d}",
        p1=quantity(p1, "%"),
        s1=quantity(s1, "mm"),
        p2=quantity(p2, "%"),
        s2=quantity(s2, "mm"),
        n=quantity(percent, "%"),
        d=quantity(size, "mm"),
    )
    return figure(f"d{percent}", f"D{percent}", size, "mm", line, source=READ_OFF, headline=percent == 50)


def _ratios(sizes: dict[int, float]) -> Iterator[Figure]:
    for key, name, top in (("uniformity", "Uniformity", 60), ("gradation", "Gradation index", 90)):
        if top in sizes and 10 in sizes:
            ratio = sizes[top] / sizes[10]
            line = step(
                f"D{top} {{a}} ÷ D10 {{b}} = {{r}}",
                a=quantity(sizes[top], "mm"),
                b=quantity(sizes[10], "mm"),
                r=ratio,
            )
            yield figure(key, name, ratio, "", line, source=DEFINITION, headline=True)


def _edges(row: Any) -> tuple[float | None, float | None]:
    low, high = (float(row[side]) if row[side] else None for side in ("from", "to"))
    return low, high


def _size_words(low: float | None, high: float | None) -> str:
    words = [text_of(quantity(x, "mm")) if x is not None else "" for x in (low, high)]
    if not words[0]:
        return f"finer than {words[1]}"
    return f"{words[0]} to {words[1]}" if words[1] else f"coarser than {words[0]}"


def _fractions(sand: grading.Curve) -> Iterator[Figure]:
    for row in tables.rows("sand_grading"):
        low, high = _edges(row)
        share = sand.between(low, high)
        if share is None:
            continue
        asked = f"at least {row['least']} %" if row["least"] else f"at most {row['most']} %"
        line = step(
            "{words}: {s} of the sand; wanted {asked}",
            words=_size_words(low, high),
            s=quantity(share, "%"),
            asked=asked,
        )
        name = row["name"][:1].upper() + row["name"][1:]
        yield figure(f"share_{row['key']}", name, share, "%", line, source=tables.source_of(row))


def _verdicts(sand: grading.Curve) -> Iterator[str]:
    for row in tables.rows("sand_grading"):
        share = sand.between(*_edges(row))
        if share is None:
            continue
        shown = text_of(quantity(share, "%"))
        if row["least"] and share < float(row["least"]):
            yield f"{shown} {row['name']} is too little: the limits ask for at least {row['least']} %."
        if row["most"] and share > float(row["most"]) + 1e-9:
            yield f"{shown} {row['name']} is too much: the limits allow {row['most']} %."


def _unread(sand: grading.Curve, sizes: dict[int, float]) -> Iterator[str]:
    missing = [f"D{n}" for n in SIZES if n not in sizes]
    if missing:
        yield f"{', '.join(missing)} can't be read: no two sieves stand on both sides. Nothing is guessed."
    untested = [r["name"] for r in tables.rows("sand_grading") if sand.between(*_edges(r)) is None]
    if untested:
        yield f"Not tested, for want of sieves at their edges: {'; '.join(untested)}."


def _outside(figures: list[Figure]) -> Iterator[str]:
    words = {
        "uniformity": (
            "too much of one size: it stays loose underfoot",
            "too mixed: it packs hard and drains slowly",
        ),
        "gradation": (
            "too much of one size: it stays loose underfoot",
            "too mixed: it packs hard and drains slowly",
        ),
    }
    for one in figures:
        if one.key in words:
            low, high = limit(f"{one.key}_least"), limit(f"{one.key}_most")
            if not low <= one.nominal <= high:
                why = words[one.key][one.nominal > high]
                yield (
                    f"{one.name} {one.text()} lies outside {low:g} to {high:g} "
                    f"({limit_source(f'{one.key}_least')}): {why}."
                )


OPERATION = Operation(
    key="sand_grading",
    name="Sand grading",
    form=FORM,
    work=work,
    help="Sieve results of a sand against the limits, the green below it, and gravel.",
    group="check",
    order=90,
)
