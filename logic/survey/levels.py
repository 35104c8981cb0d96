"""Levels on a grid, as measured with string or laser: where it is high and low."""

from __future__ import annotations

from logic.field import Values
from logic.measure.levels import FORM, levels_of
from logic.survey.kind import Finding, Kind, Mark, Spot
from logic.units import nominal, quantity, text_of


def read(v: Values, spot: Spot) -> Finding:
    """Fill, cut, mean level and unevenness, and the map of high and low spots. Raises BadValue.

    The map's first reading lies at the reading's own place on the sketch, or at its corner A.
    """
    found = levels_of(v)
    x, y = spot.x or 0.0, spot.y or 0.0
    marks = tuple(
        Mark(x + one.x, y + one.y, nominal(one.above), text_of(quantity(nominal(one.above), "mm")))
        for one in found.map.spots
    )
    return Finding(found.figures, drawing=marks)


KIND = Kind(
    key="levels",
    name="Levels",
    form=FORM,
    read=read,
    help="A string or laser over a grid, row by row from the same side; press the staff to the soil, not "
    "the leaf.",
    how_many="Every 1 to 2 m; closer where a hollow is in doubt.",
    tells_not="Small dents between the readings, and falls that are meant to be there.",
    alike=("across", "along", "columns"),
    group="surface",
    order=54,
)
