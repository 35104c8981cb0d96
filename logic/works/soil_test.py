"""A soil test against the published minimum levels: what is missing, in grams a square metre."""

from __future__ import annotations

from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import DEFINITION, Figure, figure, step
from logic.units import nominal, quantity, text_of
from logic.works.limits import limit, limit_source
from logic.works.nutrients import K_IN_K2O, P_IN_P2O5
from logic.works.operation import Ground, Operation, Work

_IN_OXIDE = {"p2o5": P_IN_P2O5, "k2o": K_IN_K2O}


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "soil_test", key, label, **more)


FORM = Form(
    fields=(
        *(
            _field(
                row["key"], row["name"], required=False, help="Mehlich-3 extract; mg/kg is the same as ppm."
            )
            for row in tables.rows("soil_floors")
        ),
        _field("ph", "pH", required=False),
        _field("depth", "Depth to put right"),
        _field("bulk_density", "Bulk density of the soil"),
    )
)


def grams_per_ppm(depth: Any, bulk_density: Any) -> Figure:
    """Grams of an element in a square metre for each ppm: depth [mm] × bulk density [kg/m³] / 1,000,000.

    Source: arithmetic of the definitions (1 ppm = 1 mg/kg); 0.15 for 100 mm at 1,500 kg/m³.
    """
    grams = depth * bulk_density / 1_000_000
    line = step(
        "{d} × {b} of soil ÷ 1,000,000 = {g}",
        d=quantity(depth, "mm"),
        b=quantity(bulk_density, "kg/m^3"),
        g=quantity(grams, "g/m^2"),
    )
    return figure("grams_per_ppm", "One ppm of that soil", grams, "g/m^2", line, source=DEFINITION)


def work(v: Values, ground: Ground) -> Work:
    """What each tested nutrient is short of its floor. Raises BadValue when nothing has been tested."""
    tested = [row for row in tables.rows("soil_floors") if v.has(row["key"])]
    if not tested and not v.has("ph"):
        raise BadValue("k", "Fill in at least one figure from the soil test.")
    per_ppm = grams_per_ppm(v.depth, v.bulk_density)
    found: list[Figure] = [per_ppm]
    for row in tested:
        found += _need(row, v[row["key"]], per_ppm, ground)
    return Work(tuple(found), _acid(v))


def _need(row: Any, tested: Any, per_ppm: Figure, ground: Ground) -> list[Figure]:
    floor, key, source = float(row["value"]), row["key"], tables.source_of(row)
    shown = {"f": floor, "t": tested}
    short = floor - tested
    if nominal(short) <= 0:
        line = step("{t} ppm is at or above the floor of {f} ppm: nothing needed", **shown)
        return [figure(f"{key}_need", f"{row['name']} needed", 0.0, "g/m^2", line, source=source)]
    need = short * per_ppm.value.magnitude
    rate = quantity(need, "g/m^2")
    line = step("(floor {f} − {t} found) ppm × {g} each = {n}", g=per_ppm.value, n=rate, **shown)
    found = [
        figure(
            f"{key}_need",
            f"{row['name']} needed",
            need,
            "g/m^2",
            line,
            source=source,
            headline=bool(row["oxide"]),
        )
    ]
    if row["oxide"]:
        oxide = need / _IN_OXIDE[row["oxide"]]
        name, factor = row["oxide"].upper(), _IN_OXIDE[row["oxide"]]
        turned = step("{n} ÷ {f} = {o} of {name}", n=rate, f=factor, o=quantity(oxide, "g/m^2"), name=name)
        found.append(
            figure(f"{row['oxide']}_need", f"That is, as {name}", oxide, "g/m^2", line, turned, source=source)
        )
    mass = need * ground.area
    whole = step("area {a} × {n} = {m}", a=quantity(ground.area, "m^2"), n=rate, m=quantity(mass, "g"))
    found.append(
        figure(f"{key}_mass", f"{row['name']} for the whole area", mass, "g", line, whole, source=source)
    )
    return found


def _acid(v: Values) -> tuple[str, ...]:
    if not v.has("ph") or nominal(v.ph) > limit("soil_ph"):
        return ()
    found, least = (text_of(quantity(x, "")) for x in (nominal(v.ph), limit("soil_ph")))
    return (f"pH {found} is not above {least}: have lime considered. Source: {limit_source('soil_ph')}.",)


OPERATION = Operation(
    key="soil_test",
    name="Soil test against the floors",
    form=FORM,
    work=work,
    help="What a soil test is short of the published minimum levels.",
    group="check",
    order=90,
)
