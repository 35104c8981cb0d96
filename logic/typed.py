"""Between what stands in a form and what is stored: stored text has its unit, what is typed need not.

Stored values never change when the system of units does; they are only shown in other units.
"""

from __future__ import annotations

from dataclasses import dataclass

from logic.errors import BadValue
from logic.field import PACE_WORDS, Field
from logic.units import Written, nominal, plain_number, quantity, read_written, shown_unit, unit_of

PACES = "paces"


@dataclass(frozen=True)
class Shown:
    """What a number box shows: the text in it, and the unit beside it as pint name and as label."""

    text: str
    unit: str
    label: str


def shown(item: Field, stored: str, system: str = "metric") -> Shown:
    """What to show for `stored` text in `system`. Text that can't be read is shown as it was typed."""
    unit, label = shown_unit(item.unit, system)
    text = stored.strip()
    if not text:
        return Shown("", unit, label)
    if text in PACE_WORDS:
        return Shown("", PACES, PACES)
    try:
        written = read_written(text, "")
    except BadValue:
        return Shown(stored, unit, label)
    if written.unit.lower() in PACE_WORDS:
        return Shown(_without_unit(text, written), PACES, PACES)
    if not written.unit:
        return Shown(text, unit, label)
    return _in_unit(text, written, Shown(stored, unit, label))


def _in_unit(text: str, written: Written, as_typed: Shown) -> Shown:
    try:
        if unit_of(written.unit) == unit_of(as_typed.unit):
            return Shown(_without_unit(text, written), as_typed.unit, as_typed.label)
        if written.plus_minus is not None:
            return as_typed
        converted = quantity(written.value, written.unit).to(unit_of(as_typed.unit)).magnitude
    except Exception:  # whatever pint says of a unit that doesn't fit, the field's own reading explains it
        return as_typed
    return Shown(plain_number(nominal(converted), 5), as_typed.unit, as_typed.label)


def _without_unit(text: str, written: Written) -> str:
    """`text` without the unit at its end, where that says the same: "60 m ± 1 cm" stays as it is."""
    bare = text.removesuffix(written.unit).rstrip()
    try:
        return bare if read_written(bare, written.unit) == written else text
    except BadValue:
        return text


def to_store(item: Field, typed: str, unit: str) -> str:
    """The text to store for what was `typed` beside `unit`: its own unit if it names one, else that."""
    text = typed.strip()
    if not text:
        return PACES if unit == PACES else ""  # an empty box remembers that it is in paces
    if not unit:
        return text
    try:
        written = read_written(text, "")
    except BadValue:
        return text
    return text if written.unit else f"{text} {unit}"
