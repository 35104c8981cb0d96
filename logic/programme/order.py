"""What must come before what, and why: rows of programme_order.csv."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logic import tables
from logic.figure import Source
from logic.works.operations import operation_named, operations


@dataclass(frozen=True)
class Before:
    """`first` comes before `then`, and why."""

    first: str
    then: str
    why: str
    source: Source


def rules() -> tuple[Before, ...]:
    """All rules of order."""
    return tuple(
        Before(r["first"], r["then"], r["why"], tables.source_of(r)) for r in tables.rows("programme_order")
    )


def must_come_before(operation: str, among: Sequence[str]) -> tuple[Before, ...]:
    """The rules that put one of `among` before `operation`."""
    return tuple(rule for rule in rules() if rule.then == operation and rule.first in among)


def ordered(keys: Sequence[str]) -> tuple[str, ...]:
    """Operation keys in a working order: every rule kept, otherwise by their place in a day, then as given.

    Raises BadValue for an unknown operation.
    """
    places = {key: operation_named(key).order for key in keys}
    left = sorted(keys, key=lambda key: places[key])
    done: list[str] = []
    while left:
        free = next(
            (key for key in left if not must_come_before(key, [k for k in left if k != key])), left[0]
        )
        left.remove(free)
        done.append(free)
    return tuple(done)


def out_of_order(keys: Sequence[str]) -> tuple[Before, ...]:
    """The rules that this order breaks: one for each pair that stands the wrong way about.

    An operation done twice keeps the rule when it also comes early enough.
    """
    broken = []
    for rule in rules():
        if rule.first in keys and rule.then in keys and keys.index(rule.first) > keys.index(rule.then):
            broken.append(rule)
    return tuple(broken)


def name(key: str) -> str:
    """The name of an operation; its key when only a newer version knows it."""
    found = operations().get(key)
    return found.name if found else key
