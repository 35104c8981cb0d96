"""Levelling with a lute: strips, distance and time over the ground."""

from __future__ import annotations

from logic.works import going_over
from logic.works.operation import Operation

OPERATION = Operation(
    key="levelling",
    name="Levelling with a lute",
    form=going_over.form("levelling"),
    work=going_over.work,
    help="Drags sand off high spots into hollows: draw it slowly, each pass across the last.",
    cautions=("sand_dust", "dry_sand"),
    group="seed and sand",
    order=54,
)
