"""When one machine stands in for another: what that costs, as rows of assets/tables/substitutes.csv."""

from __future__ import annotations

from logic import tables
from logic.field import Field, Values


def field(operation: str) -> Field:
    """The choice of what `operation` stands in for."""
    known = (r for r in tables.rows("substitutes") if r["used"] == operation)
    return Field(
        "stands_in_for",
        "Stands in for",
        kind="choice",
        choices=tuple((r["wanted"], r["label"]) for r in known),
        required=False,
        help="Choose when the right machine is not to be had, and read what that costs.",
    )


def cost(v: Values, operation: str) -> tuple[str, ...]:
    """What it costs that `operation` stands in for another; nothing when it does not."""
    if not v.has("stands_in_for"):
        return ()
    return (tables.row("substitutes", used=operation, wanted=v.stands_in_for)["cost"],)
