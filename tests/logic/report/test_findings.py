"""What was found, as a paper takes it: figures first, classes second, map, core and charts."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from logic.records.surveyed import begun, held, past, with_value
from logic.records.types import Sward, Visit
from logic.report.findings import findings
from logic.survey import stored
from logic.survey.history import trends

NOON = datetime(2026, 6, 21, 12, 0, tzinfo=UTC)
GREEN = Sward(kind="putting green")


def surveyed(at: datetime, thatch: str) -> Visit:
    """A visit with a placed and noted core, and a reading that was only begun."""
    visit, key = begun(Visit(started=at), "core", at)
    values: dict[str, Any] = {"thatch": [thatch, thatch], "layers": [{"layer_from": "0", "layer_to": thatch}]}
    for path, value in values.items():
        visit = with_value(visit, key, path, value)
    readings = stored.noted(stored.placed(visit.readings, key, 1.0, 2.0), key, "by the gate")
    return begun(replace(visit, readings=readings), "cover", at)[0]


def test_what_a_paper_gets_from_two_visits() -> None:
    visits = [surveyed(NOON, "18 mm"), surveyed(NOON + timedelta(days=90), "12 mm")]
    pairs = [(visit, held(visit, GREEN, None)) for visit in visits]
    history = trends([one for visit, readings in pairs for one in past(visit, readings)])
    found = findings(pairs[-1][1], history)
    (section,) = found.sections
    assert section.name == "Cores: thatch, layers, roots"
    assert section.figures[0].text() == "12 mm"
    assert section.notes[0] == "Thatch depth: normal."
    assert section.notes[-1] == "by the gate"
    (spot,) = found.spots
    assert (spot.x, spot.y, spot.text) == (1.0, 2.0, "12 mm")
    (layer,) = found.core
    assert layer.bottom.text() == "12 mm"
    chart = next(one for one in found.charts if one.title == "Thatch depth")
    assert [(day.isoformat(), figure.text()) for day, figure in chart.points] == [
        ("2026-06-21", "18 mm"),
        ("2026-09-19", "12 mm"),
    ]
    assert "That is better" in chart.note


def test_nothing_read_is_nothing_on_paper() -> None:
    found = findings(held(begun(Visit(), "cover", NOON)[0], GREEN, None))
    assert (found.sections, found.spots, found.core, found.charts) == ((), (), (), ())
