"""Calibrating a spreader: what it really puts down, whether that is near enough, and the next setting."""

from __future__ import annotations

from typing import Any

from logic.field import Field, Form, Values, Way, from_table
from logic.figure import DEFINITION, PRACTICE, Figure, Source, figure, step
from logic.units import nominal, quantity, text_of
from logic.works.operation import Ground, Operation, Work

RUN = Source("Rotary spreader calibration procedures, UMass Extension: mass used ÷ area covered")


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "spreader_calibration", key, label, **more)


FORM = Form(
    fields=(
        _field("mass_used", "Used on the run", help="Weighed in, less weighed out."),
        _field("distance", "Length of the run", paces=True),
        _field("swath", "Width it spreads", help="Of a rotary, the effective width."),
        _field("plot_area", "Area covered"),
        _field("tray_mass", "Caught in all the trays together"),
        _field("tray_area", "Area of one tray"),
        _field("tray_count", "Trays", whole=True),
        _field("wanted_rate", "Rate wanted from one pass", required=False),
        _field("tolerance", "Near enough", help="Either way, of the rate wanted."),
        _field("setting", "Setting used", required=False, help="As it stands on the spreader's own scale."),
    ),
    ways=(
        Way("run", "A weighed run", ("mass_used", "distance", "swath")),
        Way("plot", "A weighed run over a known area", ("mass_used", "plot_area")),
        Way("tray", "Caught in trays", ("tray_mass", "tray_area", "tray_count")),
    ),
)


def measured_rate(mass: Any, area: Any) -> Figure:
    """Rate put down [g/m²] = mass [g] / area [m²]. Source: UMass Extension."""
    rate = mass / area
    line = step(
        "{m} over {a} = {r}", m=quantity(mass, "g"), a=quantity(area, "m^2"), r=quantity(rate, "g/m^2")
    )
    return figure("measured_rate", "It puts down", rate, "g/m^2", line, source=RUN, headline=True)


def work(v: Values, ground: Ground) -> Work:
    """The rate measured and, where one is wanted, how far off it is and what to try next."""
    found = [*_measured(v)]
    rate = found[-1]
    if not v.has("wanted_rate"):
        return Work(tuple(found))
    off = (rate.value.magnitude / v.wanted_rate - 1) * 100
    line = step(
        "{r} against {w} wanted = {o} off",
        r=rate.value,
        w=quantity(v.wanted_rate, "g/m^2"),
        o=quantity(off, "%"),
    )
    found.append(figure("rate_off", "Off by", off, "%", line, source=RUN, headline=True))
    if v.has("setting"):
        found.append(next_setting(v.setting, v.wanted_rate, rate.value.magnitude))
    return Work(tuple(found), _verdict(nominal(off), nominal(v.tolerance)))


def _measured(v: Values) -> tuple[Figure, ...]:
    if v.has("tray_mass"):
        trays = round(v.tray_count)
        area, each = v.tray_area * trays, quantity(v.tray_area, "m^2")
        line = step("{n} trays × {a} = {t}", n=trays, a=each, t=quantity(area, "m^2"))
        return (
            figure("covered_area", "Trays together", area, "m^2", line, source=DEFINITION),
            measured_rate(v.tray_mass, area),
        )
    if v.has("plot_area"):
        return (measured_rate(v.mass_used, v.plot_area),)
    area = v.distance * v.swath
    line = step(
        "{d} × {w} wide = {a}",
        d=quantity(v.distance, "m"),
        w=quantity(v.swath, "m"),
        a=quantity(area, "m^2"),
    )
    return (
        figure("covered_area", "Area of the run", area, "m^2", line, source=DEFINITION),
        measured_rate(v.mass_used, area),
    )


def next_setting(setting: Any, wanted: Any, measured: Any) -> Figure:
    """Setting to try next = setting × wanted ÷ measured, then test again. Common practice, no source."""
    guess = setting * wanted / measured
    line = step(
        "{s} × {w} wanted ÷ {m} measured = {g}; then test again",
        s=setting,
        w=quantity(wanted, "g/m^2"),
        m=quantity(measured, "g/m^2"),
        g=guess,
    )
    return figure("next_setting", "Setting to try next", guess, "", line, source=PRACTICE, headline=True)


def _verdict(off: float, tolerance: float) -> tuple[str, ...]:
    if abs(off) <= tolerance + 1e-9:
        return ()
    way = "too much" if off > 0 else "too little"
    found, most = text_of(quantity(abs(off), "%")), text_of(quantity(tolerance, "%"))
    return (f"It puts down {found} {way}; {most} either way would do. Set it again and test again.",)


OPERATION = Operation(
    key="spreader_calibration",
    name="Spreader calibration",
    form=FORM,
    work=work,
    help="A weighed run or a row of trays: what the spreader really puts down.",
    group="check",
    order=92,
)
