"""Firmness as the instrument gives it, with the moisture beside it."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, from_table
from logic.figure import figure, step
from logic.survey.kind import Finding, Kind, Spot
from logic.survey.several import several
from logic.units import quantity


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("readings", "firmness", key, label, **more)


FORM = Form(
    (
        _field("readings", "Readings", kind="list", entry="Reading", help="As the instrument shows them."),
        Field(
            "instrument", "Instrument and hammer", kind="text", required=False, help="Use the same each time."
        ),
        _field("moisture", "Moisture of the surface", required=False),
    )
)


def read(v: Values, spot: Spot) -> Finding:
    """Mean and scatter, in the instrument's own units, and the moisture [%]."""
    found = list(several("firmness", "Firmness, as the instrument shows it", v.readings, ""))
    warnings = []
    if v.has("moisture"):
        line = step("{m} by volume", m=quantity(v.moisture, "%"))
        found.append(figure("firmness_moisture", "Moisture at the time", v.moisture, "%", line))
    else:
        warnings.append(
            "Every firmness reading follows the moisture: note that beside it, or the trend says little."
        )
    return Finding(tuple(found), warnings=tuple(warnings))


KIND = Kind(
    key="firmness",
    name="Firmness",
    form=FORM,
    read=read,
    help="Drop on level turf, never twice on one spot; take the moisture at the same places.",
    how_many="9 or more over the green.",
    tells_not="Quality: it follows the water in the surface more than anything else, and instruments don't "
    "agree.",
    alike=("instrument",),
    group="surface",
    order=50,
)
