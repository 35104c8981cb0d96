"""Matting in: strips, distance and time over the ground."""

from __future__ import annotations

from logic.works import going_over
from logic.works.operation import Operation

OPERATION = Operation(
    key="matting",
    name="Matting in",
    form=going_over.form("matting"),
    work=going_over.work,
    help="A drag mat spreads the last of the sand and fills small holes.",
    cautions=("sand_dust", "dry_sand"),
    group="seed and sand",
    order=58,
)
