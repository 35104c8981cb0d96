"""Ball roll by ramp: speed of the green, with the published correction for slope."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.measure.sampling import sample
from logic.survey.classes import label, limit, limit_source, limit_text
from logic.survey.kind import Finding, Kind, Spot
from logic.survey.several import plain
from logic.units import quantity, text_of

BREDE = Source("Brede, Measuring green speed on sloped putting greens, USGA Green Section Record 28(6), 1990")


def _field(key: str, label_: str, **more: Any) -> Field:
    return from_table("readings", "ball_roll", key, label_, kind="list", **more)


FORM = Form(
    (
        _field(
            "up",
            "Rolls one way (uphill)",
            entry="Roll",
            help="Three balls from one point; all within 20 cm, or again.",
        ),
        _field("down", "Rolls back along the same line", entry="Roll back"),
    )
)


def corrected(up: Any, down: Any) -> Any:
    """Speed on a slope: 2 ab ÷ (a + b), a the roll uphill and b downhill, in their unit.

    Needs an even tilt; not across the slope, not in a dip or over a crown. Source: BREDE.
    """
    return 2 * up * down / (up + down)


def overstatement(up: Any, down: Any) -> Any:
    """How much the plain mean of two rolls overstates the corrected one: (b − a)² ÷ (2 (a + b))."""
    return (down - up) ** 2 / (2 * (up + down))


def read(v: Values, spot: Spot) -> Finding:
    """Corrected speed [m], plain mean, what that overstates, and whether the rolls can be trusted."""
    up, down = sample(plain(v.up)).mean, sample(plain(v.down)).mean
    if up > down:  # it was rolled the other way about
        up, down = down, up
    speed, over = corrected(up, down), overstatement(up, down)
    shown = {"a": quantity(up, "m"), "b": quantity(down, "m")}
    line = step("2 × {a} × {b} ÷ ({a} + {b}) = {s}", s=quantity(speed, "m"), **shown)
    mean = step("({a} + {b}) ÷ 2 = {m}", m=quantity((up + down) / 2, "m"), **shown)
    more = step("({b} − {a})² ÷ (2 × ({a} + {b})) = {o}", o=quantity(over, "m"), **shown)
    figures = (
        figure("ball_roll", "Ball roll, corrected for slope", speed, "m", line, source=BREDE, headline=True),
        figure("ball_roll_mean", "Plain mean of both ways", (up + down) / 2, "m", mean),
        figure("ball_roll_overstated", "The plain mean overstates by", over, "m", more),
        figure("ball_roll_difference", "Difference of the two ways", down - up, "m", _difference(shown)),
    )
    labels = (label("ball_roll", "slope_ratio", down / up),)
    return Finding(figures, labels, tuple(_warnings(v, figures, labels[0].word)))


def _difference(shown: dict[str, Any]) -> Any:
    return step("{b} − {a}", **shown)


def _warnings(v: Values, figures: tuple[Figure, ...], slope: str) -> Iterator[str]:
    for rolls, way in ((plain(v.up), "one way"), (plain(v.down), "back")):
        if len(rolls) < 3:
            yield f"Roll three balls {way}."
        apart = (max(rolls) - min(rolls)) * 1000
        if apart > limit("roll_spread"):
            yield (
                f"The balls {way} lie {text_of(quantity(apart, 'mm'))} apart, more than "
                f"{limit_text('roll_spread')}: roll again. Source: {limit_source('roll_spread')}."
            )
    if figures[3].nominal * 1000 > limit("roll_difference"):
        yield (
            f"The two ways differ by more than {limit_text('roll_difference')}, so the plain mean is out; "
            f"look for flatter ground. Source: {limit_source('roll_difference')}."
        )
    if slope != "gentle":
        yield f"This slope is {slope}: the correction needs an even tilt, straight up and down."


KIND = Kind(
    key="ball_roll",
    name="Ball roll",
    form=FORM,
    read=read,
    help="On near-level ground of 3 × 3 m: three balls one way from the ramp, then three back along the "
    "same line.",
    how_many="Three balls each way, at two or more places.",
    tells_not="Whether it is good: players don't agree. Less than 10 cm is no change; report this green's "
    "own numbers.",
    group="surface",
    order=52,
)
