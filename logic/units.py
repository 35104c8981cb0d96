"""The one pint registry, and how quantities are read from text and written for people.

Three systems of display: ``metric``, ``imperial`` (British measures) and ``us``. Stored values never
change with the system: a stored quantity is text with its own unit ("20 m", "35 g/m^2").
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import pint
from uncertainties.core import AffineScalarFunc, Variable

from logic.errors import BadValue
from logic.numbers import FRACTIONS, NUMBER, not_a_number, number, value_of

SYSTEMS = ("metric", "imperial", "us")

ureg: pint.UnitRegistry[Any] = pint.UnitRegistry(cache_folder=None)
ureg.define("ksqft = 1000 * foot ** 2")  # the turf trade's "per 1000 square feet"
ureg.define("are = 100 * meter ** 2")
ureg.define("acre = 4840 * yard ** 2")  # the international acre; pint's own is the US survey one
Quantity = ureg.Quantity

# Spellings that pint does not know, or reads as something else; capitals make no difference to these.
_SPELLINGS = {
    "imp gal": "imperial_gallon",
    "imp gallon": "imperial_gallon",
    "imp gallons": "imperial_gallon",
    "imperial gallon": "imperial_gallon",
    "imperial gallons": "imperial_gallon",
    "us gal": "gallon",
    "us gallon": "gallon",
    "us gallons": "gallon",
    "imp fl oz": "imperial_fluid_ounce",
    "us fl oz": "fluid_ounce",
    "imp pt": "imperial_pint",
    "fl oz": "fluid_ounce",
    "sq ft": "foot^2",
    "sq yd": "yard^2",
    "sq m": "m^2",
    "gallons": "gallon",
    "litres": "L",
    "litre": "L",
    "liters": "L",
    "ltr": "L",
    "l": "L",
    "ml": "mL",
    "metres": "m",
    "metre": "m",
    "inches": "inch",
    "in": "inch",
    "″": "inch",
    '"': "inch",
    "′": "foot",
    "'": "foot",
    "yds": "yard",
    "lbs": "lb",
    "kgs": "kg",
    "grams": "g",
    "mins": "minute",
    "min": "minute",
    "hrs": "hour",
    "hr": "hour",
    "h": "hour",
    "s": "second",
    "mph": "mile/hour",
    "%": "percent",
    "per cent": "percent",
    "deg": "degree",
    "°": "degree",
    "ha": "hectare",
} | {
    # Phones put a capital first, and nobody here means a megametre or a gauss.
    unit: unit
    for unit in ("m", "mm", "cm", "km", "g", "mg", "kg", "t", "ft", "yd", "lb", "oz", "gal", "pt")
}
_SUPERSCRIPTS = str.maketrans({"²": "^2", "³": "^3", "·": "*", "×": "*", "−": "-"})
_UNIT_FACTOR = re.compile(r"^[A-Za-zµμ_]+(\^-?[1-3])?$")
_INCHES = rf"(?P<inches>[\d{''.join(FRACTIONS)}][^a-z\"″]*?)"
_AND_INCHES = re.compile(
    rf"(?:ft|feet|foot)(?:\s*{_INCHES}\s*(?:inches|inch|in|\"|″)|\s+{_INCHES.replace('inches', 'bare')})$|"
    rf"['′]\s*{_INCHES.replace('inches', 'marked')}\s*(?:inches|inch|in|\"|″)?$"
)


def quantity(value: Any, unit: str) -> Any:
    """A pint quantity of `value` (a number, or one carrying ±) in `unit`, written as in the job file."""
    return Quantity(value, unit_of(unit))


def unit_of(text: str) -> Any:
    """The pint unit that `text` names ("g/m^2", "lb/1000 ft^2", "imp gal/acre", "%", "").

    Raises BadValue with one sentence when it names none.
    """
    cleaned = " ".join(text.strip().translate(_SUPERSCRIPTS).replace("**", "^").split())
    if len(cleaned) > 40:
        raise BadValue("", "That unit is too long to be one.")
    if cleaned in ("", "1"):
        return ureg.dimensionless
    cached = _UNITS.get(cleaned)
    if cached is None:
        cached = _UNITS[cleaned] = _parse_unit(cleaned)
    return cached


_UNITS: dict[str, Any] = {}


def _parse_unit(text: str) -> Any:
    if text in _SPELLINGS:  # before "per cent" is read as "per"
        return ureg.parse_units(_SPELLINGS[text])
    plain = re.sub(r"1000\s*(sq ft|ft\^?2)", "ksqft", re.sub(r"^(per |/ ?)", "1/", text))
    factors = re.split(r"\s*([/*])\s*", plain)
    spelled = []
    for factor in factors:
        if factor in ("/", "*"):
            spelled.append(factor)
        elif factor == "1":
            spelled.append("1")
        else:
            spelled.append(_spell(factor.strip(), text))
    try:
        return ureg.parse_units("".join(spelled).removeprefix("1*").replace("1/", "count^0/"))
    except (pint.PintError, ValueError, TypeError, KeyError, AttributeError) as error:
        raise BadValue("", f"“{text}” is not a unit known here.") from error


def _spell(factor: str, whole: str) -> str:
    named = _SPELLINGS.get(factor) or _SPELLINGS.get(factor.lower())
    if named is None:
        named = re.sub(r"(?<=[A-Za-z])([23])$", r"^\1", factor)  # m2 -> m^2
        base, _, power = named.partition("^")
        base = _SPELLINGS.get(base) or _SPELLINGS.get(base.lower(), base)
        named = f"{base}^{power}" if power else base
    for part in named.split("/"):
        if not _UNIT_FACTOR.match(part):
            raise BadValue("", f"“{whole}” is not a unit known here.")
    return named.replace("^", "**")


@dataclass(frozen=True)
class Written:
    """What a text says: `value` in `unit` as typed, and ± in the same unit if the text gives one."""

    value: float
    unit: str
    plus_minus: float | None = None


def read_written(text: str, default_unit: str) -> Written:
    """Split "12.5 m", "12,5", "60 ± 0.01 m", "27 paces" or "12 ft 6 in" into number and unit.

    default_unit: the unit taken when none is written. A ± may have a unit of its own, or be in %.
    Raises BadValue.
    """
    main, sign, rest = re.sub(r"\+/?-", "±", text).partition("±")
    value, unit = _number_and_unit(main)
    if not sign:
        return Written(value, unit or default_unit)
    if not NUMBER.match(rest):
        raise BadValue("", "Write a number after the ±.")
    margin, tail = _number_and_unit(rest)
    if tail.startswith("%"):
        margin, tail = value * margin / 100, tail[1:].strip()
    unit = unit or tail or default_unit
    if tail and tail != unit:
        margin = _margin_in(margin, tail, unit)
    if not math.isfinite(margin):
        raise not_a_number(rest)
    return Written(value, unit, abs(margin))


def _number_and_unit(text: str) -> tuple[float, str]:
    match = NUMBER.match(text)
    if not match:
        raise not_a_number(text) if text.strip() else BadValue("", "Nothing is filled in here yet.")
    value, unit = value_of(match), text[match.end() :].strip()
    more = _AND_INCHES.match(unit)
    if not more:
        return value, unit
    inches = number(more["inches"] or more["bare"] or more["marked"])
    return value + math.copysign(inches / 12, value), "ft"


def _margin_in(margin: float, unit: str, wanted: str) -> float:
    try:
        return float(quantity(margin, unit).to(unit_of(wanted)).magnitude)
    except pint.PintError:
        raise BadValue("", f"The ± can't be in {unit} when the reading is in {wanted}.") from None


# --- writing for people -------------------------------------------------------------------------


@dataclass(frozen=True)
class _Choice:
    """Units to show a kind of quantity in, smallest first; the next once the value reaches 1 of it."""

    units: tuple[str, ...]
    labels: tuple[str, ...]


def _choice(*pairs: tuple[str, str]) -> _Choice:
    return _Choice(tuple(p[0] for p in pairs), tuple(p[1] for p in pairs))


_SEED_RATES = {
    "metric": _choice(("g/m^2", "g/m²")),
    "imperial": _choice(("oz/yd^2", "oz/yd²")),
    "us": _choice(("lb/ksqft", "lb/1000 ft²")),
}
_PER_KIND: dict[str, Mapping[str, _Choice]] = {
    "m": {
        "metric": _choice(("m", "m")),
        "imperial": _choice(("ft", "ft")),
        "us": _choice(("ft", "ft")),
    },
    "mm": {
        "metric": _choice(("mm", "mm")),
        "imperial": _choice(("inch", "in")),
        "us": _choice(("inch", "in")),
    },
    "m^2": {
        "metric": _choice(("m^2", "m²")),
        "imperial": _choice(("yd^2", "yd²")),
        "us": _choice(("ft^2", "ft²")),
    },
    "m^3": {
        "metric": _choice(("m^3", "m³")),
        "imperial": _choice(("yd^3", "yd³")),
        "us": _choice(("yd^3", "yd³")),
    },
    "g": {
        "metric": _choice(("g", "g"), ("kg", "kg")),
        "imperial": _choice(("oz", "oz"), ("lb", "lb")),
        "us": _choice(("oz", "oz"), ("lb", "lb")),
    },
    "kg": {
        "metric": _choice(("kg", "kg")),
        "imperial": _choice(("lb", "lb")),
        "us": _choice(("lb", "lb")),
    },
    "mL": {
        "metric": _choice(("mL", "mL"), ("L", "L")),
        "imperial": _choice(("imperial_fluid_ounce", "imp fl oz"), ("imperial_gallon", "imp gal")),
        "us": _choice(("fluid_ounce", "US fl oz"), ("gallon", "US gal")),
    },
    "L": {
        "metric": _choice(("L", "L")),
        "imperial": _choice(("imperial_gallon", "imp gal")),
        "us": _choice(("gallon", "US gal")),
    },
    "g/m^2": _SEED_RATES,
    "kg/m^2": {
        "metric": _choice(("kg/m^2", "kg/m²")),
        "imperial": _choice(("lb/yd^2", "lb/yd²")),
        "us": _choice(("lb/ksqft", "lb/1000 ft²")),
    },
    "L/m^2": {
        "metric": _choice(("L/m^2", "L/m²")),
        "imperial": _choice(("imperial_gallon/yd^2", "imp gal/yd²")),
        "us": _choice(("gallon/ksqft", "US gal/1000 ft²")),
    },
    "dm^3": {  # litres of something dry: sand, cores
        "metric": _choice(("L", "L")),
        "imperial": _choice(("ft^3", "ft³")),
        "us": _choice(("ft^3", "ft³")),
    },
    "dm^3/m^2": {
        "metric": _choice(("L/m^2", "L/m²")),
        "imperial": _choice(("ft^3/yd^2", "ft³/yd²")),
        "us": _choice(("ft^3/ksqft", "ft³/1000 ft²")),
    },
    "mL/m^2": {
        "metric": _choice(("mL/m^2", "mL/m²")),
        "imperial": _choice(("imperial_fluid_ounce/yd^2", "imp fl oz/yd²")),
        "us": _choice(("fluid_ounce/ksqft", "US fl oz/1000 ft²")),
    },
    "L/hectare": {
        "metric": _choice(("L/hectare", "L/ha")),
        "imperial": _choice(("imperial_gallon/acre", "imp gal/acre")),
        "us": _choice(("gallon/acre", "US gal/acre")),
    },
    "L/minute": {
        "metric": _choice(("L/minute", "L/min")),
        "imperial": _choice(("imperial_gallon/minute", "imp gal/min")),
        "us": _choice(("gallon/minute", "US gal/min")),
    },
    "1/m^2": {
        "metric": _choice(("1/m^2", "per m²")),
        "imperial": _choice(("1/ft^2", "per ft²")),
        "us": _choice(("1/ft^2", "per ft²")),
    },
    "1/cm^2": {
        "metric": _choice(("1/cm^2", "per cm²")),
        "imperial": _choice(("1/inch^2", "per in²")),
        "us": _choice(("1/inch^2", "per in²")),
    },
    "1/g": {
        "metric": _choice(("1/g", "per g")),
        "imperial": _choice(("1/oz", "per oz")),
        "us": _choice(("1/lb", "per lb")),
    },
    "kg/m^3": {
        "metric": _choice(("kg/m^3", "kg/m³")),
        "imperial": _choice(("lb/ft^3", "lb/ft³")),
        "us": _choice(("lb/ft^3", "lb/ft³")),
    },
    "mm/hour": {
        "metric": _choice(("mm/hour", "mm/h")),
        "imperial": _choice(("inch/hour", "in/h")),
        "us": _choice(("inch/hour", "in/h")),
    },
    "km/hour": {
        "metric": _choice(("km/hour", "km/h")),
        "imperial": _choice(("mile/hour", "mph")),
        "us": _choice(("mile/hour", "mph")),
    },
    "minute": dict.fromkeys(SYSTEMS, _choice(("minute", "min"), ("hour", "h"))),
    "percent": dict.fromkeys(SYSTEMS, _choice(("percent", "%"))),
    "degree": dict.fromkeys(SYSTEMS, _choice(("degree", "°"))),
}
_KIND_OF = {unit_of(kind): kind for kind in _PER_KIND}


def nominal(value: Any) -> float:
    """The value without its ±."""
    return float(value.nominal_value) if isinstance(value, AffineScalarFunc) else float(value)


def spread(value: Any) -> float:
    """One standard uncertainty of the value; 0 for a plain number."""
    return float(value.std_dev) if isinstance(value, AffineScalarFunc) else 0.0


def shown_unit(unit: str, system: str = "metric") -> tuple[str, str]:
    """The unit to show and to type a quantity of `unit` in, as (pint name, label)."""
    choice = _chosen(unit_of(unit), system)
    label = choice.labels[0] if choice else unit.replace("^2", "²").replace("degC", "°C")
    return (choice.units[0] if choice else unit, label)


def _chosen(unit: Any, system: str) -> _Choice | None:
    kind = _KIND_OF.get(unit)
    return _PER_KIND[kind][system] if kind else None


def convert(quantity_: Any, system: str) -> tuple[Any, str]:
    """`quantity_` in the unit that `system` shows it in, as (magnitude, label).

    Mass and liquid go up to the larger unit once they reach one of it (999 g, 1.2 kg).
    """
    choice = _chosen(quantity_.units, system)
    if choice is None:
        return quantity_.magnitude, "" if quantity_.unitless else f"{quantity_.units:~P}"
    magnitude, label = quantity_.to(unit_of(choice.units[0])).magnitude, choice.labels[0]
    for unit, bigger in zip(choice.units[1:], choice.labels[1:], strict=True):
        larger = quantity_.to(unit_of(unit)).magnitude
        if abs(nominal(larger)) >= 1:
            magnitude, label = larger, bigger
    return magnitude, label


def decimals_for(value: float, figures: int = 3) -> int:
    """How many decimals show `value` to about `figures` significant figures (never fewer than none)."""
    if value == 0:
        return 0
    return max(0, figures - 1 - math.floor(math.log10(abs(value))))


def plain_number(value: float, figures: int = 3) -> str:
    """`value` to about `figures` significant figures, without trailing noughts: 1.50 -> "1.5"."""
    text = f"{value:.{decimals_for(value, figures)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def text_of(quantity_: Any, system: str = "metric", figures: int = 3, plus_minus: bool = False) -> str:
    """`quantity_` as people read it: "62.4 m²", with ± "62.4 ± 2.1 m²"."""
    magnitude, label = convert(quantity_, system)
    value, margin = nominal(magnitude), spread(magnitude)
    if plus_minus and margin > 1e-9 * abs(value):  # less is what rounding leaves of a ± that cancels
        places = min(decimals_for(margin, 2), decimals_for(value, 4) if value else 3)
        body = f"{value:.{places}f} ± {margin:.{places}f}"
    else:
        body = plain_number(value, figures)
    return f"{body}°" if label == "°" else f"{body} {label}" if label else body


def plus_minus(value: float, margin: float, tag: str | None = None) -> Any:
    """A new independent value carrying its standard uncertainty; `tag` names where that comes from."""
    return Variable(value, margin, tag)
