"""One builder per record, a clock that ticks, and a journal with a known content."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

from logic.records.journal import Journal
from logic.records.types import Client, Pace, Sward, Visit
from tests.logic.records.memory import MemoryFolder


def client(**fields: Any) -> Client:
    return Client(**{"name": "Ada Fen", "email": "ada@example.com", "address": "1 Marsh Lane", **fields})


def sward(of: Client, **fields: Any) -> Sward:
    return Sward(**{"client_id": of.id, "name": "Back green", "kind": "putting green", **fields})


def visit(to: Sward, **fields: Any) -> Visit:
    outline = {"method": "circle", "way": "paces", "drafts": {"circle": {"diameter": "14 paces"}}}
    works = ({"operation": "overseeding", "way": "rate", "values": {"rate": "8 g/m²"}},)
    return Visit(
        **{"sward_id": to.id, "outline": outline, "works": works, "notes": "moss at the edge", **fields}
    )


def pace(**fields: Any) -> Pace:
    return Pace(**{"person": "Jo", "counts": ("27", "26.5", "27"), **fields})


def ticking(start: datetime = datetime(2026, 5, 1, 8, 0, tzinfo=UTC)) -> Callable[[], datetime]:
    """A clock that is one second later at every look."""
    seconds = iter(range(10**9))
    return lambda: start + timedelta(seconds=next(seconds))


def small_journal(folder: MemoryFolder) -> list[dict[str, Any]]:
    """Write six entries to a journal; returns the tables after 0, 1, … 6 of them."""
    journal = Journal(folder, now=ticking())
    states = [tables(journal)]
    for docs in (
        {("swards", "a"): {"name": "Grün “A”"}},
        {("swards", "b"): {"name": "B\n7a3f01c2 00000010 {}"}},
        {("swards", "a"): {"name": "A, twice"}},
        {("visits", "v"): {"notes": "<b>&"}, ("swards", "b"): None},
        {("visits", "w"): {"notes": "½ in ≥ 3 °C"}},
        {("visits", "v"): {"notes": "last"}},
    ):
        journal.append(docs, "a change")
        states.append(tables(journal))
    return states


def tables(journal: Journal) -> dict[str, dict[str, Any]]:
    """The documents of now; empty tables left out."""
    return {name: dict(table) for name, table in journal.read().items() if table}
