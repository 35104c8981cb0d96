"""A soil test against the published minimum levels: what the turf uses in a year, keeps, and has."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.survey.classes import label, limit, limit_source
from logic.survey.kind import Finding, Kind, Label, Spot
from logic.units import nominal, quantity

NEED = Source(
    "Woods, Working out the fertilizer recommendation from a soil test, 2014: need = use + minimum to keep "
    "− present"
)
#: Grams of oxide in a gram of the element. Source: atomic weights P 30.974, K 39.098, O 15.999.
OXIDES = {
    "p": ("P2O5", (2 * 30.973762 + 5 * 15.999) / (2 * 30.973762)),
    "k": ("K2O", (2 * 39.0983 + 15.999) / (2 * 39.0983)),
}


def _field(key: str, label_: str, like: str = "", **more: Any) -> Field:
    declared = from_table("readings", "soil_test", like or key, label_, **more)
    return Field(**{**declared.__dict__, "key": key})


FORM = Form(
    (
        Field(
            "extract",
            "Extract",
            kind="choice",
            choices=(("mehlich3", "Mehlich-3"), ("other", "Another, or not known")),
            default="mehlich3",
        ),
        *(
            _field(row["key"], row["name"], like="value", required=False, help="mg/kg is the same as ppm.")
            for row in tables.rows("soil_floors")
        ),
        _field("ph", "pH", required=False),
        _field("n_year", "N to be given this year", required=False, help="Sets what the turf takes up."),
        _field("clippings", "Clippings taken off in a year", required=False, help="Instead of the N, for K."),
        _field("depth", "Depth counted"),
        _field("bulk_density", "Bulk density of the soil"),
    )
)


def soil_mass(depth: Any, bulk_density: Any) -> Any:
    """Soil under a square metre [kg/m²]: depth [mm] × bulk density [kg/m³] ÷ 1000. 150 for 100 mm at
    1,500."""
    return depth * bulk_density / 1000


def annual_need(use: Any, keep: Any, present: Any) -> Any:
    """Nutrient to give in a year: use + minimum to keep − present, all in one unit; below 0 nothing is
    needed, and the sum is given back as it is. Source: NEED."""
    return use + keep - present


def use_by_nitrogen(nutrient: str, nitrogen: Any) -> Any:
    """What turf takes up of "k" or "p" with that much N, in its unit (N to P to K as 8 to 1 to 4)."""
    return nitrogen * limit(f"{nutrient}_for_n")


def use_by_clippings(litres: Any) -> Any:
    """K that clippings carry off [g/m²], from their volume [L/m²]: litres × dry matter × share of K."""
    return litres * limit("clippings_density") * limit("clippings_k") / 100


def read(v: Values, spot: Spot) -> Finding:
    """Each nutrient's need [g/m²] in a year. Raises BadValue when nothing has been tested."""
    tested = [row for row in tables.rows("soil_floors") if v.has(row["key"])]
    if not tested and not v.has("ph"):
        raise BadValue("k", "Fill in at least one figure from the soil test.")
    figures: list[Figure] = []
    labels: tuple[Label, ...] = ()
    if v.has("ph"):
        line = step("as the laboratory says: pH {p}", p=quantity(v.ph, ""))
        figures.append(figure("ph", "pH", v.ph, "", line, source=Source("", "setting"), headline=True))
        labels = (label("ph", "ph", nominal(v.ph)),)
    mass = soil_mass(v.depth, v.bulk_density)
    for row in tested:
        figures += _nutrient(row, v, mass)
    return Finding(tuple(figures), labels, tuple(_warnings(v)))


def _nutrient(row: Mapping[str, str], v: Values, mass: Any) -> list[Figure]:
    key, name, source = row["key"], row["name"], tables.source_of(row)
    per_ppm = mass / 1000
    present = v[key] * per_ppm
    found_line = step(
        "{t} mg/kg found × {m} of soil = {c}",
        t=quantity(v[key], ""),
        m=quantity(mass, "kg/m^2"),
        c=quantity(present, "g/m^2"),
    )
    figures = [
        figure(
            f"{key}_found", f"{name} found, mg/kg", v[key], "mg/kg", found_line, source=Source("", "setting")
        ),
        figure(f"{key}_present", f"{name} in that depth", present, "g/m^2", found_line),
    ]
    if v.extract != "mehlich3":
        return figures
    keep, use, use_line = float(row["value"]) * per_ppm, *_use(key, v)
    raw = annual_need(use, keep, present)
    need = raw if nominal(raw) > 0 else 0.0
    shown = {"a": use, "b": keep, "c": present, "q": raw}
    lines = [
        *use_line,
        found_line,
        step(
            "use {a} + to keep {b} − present {c} = {q}",
            **{one: quantity(value, "g/m^2") for one, value in shown.items()},
        ),
    ]
    if nominal(raw) <= 0:
        lines.append(step("there is enough: nothing needed"))
    figures.append(
        figure(
            f"{key}_need", f"{name} to give in the year", need, "g/m^2", *lines, source=source, headline=True
        )
    )
    if key in OXIDES:
        oxide, factor = OXIDES[key]
        turned = step(
            f"{{q}} × {{f}} = {{o}} of {oxide}",
            q=quantity(need, "g/m^2"),
            f=factor,
            o=quantity(need * factor, "g/m^2"),
        )
        figures.append(
            figure(
                f"{oxide.lower()}_need",
                f"That is, as {oxide}",
                need * factor,
                "g/m^2",
                *lines,
                turned,
                source=source,
            )
        )
    return figures


def _use(key: str, v: Values) -> tuple[Any, list[Any]]:
    if key == "k" and v.has("clippings"):
        use = use_by_clippings(v.clippings)
        line = step(
            "clippings {l} × {d} dry × {s} = {u} of K taken off",
            l=quantity(v.clippings, "L/m^2"),
            d=quantity(limit("clippings_density"), "g/L"),
            s=quantity(limit("clippings_k"), "%"),
            u=quantity(use, "g/m^2"),
        )
        return use, [line]
    if key in OXIDES and v.has("n_year"):
        use = use_by_nitrogen(key, v.n_year)
        line = step(
            "with {n} of N the turf takes up {f} times as much = {u}",
            n=quantity(v.n_year, "g/m^2"),
            f=quantity(limit(f"{key}_for_n"), ""),
            u=quantity(use, "g/m^2"),
        )
        return use, [line]
    return 0.0, []


def _warnings(v: Values) -> Iterator[str]:
    if v.extract != "mehlich3":
        yield (
            "The minimum levels hold for the Mehlich-3 extract alone: use the laboratory's own scale for "
            "this one."
        )
    elif not v.has("n_year") and any(v.has(key) for key in OXIDES):
        yield (
            "Without the year's N this reckons only what is short of the minimum, not what the turf will "
            f"take up. Source: {limit_source('k_for_n')}."
        )


KIND = Kind(
    key="soil_test",
    name="Soil test",
    form=FORM,
    read=read,
    help="A dozen small cores from the root zone, mixed in a clean bucket, sent to the same laboratory each "
    "time.",
    how_many="One mixed sample a sward, every year or two.",
    tells_not="What a test by another extract means: the minimum levels are for Mehlich-3 only. Nor "
    "nitrogen.",
    alike=("extract",),
    group="soil",
    order=60,
)
