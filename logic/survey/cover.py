"""Cover by counted points: what lies under each crossing of a strung frame, with Wilson's interval."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.survey.classes import limit, limit_text
from logic.survey.kind import Finding, Kind, Spot
from logic.survey.proportion import WILSON, points_needed, wilson
from logic.units import nominal, quantity

#: What a point can lie on, as (key, label).
CLASSES = (
    ("grass", "Grass that is wanted"),
    ("other_grass", "Other grass"),
    ("moss", "Moss"),
    ("weed", "Weed"),
    ("bare", "Bare"),
    ("dead", "Dead or straw"),
)
_NEEDED = Source("OpenStax, Introductory Statistics: n = z² p (1 − p) ÷ E²")


def _field(key: str, label: str, like: str = "", **more: Any) -> Field:
    declared = from_table("readings", "cover", like or key, label, **more)
    return declared if not like else Field(**{**declared.__dict__, "key": key})


FORM = Form(
    (
        *(
            _field(key, f"{label}: points", like="count", required=False, whole=True)
            for key, label in CLASSES
        ),
        _field("places", "Places of the frame", required=False, whole=True),
        _field("within", "Wanted to within, either way"),
    )
)


def read(v: Values, spot: Spot) -> Finding:
    """Share of each class [%] with low and high ends at 95 %, and points wanted. Raises BadValue without
    points."""
    counts = {key: round(nominal(v[key] or 0.0)) for key, _ in CLASSES if v.has(key)}
    points = sum(counts.values())
    if points == 0:
        raise BadValue("grass", "Count at least one point.")
    figures: list[Figure] = []
    for key, label in CLASSES:
        if key in counts:
            figures += _share(key, label, counts[key], points)
    figures += _wanted(counts, points, nominal(v.within) / 100)
    return Finding(tuple(figures), warnings=tuple(_warnings(v, counts, points)))


def _share(key: str, label: str, hits: int, points: int) -> tuple[Figure, ...]:
    low, high = (100 * end for end in wilson(hits, points))
    share = 100 * hits / points
    counted = step(
        "{h} of {n} points = {p}", h=quantity(hits, ""), n=quantity(points, ""), p=quantity(share, "%")
    )
    ends = step("at 95 % between {a} and {b} (Wilson)", a=quantity(low, "%"), b=quantity(high, "%"))
    name = label.split(" that")[0]
    return (
        figure(f"{key}_cover", f"{name}", share, "%", counted, ends, source=WILSON, headline=True),
        figure(f"{key}_cover_low", f"{name}, at least", low, "%", counted, ends, source=WILSON),
        figure(f"{key}_cover_high", f"{name}, at most", high, "%", counted, ends, source=WILSON),
    )


def _wanted(counts: dict[str, int], points: int, within: float) -> tuple[Figure, ...]:
    """Points for the class that needs the most; the even split while every share is none or all."""
    shares = [hits / points for hits in counts.values()]
    widest = min(shares, key=lambda p: abs(p - 0.5))
    share = widest if 0 < widest < 1 else 0.5
    count = points_needed(share, within)
    line = step(
        "a share near {p} to within {e} at 95 %: {n} points",
        p=quantity(100 * share, "%"),
        e=quantity(100 * within, "%"),
        n=quantity(count, ""),
    )
    return (figure("points_needed", "Points wanted in all", count, "", line, source=_NEEDED),)


def _warnings(v: Values, counts: dict[str, int], points: int) -> Iterator[str]:
    if not v.has("places") or nominal(v.places) < limit("frame_places"):
        yield (
            f"Spread the frame over at least {limit_text('frame_places')} places: points in one frame share "
            f"its patches, so the true range is wider than shown."
        )
    none = [label.lower() for key, label in CLASSES if key in counts and counts[key] == 0]
    if none:
        most = 100 * wilson(0, points)[1]
        yield f"None found ({', '.join(none)}) still allows up to {most:.1f} % with {points} points."


KIND = Kind(
    key="cover",
    name="Cover, by points",
    form=FORM,
    read=read,
    help="A frame of 1 × 1 m strung 10 × 10. Look straight down at each crossing and count what lies under "
    "it.",
    how_many="100 points or more, over at least 4 places of the frame.",
    tells_not="Species counts of rare plants, and where the patches are: note those on the sketch.",
    group="grass",
    order=30,
)
