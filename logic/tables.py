"""Reads assets/tables/*.csv: the numbers a person may want to correct, each row with its source and trust."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from logic.figure import TRUST, Source


@cache
def rows(name: str) -> tuple[Mapping[str, str], ...]:
    """All rows of assets/tables/`name`.csv as mappings of column to text."""
    text = files("assets").joinpath("tables", f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(io.StringIO(text)))


@cache
def row(name: str, **keys: str) -> Mapping[str, str]:
    """The one row whose columns have the given values. Raises LookupError unless exactly one has."""
    found = [r for r in rows(name) if all(r[k] == v for k, v in keys.items())]
    if len(found) != 1:
        raise LookupError(f"{name}.csv has {len(found)} rows for {keys}")
    return found[0]


def source_of(record: Mapping[str, str]) -> Source:
    """The Source of a row, from its `source` and `trust` columns."""
    if record["trust"] not in TRUST:
        raise LookupError(f"unknown trust {record['trust']!r}")
    return Source(record["source"], record["trust"])
