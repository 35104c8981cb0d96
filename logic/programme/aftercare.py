"""What the customer does afterwards, drawn from the works that were done."""

from __future__ import annotations

from collections.abc import Iterable

from logic import tables


def aftercare(operations: Iterable[str]) -> tuple[str, ...]:
    """The sentences of aftercare.csv for the given operation keys, once each, in their order."""
    done = set(operations)
    rows = sorted(
        (row for row in tables.rows("aftercare") if row["operation"] in done),
        key=lambda row: int(row["order"]),
    )
    return tuple(dict.fromkeys(row["sentence"] for row in rows))
