"""What a visit holds for buying and charging, as typed: travel, extra lines, options, times, costs, the
quote.

supply: {"distance": text, "extras": [{"name", "amount", "kind", "option"}], "options": [place of a work],
         "times": {operation: {"minutes", "people"}}, "spent": [{"name", "amount"}],
         "quote": stored once accepted (logic.supply.quote), "used": [[product, amount, unit]]}
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form
from logic.numbers import number
from logic.records.goods import money_typed
from logic.records.types import Visit
from logic.supply.estimate import Extra
from logic.supply.labour import Timed, timed_of
from logic.supply.money import Currency, Money
from logic.supply.quote import Quote, from_json, to_json

_KINDS = (("extra", "Your own price"), ("hire", "Hired, at cost"), ("material", "Bought, at cost"))
EXTRAS = Form(
    (
        Field("distance", "Travel, there and back", least=0, most=5000, required=False),
        Field(
            "extras",
            "Other lines",
            kind="rows",
            required=False,
            fewest=0,
            most_entries=40,
            entry="Line",
            row=(
                Field("name", "What", kind="text"),
                Field("amount", "How much", least=0, most=1e7),
                Field("kind", "It is", kind="choice", choices=_KINDS, default="extra"),
                Field(
                    "option",
                    "Part of the price",
                    kind="choice",
                    choices=(("no", "Yes"), ("yes", "Offered besides")),
                    default="no",
                ),
            ),
        ),
    )
)
SPENT = Form(
    (
        Field(
            "spent",
            "What was really spent",
            kind="rows",
            required=False,
            fewest=0,
            most_entries=60,
            entry="Cost",
            row=(Field("name", "What for", kind="text"), Field("amount", "How much", least=0, most=1e7)),
        ),
    )
)


def with_supply(visit: Visit, **values: Any) -> Visit:
    """The visit with some of its supply changed; None takes a thing away."""
    merged = {**visit.supply, **values}
    return replace(visit, supply={key: value for key, value in merged.items() if value is not None})


def distance_of(visit: Visit) -> float:
    """The way there and back as typed, 0 for none."""
    try:
        return max(0.0, number(str(visit.supply.get("distance") or "0").strip()))
    except BadValue:
        return 0.0


def _rows(visit: Visit, key: str) -> Sequence[Mapping[str, Any]]:
    found = visit.supply.get(key)
    return [row for row in found if isinstance(row, Mapping)] if isinstance(found, list | tuple) else ()


def extras_of(visit: Visit, in_currency: Currency) -> tuple[Extra, ...]:
    """The extra lines that are complete."""
    found = []
    kinds = dict(_KINDS)
    for place, row in enumerate(_rows(visit, "extras")):
        amount, name = money_typed(row.get("amount"), in_currency), str(row.get("name") or "").strip()
        if amount is not None and name:
            kind = str(row.get("kind") or "extra")
            option = row.get("option") == "yes"
            found.append(Extra(f"extra{place}", name, amount, kind if kind in kinds else "extra", option))
    return tuple(found)


def spent_of(visit: Visit, in_currency: Currency) -> tuple[tuple[str, Money], ...]:
    """What was really spent, as far as it is complete."""
    found = []
    for row in _rows(visit, "spent"):
        amount, name = money_typed(row.get("amount"), in_currency), str(row.get("name") or "").strip()
        if amount is not None and name:
            found.append((name, amount))
    return tuple(found)


def options_of(visit: Visit) -> frozenset[int]:
    """The places of works that are offered besides."""
    found = visit.supply.get("options")
    return (
        frozenset(n for n in found if isinstance(n, int)) if isinstance(found, list | tuple) else frozenset()
    )


def times_of(visit: Visit, operation: str) -> Mapping[str, Any]:
    """What was typed of the time a work took."""
    times = visit.supply.get("times")
    found = times.get(operation) if isinstance(times, Mapping) else None
    return found if isinstance(found, Mapping) else {}


def with_time(visit: Visit, operation: str, key: str, value: Any) -> Visit:
    """The visit with one reading of a work's time changed."""
    times = visit.supply.get("times")
    kept = dict(times) if isinstance(times, Mapping) else {}
    return with_supply(visit, times={**kept, operation: {**times_of(visit, operation), key: value}})


def timed_days(visit: Visit, area: float) -> tuple[Timed, ...]:
    """The works of a visit whose time is complete. area [m²]."""
    day = visit.started.date()
    keys = dict.fromkeys(str(entry.get("operation")) for entry in visit.works)
    found = (timed_of(key, day, times_of(visit, key), area) for key in keys)
    return tuple(one for one in found if one is not None)


def quote_of(visit: Visit) -> Quote | None:
    """The stored quote, None until it is accepted. Raises BadValue when it can't be read."""
    stored = visit.supply.get("quote")
    return from_json(stored) if isinstance(stored, Mapping) else None


def with_quote(visit: Visit, quote: Quote | None) -> Visit:
    """The visit with its quote stored, or free to change again (None)."""
    return with_supply(visit, quote=None if quote is None else to_json(quote))


def number_of(visit: Visit, others: Iterable[Visit]) -> str:
    """A number for the quote of a visit: the year, and its place among the visits of that year."""
    year = visit.started.year
    earlier = [v for v in others if v.started.year == year and (v.started, v.id) <= (visit.started, visit.id)]
    return f"{year}-{max(1, len(earlier)):03d}"


def minutes_of(days: Iterable[Timed]) -> float:
    """Minutes of one person over all timed works."""
    return sum(day.minutes * day.people for day in days)
