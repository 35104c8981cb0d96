"""Water for the sward, as a test or the supplier gives it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.survey.classes import label, limit, limit_source
from logic.survey.kind import Finding, Kind, Spot
from logic.units import nominal, quantity

SODIUM = Source("Sodium adsorption ratio: Na ÷ √((Ca + Mg) ÷ 2), in meq/L", "derived")
#: Milligrams in a milliequivalent. Source: atomic weights Na 22.990, Ca 40.078, Mg 24.305, by charge.
EQUIVALENT = {"sodium": 22.990, "calcium": 40.078 / 2, "magnesium": 24.305 / 2}

_IONS = (
    ("sodium", "Sodium (Na)"),
    ("calcium", "Calcium (Ca)"),
    ("magnesium", "Magnesium (Mg)"),
    ("bicarbonate", "Bicarbonate (HCO3)"),
    ("chloride", "Chloride (Cl)"),
    ("iron", "Iron (Fe)"),
)


def _field(key: str, label_: str, like: str = "") -> Field:
    declared = from_table("readings", "water_quality", like or key, label_, required=False)
    return Field(**{**declared.__dict__, "key": key})


FORM = Form(
    (
        Field(
            "supply",
            "Water from",
            kind="choice",
            choices=(
                ("mains", "Mains"),
                ("rain", "Rain butt"),
                ("well", "Well or borehole"),
                ("open", "Stream or pond"),
            ),
            required=False,
        ),
        _field("ph", "pH"),
        _field("conductivity", "Conductivity"),
        *(_field(key, name, like="ion") for key, name in _IONS),
    )
)


def sodium_ratio(sodium: Any, calcium: Any, magnesium: Any) -> float:
    """Sodium adsorption ratio from mg/L. Raises BadValue without calcium and magnesium. Source: SODIUM."""
    given = {"sodium": sodium, "calcium": calcium, "magnesium": magnesium}
    na, ca, mg = (nominal(value) / EQUIVALENT[key] for key, value in given.items())
    if ca + mg <= 0:
        raise BadValue("calcium", "Calcium and magnesium can't both be nought here.")
    return na / math.sqrt((ca + mg) / 2)


def read(v: Values, spot: Spot) -> Finding:
    """The figures as entered, the salt class and the sodium ratio. Raises BadValue when nothing is filled
    in."""
    found = [*_entered(v)]
    if not found:
        raise BadValue("ph", "Fill in at least one figure from the water test.")
    labels = []
    if v.has("conductivity"):
        labels.append(label("conductivity", "salt", nominal(v.conductivity)))
    if all(v.has(key) for key in EQUIVALENT):
        ratio = sodium_ratio(v.sodium, v.calcium, v.magnesium)
        line = step("Na ÷ √((Ca + Mg) ÷ 2) in meq/L = {r}", r=quantity(ratio, ""))
        found.append(
            figure("sodium_ratio", "Sodium adsorption ratio", ratio, "", line, source=SODIUM, headline=True)
        )
    return Finding(tuple(found), tuple(labels), tuple(_warnings(found)))


def _entered(v: Values) -> Iterator[Figure]:
    for item in FORM.fields[1:]:
        if v.has(item.key):
            line = step("as the test says: {x}", x=quantity(v[item.key], item.unit))
            yield figure(item.key, item.label, v[item.key], item.unit, line, source=Source("", "setting"))


def _warnings(found: list[Figure]) -> Iterator[str]:
    ratio = next((f.nominal for f in found if f.key == "sodium_ratio"), 0.0)
    if ratio > limit("sodium"):
        yield f"A sodium ratio this high spoils the structure of soil. Source: {limit_source('sodium')}."


KIND = Kind(
    key="water_quality",
    name="Water quality",
    form=FORM,
    read=read,
    help="From the supplier's report, or a clean bottle filled after the tap has run, to a laboratory.",
    how_many="Once a sward, and again when the supply changes; a pond or well each summer.",
    tells_not="Germs, weedkiller or what the soil already holds.",
    alike=("supply",),
    group="place",
    order=72,
)
