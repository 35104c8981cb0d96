"""Scarifying: blades that cut thatch and moss out of the surface."""

from __future__ import annotations

from functools import partial

from logic.works import grooves
from logic.works.operation import Operation

OPERATION = Operation(
    key="scarifying",
    name="Scarifying",
    form=grooves.form("scarifying"),
    work=partial(grooves.work, operation="scarifying"),
    help="Cuts thatch and moss out of the surface; passes cross, never run in the old lines.",
    cautions=("garden_wires", "vibration"),
    group="open up",
    order=12,
)
