"""The published check rows of this folder's csv files, by id, and what it means that one holds."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest


@dataclass(frozen=True)
class CheckRow:
    """One check row: its text as published."""

    id: str
    inputs: str
    expected: str
    tolerance: str

    def given(self, *words: str) -> None:
        """Assert that the row's inputs say each of `words`, so that the test feeds in what the row does."""
        for word in words:
            assert word in self.inputs, f"{self.id} gives “{self.inputs}”, not {word}"

    def holds(self, actual: float, wanted: str) -> None:
        """Assert that the row expects the number `wanted`, and that `actual` is it within the tolerance."""
        assert wanted in self.expected, f"{self.id} expects “{self.expected}”, not {wanted}"
        value = float(wanted.replace(",", ""))
        assert actual == pytest.approx(value, rel=0, abs=self._margin(value)), self.id

    def _margin(self, value: float) -> float:
        if self.tolerance == "exact":
            return 1e-9 * max(1.0, abs(value))
        match = re.match(r"([\d.]+(?:e-?\d+)?)\s*(.*)$", self.tolerance)
        assert match, f"{self.id} has no tolerance that can be read"
        size = float(match.group(1))
        return abs(value) * size / 100 if match.group(2) == "%" else size


@pytest.fixture(scope="session")
def check() -> Callable[[str], CheckRow]:
    """A function from a row's id to the row."""
    found: dict[str, CheckRow] = {}
    for path in sorted(Path(__file__).parent.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                if "inputs" not in row:  # tables of another shape are read by their own tests
                    break
                found[row["id"]] = CheckRow(row["id"], row["inputs"], row["expected"], row["tolerance"])
    return found.__getitem__
