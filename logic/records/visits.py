"""A visit's readings and works as typed: changing them, working them out, and the job file they make.

Everything here gives a new Visit; nothing typed is lost by changing the way of measuring and back.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from logic.errors import BadValue
from logic.field import Reading
from logic.figure import Figure
from logic.measure.methods import measure, method_named
from logic.measure.outline import Outline
from logic.measure.pacing import PaceScale, pace_of
from logic.records.reckon import ground_of
from logic.records.types import Client, Pace, Sward, Visit
from logic.works.operation import Ground, Worked
from logic.works.operations import operation_named, plan

FIRST_METHOD = "rectangle"


def method_key(visit: Visit) -> str:
    """The way of measuring that the visit is set to."""
    return str(visit.outline.get("method") or FIRST_METHOD)


def draft(visit: Visit, method: str = "") -> Mapping[str, Any]:
    """What has been typed for a way of measuring (the one in use by default), "way" included."""
    return dict((visit.outline.get("drafts") or {}).get(method or method_key(visit)) or {})


def outline_given(visit: Visit) -> dict[str, Any]:
    """The job file's "outline" of the visit."""
    return {"method": method_key(visit), **draft(visit)}


def is_measured(visit: Visit) -> bool:
    """True when anything has been typed for the way of measuring in use."""
    return any(value for key, value in draft(visit).items() if key != "way")


def with_method(visit: Visit, method: str) -> Visit:
    """The visit measured another way; readings that both ways ask for carry over into empty fields."""
    kept = draft(visit, method)
    wanted = method_named(method).form.keys()
    carried = {k: v for k, v in draft(visit).items() if k in wanted and not kept.get(k)}
    return _with_draft(
        replace(visit, outline={**visit.outline, "method": method}), method, {**kept, **carried}
    )


def with_reading(visit: Visit, key: str, value: Any) -> Visit:
    """The visit with one reading of the outline (or "way") as typed."""
    method = method_key(visit)
    return _with_draft(visit, method, {**draft(visit), key: value})


def _with_draft(visit: Visit, method: str, values: Mapping[str, Any]) -> Visit:
    drafts = {**(visit.outline.get("drafts") or {}), method: dict(values)}
    return replace(visit, outline={**visit.outline, "method": method_key(visit), "drafts": drafts})


def with_work(visit: Visit, operation: str) -> Visit:
    """The visit with one more operation, put where the usual order of a day has it."""
    added = {"operation": operation, "values": {}}
    place = len(visit.works)
    rank = operation_named(operation).order
    for index, entry in enumerate(visit.works):
        if operation_named(entry["operation"]).order > rank:
            place = index
            break
    return replace(visit, works=(*visit.works[:place], added, *visit.works[place:]))


def with_work_value(visit: Visit, index: int, key: str, value: Any) -> Visit:
    """The visit with one value of a work as typed ("way" is a value like the others)."""
    entry = visit.works[index]
    changed = {**entry, "values": {**entry.get("values", {}), key: value}}
    return replace(visit, works=(*visit.works[:index], changed, *visit.works[index + 1 :]))


def without_work(visit: Visit, index: int) -> Visit:
    """The visit without one of its works."""
    return replace(visit, works=(*visit.works[:index], *visit.works[index + 1 :]))


def moved_work(visit: Visit, index: int, by: int) -> Visit:
    """The visit with one work moved up (-1) or down (+1); unchanged at the ends."""
    target = index + by
    if not 0 <= target < len(visit.works):
        return visit
    works = list(visit.works)
    works[index], works[target] = works[target], works[index]
    return replace(visit, works=tuple(works))


def work_given(entry: Mapping[str, Any]) -> dict[str, Any]:
    """The job file's form of one stored work."""
    return {"operation": entry.get("operation"), **entry.get("values", {})}


@dataclass(frozen=True)
class Standing:
    """How a visit stands: what can be worked out of what has been typed so far.

    outline is None while readings are missing or wrong (`measured` says which). planned: for each work its
    Worked or None, and what was read. Works wait (None, None) until there is an outline.
    """

    pace: PaceScale | None
    outline: Outline | None
    measured: Reading
    planned: tuple[tuple[Worked | None, Reading | None], ...]

    @property
    def worked(self) -> tuple[Worked, ...]:
        """The works that could be worked out, in order."""
        return tuple(worked for worked, _ in self.planned if worked)

    @property
    def area(self) -> Figure | None:
        """The area, if measured."""
        return self.outline.area if self.outline else None


