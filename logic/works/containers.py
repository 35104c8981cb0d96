"""Whole bags, cans, barrows and tanks: how many to have ready so that the job does not run short.

For every operation that counts containers: `whole(...)` for a number, `containers(...)` for a Figure with its
working. Pass the Figure that is needed (bought, weighed, fetched) and the ground's confidence; an amount
with ± is first raised to what is enough at that confidence, an exact amount is taken as it stands.
"""

from __future__ import annotations

import math
from typing import Any

from logic.figure import PRACTICE, Figure, Source, enough, figure, step
from logic.units import nominal, quantity, spread, unit_of

#: A whole number reached but for rounding in the last binary digits is not rounded up once more.
_HAIR = 1e-9


def whole(needed: Any, size: float, confidence: float) -> int:
    """How many containers of `size` hold `needed` (± allowed, same unit), at `confidence` (0.5 to 0.999).

    Source: whole units are rounded up; the ± as in `logic.figure.enough`.
    """
    return max(0, math.ceil(enough(needed, confidence) / size - _HAIR))


def containers(
    key: str,
    name: str,
    needed: Figure,
    size: float,
    unit: str,
    word: str,
    confidence: float,
    source: Source = PRACTICE,
    headline: bool = False,
) -> Figure:
    """A Figure [containers, a whole number] for `needed`, in containers of `size` [`unit`], each a `word`.

    The working says what was rounded up and, where the amount carries ±, what was taken as enough.
    """
    amount = needed.value.to(unit_of(unit)).magnitude
    sure = enough(amount, confidence)
    count = whole(amount, size, confidence)
    lines = []
    if spread(amount) > 0:
        lines.append(
            step(
                "{m}, or {e} to be {c} sure that it lasts",
                m=quantity(nominal(amount), unit),
                e=quantity(sure, unit),
                c=quantity(confidence * 100, "%"),
            )
        )
    lines.append(
        step(
            "{m} ÷ {s} = {x}, so {n} {word}",
            m=quantity(sure, unit),
            s=quantity(size, unit),
            x=sure / size,
            n=count,
            word=word if count == 1 else f"{word}s",
        )
    )
    return figure(key, name, count, "", *lines, source=source, order=True, headline=headline)
