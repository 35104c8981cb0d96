"""Mowing: the one-third rule, the steps down to a height of cut, the days between cuts, and the time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Values, from_table
from logic.figure import Figure, figure, step
from logic.units import nominal, quantity, text_of
from logic.works import going_over
from logic.works.limits import limit, limit_source
from logic.works.operation import Ground, Operation, Work

#: More cuts than this to come down is a slip in a height, not a plan.
MOST_CUTS = 12


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "mowing", key, label, **more)


FORM = going_over.form(
    "mowing",
    _field("height_of_cut", "Height of cut wanted", help="What is left standing, not the setting."),
    _field("height_now", "Height of the grass now", required=False),
    _field(
        "growth",
        "Growth in a day",
        required=False,
        help="About 1 mm on a green kept at 3 to 5 mm, 2 mm at 15 mm, less when dry.",
    ),
)


def third() -> float:
    """The most of the height that one cut may take (a fraction)."""
    return limit("cut_share") / 100


def steps_down(now: float, wanted: float, share: float) -> tuple[float, ...]:
    """Heights after each cut [mm] from `now` to `wanted`, never taking more than `share` of the height.

    Source: the one-third rule, next height = max(wanted, height × (1 − share)). Raises BadValue when the
    grass is already shorter, or would take more than 12 cuts.
    """
    if now < wanted:
        raise BadValue("height_now", "The grass is already shorter than the height of cut wanted.")
    heights: list[float] = []
    while now > wanted:
        now = max(wanted, now * (1 - share))
        if now - wanted < 1e-9 * wanted:
            now = wanted
        heights.append(now)
        if len(heights) > MOST_CUTS:
            raise BadValue("height_of_cut", f"That takes more than {MOST_CUTS} cuts. Check both heights.")
    return tuple(heights)


def work(v: Values, ground: Ground) -> Work:
    """All figures of a mowing. Raises BadValue when the grass is already shorter than wanted."""
    gone_over = going_over.work(v, ground)
    figures = (_tallest(v), *_coming_down(v), *_interval(v), *gone_over.figures)
    return Work(figures, tuple(_warnings(v)))


def _tallest(v: Values) -> Figure:
    tallest = v.height_of_cut / (1 - third())
    line = step(
        "{h} ÷ (1 − {s}) = {t}",
        h=quantity(v.height_of_cut, "mm"),
        s=quantity(limit("cut_share"), "%"),
        t=quantity(tallest, "mm"),
    )
    return figure(
        "tallest", "Mow before it is taller than", tallest, "mm", line, source=limit_source("cut_share")
    )


def _coming_down(v: Values) -> tuple[Figure, ...]:
    if not v.has("height_now"):
        return ()
    heights = steps_down(nominal(v.height_now), nominal(v.height_of_cut), third())
    removed = (v.height_now - v.height_of_cut) / v.height_now * 100
    taken = step(
        "({n} − {h}) ÷ {n} = {r}",
        n=quantity(v.height_now, "mm"),
        h=quantity(v.height_of_cut, "mm"),
        r=quantity(removed, "%"),
    )
    way = " → ".join(text_of(quantity(h, "mm")) for h in (v.height_now, *heights))
    down = step("no cut takes more than {s}: {way}", s=quantity(limit("cut_share"), "%"), way=way)
    rule = limit_source("cut_share")
    return (
        figure("height_removed", "Height that one cut would take", removed, "%", taken, source=rule),
        figure("cuts", "Cuts to come down", len(heights), "", down, source=rule, headline=True),
    )


def _interval(v: Values) -> tuple[Figure, ...]:
    if not v.has("growth"):
        return ()
    room = v.height_of_cut / (1 - third()) - v.height_of_cut
    days = room / v.growth
    line = step(
        "{r} to grow before a third is reached ÷ {g} = {d}",
        r=quantity(room, "mm"),
        g=quantity(v.growth, "mm/day"),
        d=quantity(days, "day"),
    )
    return (
        figure(
            "interval",
            "Days between cuts",
            days,
            "day",
            line,
            source=limit_source("cut_share"),
            headline=True,
        ),
    )


def _warnings(v: Values) -> Iterator[str]:
    if not v.has("height_now"):
        return
    share = 1 - nominal(v.height_of_cut) / nominal(v.height_now)
    if share > third() + 1e-9:
        yield (
            f"One cut would take {text_of(quantity(share * 100, '%'))} of the height; a third is the most. "
            "Come down in the steps shown, with a few days between them."
        )


OPERATION = Operation(
    key="mowing",
    name="Mowing",
    form=FORM,
    work=work,
    help="Dry leaf, sharp blades, and never more than a third of the height in one cut.",
    cautions=("mow_seedlings", "mower_noise"),
    group="open up",
    order=5,
)
