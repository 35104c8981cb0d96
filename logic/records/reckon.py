"""Works a whole job out: outline first, the readings on it, then each work, knowing of those before it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from logic.errors import BadValue, SwardError
from logic.measure.methods import outline_of
from logic.measure.outline import Outline
from logic.measure.pacing import PaceScale, pace_of
from logic.records.jobfile import started_of
from logic.records.readings_file import place_of, spot_of, values_given
from logic.records.second import measured_twice
from logic.survey.kind import Taken
from logic.survey.kinds import kinds, take
from logic.works.operation import Caution, Ground, Worked
from logic.works.operations import operations, work_out

DEFAULT_CONFIDENCE = 0.9


@dataclass(frozen=True)
class Reckoning:
    """A job worked out."""

    pace: PaceScale | None
    outline: Outline
    works: tuple[Worked, ...]
    readings: tuple[Taken, ...] = ()

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """Every caution of the works, once each, in order."""
        return tuple({c.key: c for worked in self.works for c in worked.cautions}.values())

    def as_json(self) -> dict[str, Any]:
        """The figures as `swardwright reckon` prints them. plus_minus is one standard uncertainty."""
        return {
            "area": _plain(self.outline.area.as_json()),
            "perimeter": _plain(self.outline.perimeter.as_json()),
            "readings": [taken.as_json() for taken in self.readings],
            "works": [
                {
                    "operation": worked.operation.key,
                    "figures": [f.as_json() for f in worked.figures],
                    "warnings": [*worked.field_warnings.values(), *worked.warnings],
                }
                for worked in self.works
            ],
            "cautions": [caution.sentence for caution in self.cautions],
            "warnings": list(self.outline.warnings),
        }


def _plain(figure: dict[str, Any]) -> dict[str, Any]:
    return {key: figure[key] for key in ("value", "plus_minus", "unit", "steps", "source")}


def ground_of(outline: Outline, confidence: float = DEFAULT_CONFIDENCE) -> Ground:
    """The Ground that works are reckoned on."""
    return Ground(
        area=outline.area.value.magnitude,
        perimeter=outline.perimeter.value.magnitude,
        longest_run=outline.longest_run.nominal,
        polygon=outline.polygon,
        holes=outline.holes,
        pieces=outline.pieces,
        confidence=confidence,
    )


def reckon(job: Mapping[str, Any]) -> Reckoning:
    """Work out a job file. Raises SwardError with one sentence that says which part is wrong."""
    if not job.get("outline"):
        raise BadValue("outline", "This job has no outline yet: measure the green first.")
    pace = _part("pace", lambda: pace_of(job.get("pace")))
    outline = _part("outline", lambda: outline_of(job["outline"], pace))
    second = job.get("second_outline")
    if second:
        _part("second_outline", lambda: outline_of(second, pace))
        outline = measured_twice(outline, job["outline"], second, pace).used
    ground = ground_of(outline, _confidence(job))
    done: list[Worked] = []
    for place, entry in enumerate(job.get("works") or [], start=1):
        here = replace(ground, earlier=tuple(done))
        known = entry.get("operation") in (*operations(),)
        name = f"work {place} ({entry['operation']})" if known else f"work {place}"
        done.append(_part(name, lambda entry=entry, here=here: work_out(entry, here, pace)))
    return Reckoning(pace, outline, tuple(done), _readings(job, outline, pace))


def _readings(job: Mapping[str, Any], outline: Outline, pace: PaceScale | None) -> tuple[Taken, ...]:
    """The job's readings, each worked out at its own place and day on this outline."""
    started = started_of(job) if job.get("readings") else None
    kind = str((job.get("sward") or {}).get("kind") or "")
    spot = spot_of(kind, outline, started.date() if started else None)
    done = []
    for place, entry in enumerate(job.get("readings") or [], start=1):
        name = (
            f"reading {place} ({entry['kind']})" if entry.get("kind") in (*kinds(),) else f"reading {place}"
        )
        done.append(_part(name, lambda entry=entry: take(values_given(entry), place_of(entry, spot), pace)))
    return tuple(done)


def _confidence(job: Mapping[str, Any]) -> float:
    given = job.get("confidence", DEFAULT_CONFIDENCE)
    if isinstance(given, bool) or not isinstance(given, int | float) or not 0.5 <= given <= 0.999:
        raise BadValue("confidence", "The confidence must be a number between 0.5 and 0.999.")
    return float(given)


def _part(name: str, make: Any) -> Any:
    try:
        return make()
    except BadValue as bad:
        where = f"{name}, {bad.field_key}" if bad.field_key and bad.field_key != name else name
        raise BadValue(bad.field_key, f"In {where}: {bad.sentence}") from bad
    except SwardError as error:
        raise type(error)(f"In {name}: {error.sentence}") from error
