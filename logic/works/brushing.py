"""Brushing in: strips, distance and time over the ground."""

from __future__ import annotations

from logic.works import going_over
from logic.works.operation import Operation

OPERATION = Operation(
    key="brushing",
    name="Brushing in",
    form=going_over.form("brushing"),
    work=going_over.work,
    help="Lifts the leaf through the sand and works it down into the holes.",
    cautions=("sand_dust", "dry_sand"),
    group="seed and sand",
    order=56,
)
