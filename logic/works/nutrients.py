"""What the figures on a feed label mean: N, P and K as elements or as oxides, and the yearly ranges."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Values
from logic.figure import DEFINITION, Figure, Source, Step, figure, step
from logic.units import nominal, quantity, text_of, unit_of

#: Grams of the element in a gram of the oxide. Source: atomic weights P 30.974, K 39.098, O 15.999.
P_IN_P2O5 = 2 * 30.973762 / (2 * 30.973762 + 5 * 15.999)
K_IN_K2O = 2 * 39.0983 / (2 * 39.0983 + 15.999)

LABEL = Source("Getting what you paid for, University of Minnesota Extension; factors from atomic weights")

NUTRIENTS = (("n", "N"), ("p2o5", "P2O5"), ("k2o", "K2O"), ("p", "P"), ("k", "K"), ("fe", "Fe"))
_NAMES = dict(NUTRIENTS)

BASES = (("oxide", "N - P2O5 - K2O, as on most bags"), ("elemental", "N - P - K, as elements"))

BASIS = Field(
    "label_basis",
    "How the label counts P and K",
    kind="choice",
    choices=BASES,
    default="oxide",
    help="Most labels give P2O5 and K2O, which are 44 % P and 83 % K.",
)


def turf_field() -> Field:
    """The choice of turf that the yearly range of N depends on (rows of feeding.csv named yearly_…)."""
    kinds = [
        (r["key"].removeprefix("yearly_"), r["what"])
        for r in tables.rows("feeding")
        if r["key"].startswith("yearly_")
    ]
    return Field(
        "turf",
        "Kind of turf",
        kind="choice",
        choices=(("not_said", "Not said"), *kinds),
        default="not_said",
        help="Sets the yearly range of N that is checked.",
    )


def shares(v: Values) -> Mapping[str, float]:
    """Fraction by mass of each nutrient that the label promises, by key of NUTRIENTS.

    v: n, p2o5, k2o, fe in percent (the P and K figures as `label_basis` says). Raises BadValue when they add
    up to nothing or to more than the whole feed.
    """
    n, p_label, k_label, fe = (nominal(v[key] or 0.0) for key in ("n", "p2o5", "k2o", "fe"))
    if n + p_label + k_label + fe > 100:
        raise BadValue("n", "The label figures add up to more than 100 %.")
    if n + p_label + k_label + fe == 0:
        raise BadValue("n", "Fill in at least one figure from the label.")
    oxide = v.label_basis == "oxide"
    p = p_label * P_IN_P2O5 if oxide else p_label
    k = k_label * K_IN_K2O if oxide else k_label
    percent = {"n": n, "p2o5": p / P_IN_P2O5, "k2o": k / K_IN_K2O, "p": p, "k": k, "fe": fe}
    return {key: value / 100 for key, value in percent.items()}


def share_of(wanted: str, given: Mapping[str, float]) -> float:
    """The fraction of the wanted nutrient. Raises BadValue when the feed has none of it."""
    if given[wanted] < 1e-6:
        raise BadValue(
            "nutrient", f"This feed has no {_NAMES[wanted]} on its label, so no amount of it gives any."
        )
    return given[wanted]


def name_of(nutrient: str) -> str:
    """The short name of a nutrient ("N", "P2O5" …)."""
    return _NAMES[nutrient]


def nutrient_rates(
    dose: Any, given: Mapping[str, float], label_basis: str, first: tuple[Step, ...] = ()
) -> tuple[Figure, ...]:
    """N, P, K (as elements) and Fe put down [g/m²].

    dose: quantity of feed an area, by mass [g/m²], or by volume [mL/m²] when the label is grams in 100 mL.
    first: lines of working that lead to the dose.
    """
    words = "{m} of feed × {s}{by}{label} = {r} of {name}"
    found = []
    for key, oxide, factor in (
        ("n", "", 1.0),
        ("p", "p2o5", P_IN_P2O5),
        ("k", "k2o", K_IN_K2O),
        ("fe", "", 1.0),
    ):
        if key == "fe" and given["fe"] == 0:
            continue
        through_oxide = bool(oxide) and label_basis == "oxide"
        rate = dose.magnitude * given[key]
        line = step(
            words.replace("{label}", " {label} × {f}") if through_oxide else words.replace("{label}", ""),
            m=dose,
            s=quantity(given[oxide if through_oxide else key] * 100, "%"),
            by=" w/v" if dose.units == unit_of("mL/m^2") else "",
            label=_NAMES.get(oxide, ""),
            f=factor,
            r=quantity(rate, "g/m^2"),
            name=_NAMES[key],
        )
        found.append(
            figure(
                f"{key}_rate",
                f"{_NAMES[key]} put down",
                rate,
                "g/m^2",
                *first,
                line,
                source=LABEL,
                headline=key == "n" and given["n"] > 0,
            )
        )
    return tuple(found)


def yearly_total(n_rate: Any, so_far: Any) -> Figure:
    """N this year with this feeding [g/m²]."""
    total = n_rate + so_far
    line = step(
        "{a} so far + {b} now = {t}",
        a=quantity(so_far, "g/m^2"),
        b=quantity(n_rate, "g/m^2"),
        t=quantity(total, "g/m^2"),
    )
    return figure("n_this_year", "N this year, with this feed", total, "g/m^2", line, source=DEFINITION)


def nitrogen_warnings(n_rate: float, n_year: float, turf: str) -> tuple[str, ...]:
    """Sentences when one dose or the year's N is beyond the published ranges (feeding.csv) [g N/m²]."""
    said = []
    fine = turf in ("fine_fescue", "bent", "bent_fescue")
    for key in ("single", "single_fine") if fine else ("single",):
        cap = tables.row("feeding", key=key)
        if n_rate > float(cap["high"]) * (1 + 1e-9):
            said.append(
                f"{_grams(n_rate)} of N is more than {_grams(float(cap['high']))} at once, "
                f"{cap['what']}: split it. Source: {tables.source_of(cap)}."
            )
            break
    if turf != "not_said":
        year = tables.row("feeding", key=f"yearly_{turf}")
        if n_year > float(year["high"]) * (1 + 1e-9):
            said.append(
                f"This brings the year to {_grams(n_year)} of N; {year['what'].lower()} are fed "
                f"{_grams(float(year['low']))} to {_grams(float(year['high']))} a year. "
                f"Source: {tables.source_of(year)}."
            )
    return tuple(said)


def _grams(value: float) -> str:
    return text_of(quantity(value, "g/m^2"))


def label_fields(field_of: Any) -> tuple[Field, ...]:
    """The label's figures as fields, from rows n, p2o5, k2o, fe of the operation's form."""
    return (
        field_of("n", "N on the label", help="The first of the three figures."),
        field_of("p2o5", "P2O5 (or P) on the label", required=False, help="The second figure."),
        field_of("k2o", "K2O (or K) on the label", required=False, help="The third figure."),
        field_of("fe", "Iron (Fe) on the label", required=False),
        BASIS,
    )
