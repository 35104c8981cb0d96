"""Trends: like against like, and no change claimed that the readings can't show."""

from __future__ import annotations

from datetime import date
from typing import Any

from logic.survey.history import Past, Trend, trends
from logic.survey.kinds import take

DAYS = (date(2025, 4, 1), date(2025, 9, 1), date(2026, 4, 1))


def went(figure: str, *readings: dict[str, Any]) -> Trend:
    past = [Past(day, take(given)) for day, given in zip(DAYS, readings, strict=False)]
    return next(one for one in trends(reversed(past)) if one.key == figure)


def points(grass: int, moss: int) -> dict[str, Any]:
    return {"kind": "cover", "grass": grass, "moss": moss}


def test_cover_that_went_up_is_better() -> None:
    trend = went("grass_cover", points(60, 40), points(90, 10))
    assert trend.changed is True
    assert "up from 60 % to 90 %" in trend.sentence
    assert "better" in trend.sentence
    assert trend.change is not None
    assert trend.change.nominal == 30


def test_moss_that_went_up_is_worse() -> None:
    assert "worse" in went("moss_cover", points(90, 10), points(60, 40)).sentence


def test_intervals_that_overlap_show_no_change() -> None:
    trend = went("grass_cover", points(80, 20), points(85, 15))
    assert trend.changed is False
    assert "no change" in trend.sentence


def test_a_first_reading_claims_nothing() -> None:
    trend = went("grass_cover", points(80, 20))
    assert trend.changed is None
    assert trend.change is None


def test_another_laboratory_method_is_left_out() -> None:
    trend = went(
        "organic_matter",
        {"kind": "organic_matter", "percent": "9", "method": "sieved_360"},
        {"kind": "organic_matter", "percent": "8", "method": "whole_440"},
        {"kind": "organic_matter", "percent": "7", "method": "whole_440"},
    )
    assert [point.value for point in trend.points] == [8, 7]
    assert trend.left_out == 1
    assert "1 taken another way" in trend.sentence


def test_ball_roll_within_ten_centimetres_is_no_change() -> None:
    # Woods, The Brede equation, 2021: repeatability of about 9 cm
    def roll(metres: float) -> dict[str, Any]:
        return {"kind": "ball_roll", "up": [f"{metres} m"] * 3, "down": [f"{metres} m"] * 3}

    assert went("ball_roll", roll(2.40), roll(2.49)).changed is False
    assert went("ball_roll", roll(2.40), roll(2.51)).changed is True


def test_readings_of_one_day_are_put_together() -> None:
    past = [Past(DAYS[0], take({"kind": "core", "thatch": [d]})) for d in (10, 20)]
    (thatch,) = (one for one in trends(past) if one.key == "thatch_depth")
    assert len(thatch.points) == 1
    assert thatch.points[0].value == 15
    assert thatch.points[0].count == 2
