"""What is known of a machine's shaking and noise: one's own figures first, else those of a table, said
which."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import pint

from logic import tables
from logic.errors import BadValue
from logic.figure import Source
from logic.programme.substitutes import machine
from logic.units import quantity, read_written


@dataclass(frozen=True)
class Known:
    """A machine's vibration at the handles [m/s²] and noise at the ear [dB(A)], None for what isn't known.

    engine: False for what no engine drives, which neither shakes nor makes noise worth counting.
    """

    name: str
    vibration: float | None
    noise: float | None
    source: Source
    engine: bool = True


@dataclass(frozen=True)
class Own:
    """A machine of one's own, as typed: name, the operations it is for, the two figures and their source."""

    name: str
    works: tuple[str, ...] = ()
    vibration: str = ""
    noise: str = ""
    source: str = ""


def own_for(operation: str, owned: Iterable[Own]) -> Own | None:
    """One's own machine for an operation, if there is one."""
    return next((one for one in owned if operation in one.works and one.name.strip()), None)


def known(name: str, operation: str, owned: Iterable[Own]) -> Known:
    """What is known of the machine `name` that does `operation`: what was typed of it, each gap filled from
    exposure_machines.csv."""
    own = next((one for one in owned if one.name == name), None)
    rows = [row for row in tables.rows("exposure_machines") if row["machine"] == name]
    if own is None:
        if not rows:
            return Known(name, None, None, Source("", "practice"), engine=False)
        return Known(name, _read(rows[0]["vibration"]), _read(rows[0]["noise"]), tables.source_of(rows[0]))
    usual, _ = machine(operation)
    rows = rows or [row for row in tables.rows("exposure_machines") if row["machine"] == usual]
    vibration, noise = _read(own.vibration, "m/s^2"), _read(own.noise)
    if (vibration is None or noise is None) and rows:
        filled = (vibration is None, noise is None)
        said = " and ".join(w for w, gap in zip(("vibration", "noise"), filled, strict=True) if gap)
        vibration = _read(rows[0]["vibration"]) if vibration is None else vibration
        noise = _read(rows[0]["noise"]) if noise is None else noise
        text = f"{own.source or 'your own figures'}; {said} of a usual machine of the kind"
        return Known(name, vibration, noise, Source(text, "memory"))
    engine = bool(rows) or vibration is not None or noise is not None
    return Known(name, vibration, noise, Source(own.source or "your own figures", "setting"), engine)


def _read(text: str, unit: str = "") -> float | None:
    """The number typed, in the unit; None where nothing can be read."""
    if not text.strip():
        return None
    bare = text.replace("dB(A)", "").replace("dB", "")
    try:
        written = read_written(bare, unit)
        return float(quantity(written.value, written.unit).to(unit or "").magnitude)
    except (BadValue, pint.PintError):
        return None


def petrol_driven(name: str, operation: str) -> bool:
    """True for a machine that usually runs on petrol; one's own is taken for the usual one of its kind."""
    petrol = {row["machine"] for row in tables.rows("exposure_machines") if row["fuel"] == "petrol"}
    usual, next_best = machine(operation)
    return (usual if name not in (usual, next_best) else name) in petrol


def by_name(found: Iterable[Known]) -> Mapping[str, Mapping[str, float | None]]:
    """As `sheet.uses` wants them."""
    return {one.name: {"vibration": one.vibration, "noise": one.noise} for one in found}
