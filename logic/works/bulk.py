"""Volumes of sand, cores and debris: litres in metric, but cubic feet, never gallons, in other measures.

Their unit in the job file is "L"; as quantities they are dm^3, by which the display tells them from water.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from logic.figure import Figure, Step, figure
from logic.units import quantity


def volume(litres: Any) -> Any:
    """`litres` of something dry, for a line of working."""
    return quantity(litres, "dm^3")


def by_area(litres: Any) -> Any:
    """`litres` on each square metre [L/m², which is mm], for a line of working."""
    return quantity(litres, "dm^3/m^2")


def volume_figure(key: str, name: str, litres: Any, *steps: Step, **more: Any) -> Figure:
    """A Figure of a dry volume [L]; `more` as for `figure`."""
    return replace(figure(key, name, litres, "L", *steps, **more), value=volume(litres))


def by_area_figure(key: str, name: str, litres: Any, *steps: Step, **more: Any) -> Figure:
    """A Figure of a dry volume by area [L/m²]; `more` as for `figure`."""
    return replace(figure(key, name, litres, "L/m^2", *steps, **more), value=by_area(litres))
