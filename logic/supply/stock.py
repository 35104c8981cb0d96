"""Own stock: used first, what goes off soonest before the rest, and counted down when the work is done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from logic.figure import Figure, Source, figure, step
from logic.units import quantity

STOCK = Source("your own stock", "setting")


@dataclass(frozen=True)
class Held:
    """Some of a material in the store. amount: in the material's unit; best_before: None when it keeps."""

    key: str
    material: str
    amount: float
    best_before: date | None = None
    name: str = ""


@dataclass(frozen=True)
class FromStock:
    """What stock does for a need. used, to_buy: Figures in the material's unit; taken: (held, amount) in
    order; gone_off: what was passed over because it is past its day."""

    used: Figure
    to_buy: Figure
    taken: tuple[tuple[Held, float], ...]
    gone_off: tuple[Held, ...]


def from_stock(enough: Figure, held: Sequence[Held], day: date) -> FromStock:
    """Use stock for `enough` (no ±), soonest best-before first, what is past its day on `day` not at all."""
    good = [one for one in held if one.amount > 0 and (one.best_before is None or one.best_before >= day)]
    past = tuple(one for one in held if one.amount > 0 and one not in good)
    missing, taken = enough.nominal, []
    for one in sorted(good, key=lambda h: (h.best_before or date.max, h.key)):
        part = min(one.amount, missing)
        if part > 0:
            taken.append((one, part))
            missing -= part
    used = sum(part for _, part in taken)
    unit = enough.unit
    stood = step("{h} in stock", h=quantity(sum(one.amount for one in good), unit))
    rest = step(
        "{e} needed − {u} of your own = {b}",
        e=quantity(enough.nominal, unit),
        u=quantity(used, unit),
        b=quantity(missing, unit),
    )
    key = enough.key.removeprefix("enough_")
    return FromStock(
        figure(f"stock_{key}", "From your own stock", used, unit, stood, source=STOCK),
        figure(f"buy_{key}", "To buy", missing, unit, *enough.steps, rest, source=STOCK),
        tuple(taken),
        past,
    )


def counted_down(held: Sequence[Held], used: Sequence[tuple[str, float]]) -> tuple[Held, ...]:
    """The stock after `used` (key of the held thing, amount) has gone; never below nothing."""
    gone: dict[str, float] = {}
    for key, amount in used:
        gone[key] = gone.get(key, 0.0) + amount
    return tuple(replace(one, amount=max(0.0, one.amount - gone.get(one.key, 0.0))) for one in held)