def pace_scale(pace: Pace | None) -> PaceScale | None:
    """The PaceScale of a stored pace; None while it has no usable count."""
    if pace is None or not pace.counts:
        return None
    try:
        return pace_of({"course": pace.course, "counts": list(pace.counts)})
    except BadValue:
        return None


def standing(visit: Visit, pace: Pace | None, confidence: float) -> Standing:
    """Work out as much of a visit as can be worked out; never raises for what was typed."""
    scale = pace_scale(pace)
    try:
        outline, measured = measure(outline_given(visit), scale)
    except BadValue as bad:  # a way of measuring that only a newer version knows
        outline, measured = None, Reading(None, "", {"": bad.sentence})
    planned: list[tuple[Worked | None, Reading | None]] = []
    ground = ground_of(outline, confidence) if outline else None
    for entry in visit.works:
        planned.append(_planned(entry, ground, scale))
        worked = planned[-1][0]
        if ground and worked:
            ground = replace(ground, earlier=(*ground.earlier, worked))
    return Standing(scale, outline, measured, tuple(planned))


def _planned(
    entry: Mapping[str, Any], ground: Ground | None, pace: PaceScale | None
) -> tuple[Worked | None, Reading | None]:
    if ground is None:
        return None, None
    try:
        return plan(work_given(entry), ground, pace)
    except BadValue as bad:  # an operation that only a newer version knows
        return None, Reading(None, "", {"": bad.sentence})


def job_of(visit: Visit, sward: Sward, client: Client | None, pace: Pace | None) -> dict[str, Any]:
    """The job file of a visit, ready for jobfile.dumps."""
    job: dict[str, Any] = {
        "client": _filled(client, ("name", "email", "phone", "address")) if client else {},
        "sward": _filled(sward, ("name", "kind", "address")),
    }
    if pace and pace.counts:
        job["pace"] = {"course": pace.course, "counts": list(pace.counts), "person": pace.person}
    job["outline"] = outline_given(visit)
    job["works"] = [work_given(entry) for entry in visit.works]
    if visit.notes:
        job["notes"] = visit.notes
    return job


def _filled(record: Any, keys: tuple[str, ...]) -> dict[str, str]:
    return {key: getattr(record, key) for key in keys if getattr(record, key)}


def records_of(job: Mapping[str, Any]) -> tuple[Client, Sward, Pace | None, Visit]:
    """New records from a job file that jobfile.loads has accepted. Raises BadValue for an unknown method."""
    client = Client(**_texts(job.get("client"), ("name", "email", "phone", "address")))
    sward = Sward(client_id=client.id, **_texts(job.get("sward"), ("name", "kind", "address")))
    pace = None
    if job.get("pace"):
        given = job["pace"]
        pace_of(given)
        counts = tuple(str(count) for count in given["counts"])
        pace = Pace(
            course=str(given.get("course", "20 m")), counts=counts, person=str(given.get("person", ""))
        )
    outline: dict[str, Any] = dict(job.get("outline") or {})
    method = outline.pop("method", FIRST_METHOD)
    method_named(method)
    works = []
    for entry in job.get("works") or []:
        operation_named(entry.get("operation"))
        works.append(
            {
                "operation": entry["operation"],
                "values": {k: _as_text(v) for k, v in entry.items() if k != "operation"},
            }
        )
    drafts = {method: {key: _as_text(value) for key, value in outline.items()}}
    visit = Visit(
        sward_id=sward.id,
        pace_id=pace.id if pace else "",
        outline={"method": method, "drafts": drafts},
        works=tuple(works),
        notes=str(job.get("notes", "")),
    )
    return client, sward, pace, visit


def _as_text(value: Any) -> Any:
    """Numbers become text as typed; lists and objects stay."""
    if isinstance(value, list):
        return [_as_text(item) for item in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    return repr(value)


def _texts(given: Any, keys: tuple[str, ...]) -> dict[str, Any]:
    mapping = given if isinstance(given, Mapping) else {}
    return {key: str(mapping[key]) for key in keys if mapping.get(key)}
