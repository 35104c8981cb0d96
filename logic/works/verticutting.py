"""Verticutting: thin blades that cut runners and open shallow grooves."""

from __future__ import annotations

from functools import partial

from logic.works import grooves
from logic.works.operation import Operation

OPERATION = Operation(
    key="verticutting",
    name="Verticutting",
    form=grooves.form("verticutting"),
    work=partial(grooves.work, operation="verticutting"),
    help="Thin blades cut leaf and runners upright, and open grooves for seed and sand.",
    cautions=("garden_wires", "vibration"),
    group="open up",
    order=14,
)
