"""How long an opened surface takes to close: a planning model, to be replaced by the site's own photos."""

from __future__ import annotations

import math

from logic.errors import BadValue
from logic.figure import Figure, Source, figure, step
from logic.programme.limits import limit, limit_source
from logic.units import quantity

MODEL = Source(
    "The gap closes by the same share each day of full growth: gap × exp(−k × Σ growth potential)", "derived"
)


def days_to_cover(
    cover: float, potential: float, wanted: float | None = None, rate: float | None = None
) -> Figure:
    """Days until cover rises from `cover` to `wanted` [%] at a growth potential (0 to 1) that stays as it is.

    days = ln(gap now ÷ gap then) ÷ (k × potential). rate: this site's own k a day; left out, the one derived
    from a published trial. Raises BadValue when growth stands still or the wanted cover can't be reached.
    Source: MODEL, with k as in timing_limits.csv.
    """
    wanted = limit("recovered") if wanted is None else wanted
    if not 0 <= cover < 100 or not cover <= wanted < 100:
        raise BadValue("cover", "Cover must lie between 0 and 100 %, and the wanted cover above it.")
    if potential <= 0.001:
        raise BadValue(
            "potential", "At this temperature turf stands still: it will not close until it warms up."
        )
    k = limit("recovery_mid") if rate is None else rate
    days = math.log((100 - cover) / (100 - wanted)) / (k * potential)
    shown = {"a": quantity(100 - cover, "%"), "b": quantity(100 - wanted, "%"), "g": potential}
    lines = [step("ln({a} open ÷ {b} left) ÷ ({k} × {g}) = {d}", k=k, d=quantity(days, "day"), **shown)]
    if rate is None:
        fast, slow = (days * k / limit(end) for end in ("recovery_high", "recovery_low"))
        lines.append(
            step("the trial allows {f:2} to {s:2}", f=quantity(fast, "day"), s=quantity(slow, "day"))
        )
    source = limit_source("recovery_mid") if rate is None else Source("this sward's own photos", "setting")
    return figure("days_to_cover", "Days to close", days, "day", *lines, source=source)


def cover_after(cover: float, days: float, potential: float, rate: float | None = None) -> float:
    """Cover [%] after that many days from `cover` [%] at a steady growth potential. Source: MODEL."""
    k = limit("recovery_mid") if rate is None else rate
    return 100 - (100 - cover) * math.exp(-k * potential * days)


def own_rate(cover_then: float, cover_now: float, potential_sum: float) -> Figure:
    """This site's own k a day from two photos: ln(gap then ÷ gap now) ÷ Σ growth potential between them.

    Raises BadValue unless the gap has become smaller. Source: MODEL solved for k.
    """
    then, now = 100 - cover_then, 100 - cover_now
    if not 0 < now < then or potential_sum <= 0:
        raise BadValue("cover_now", "The gap must have become smaller between the two photos.")
    rate = math.log(then / now) / potential_sum
    line = step(
        "ln({a} ÷ {b}) ÷ {g} = {k}", a=quantity(then, "%"), b=quantity(now, "%"), g=potential_sum, k=rate
    )
    return figure("recovery_rate", "This sward's own rate of closing", rate, "", line, source=MODEL)
