"""A visit's readings and works as typed: changing them, working them out, and the job file they make.

Everything here gives a new Visit; nothing typed is lost by changing the way of measuring and back.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from logic.errors import BadValue
from logic.field import Field
from logic.measure.pacing import PaceScale, pace_of
from logic.records import drafts, readings_file
from logic.records.drafts import draft_of, given_of, has_values, method_in, values_in
from logic.records.jobfile import started_of
from logic.records.levelled import level_form
from logic.records.types import Client, Pace, Sward, Visit, utc_now
from logic.works.operations import operation_named


def method_key(visit: Visit) -> str:
    """The way of measuring that the visit is set to."""
    return method_in(visit.outline)


def draft(visit: Visit, method: str = "") -> Mapping[str, Any]:
    """What has been typed for a way of measuring (the one in use by default), "way" included."""
    return values_in(visit.outline, method)


def outline_given(visit: Visit) -> dict[str, Any]:
    """The job file's "outline" of the visit."""
    return given_of(visit.outline)


def is_measured(visit: Visit) -> bool:
    """True when anything has been typed for the way of measuring in use."""
    return has_values(visit.outline)


def with_method(visit: Visit, method: str) -> Visit:
    """The visit measured another way; readings that both ways ask for carry over into empty fields."""
    return replace(visit, outline=drafts.with_method(visit.outline, method))


def second_of(visit: Visit) -> Mapping[str, Any] | None:
    """The draft of the second measurement of the same ground, None when there is none."""
    return visit.outline.get("second")


def with_second(visit: Visit, second: Mapping[str, Any] | None) -> Visit:
    """The visit with its second measurement (a draft) changed, or taken away (None)."""
    rest = {key: value for key, value in visit.outline.items() if key != "second"}
    return replace(visit, outline=rest if second is None else {**rest, "second": dict(second)})


def levels_of(visit: Visit) -> Mapping[str, Any]:
    """The draft of the levels (logic.records.levelled), {} when none have been taken."""
    return visit.outline.get("levels") or {}


def with_levels(visit: Visit, levels: Mapping[str, Any]) -> Visit:
    """The visit with its levels as typed."""
    return replace(visit, outline={**visit.outline, "levels": dict(levels)})


#: The drafts of a visit, by the word before the ":" of a place; an outline's own place has none.
_DRAFTS: Mapping[str, tuple[Any, Any, drafts.FormOf]] = {
    "": (lambda visit: visit.outline, lambda visit, doc: replace(visit, outline=doc), drafts.outline_form),
    "second": (lambda visit: second_of(visit) or {}, with_second, drafts.outline_form),
    "levels": (levels_of, with_levels, level_form),
}


def _draft_at(place: str) -> tuple[Any, Any, drafts.FormOf, str]:
    which, _, path = place.rpartition(":")
    return (*_DRAFTS[which], path)


def with_reading(visit: Visit, place: str, value: Any) -> Visit:
    """The visit with one reading (or "way") as typed.

    place: a path (see logic.records.drafts) in the outline, or after "second:" or "levels:" in those.
    """
    get, put, _, path = _draft_at(place)
    changed: Visit = put(visit, drafts.with_value(get(visit), path, value))
    return changed


def reading_at(visit: Visit, place: str) -> tuple[Field, str, Any] | None:
    """The Field of a place, the name of the reading and what stands there; None when it is not asked."""
    get, _, form_of, path = _draft_at(place)
    item = drafts.field_at(get(visit), path, form_of)
    if item is None:
        return None
    return item, drafts.name_at(get(visit), path, form_of), drafts.value_at(get(visit), path)


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


def with_work_value(visit: Visit, index: int, path: str, value: Any) -> Visit:
    """The visit with one value of a work as typed ("way" is a value like the others)."""
    entry = visit.works[index]
    changed = {**entry, "values": drafts.put_at(entry.get("values", {}), path, value)}
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


def pace_scale(pace: Pace | None) -> PaceScale | None:
    """The PaceScale of a stored pace; None while it has no usable count."""
    if pace is None or not pace.counts:
        return None
    try:
        return pace_of(_pace_given(pace))
    except BadValue:
        return None


def _pace_given(pace: Pace) -> dict[str, Any]:
    counting = "double" if pace.steps == "two" else "single"
    return {"course": pace.course, "counts": list(pace.counts), "counting": counting}


def job_of(
    visit: Visit, sward: Sward, client: Client | None, pace: Pace | None, confidence: float | None = None
) -> dict[str, Any]:
    """The job file of a visit, ready for jobfile.dumps. confidence: of the settings, if it is to be kept."""
    job: dict[str, Any] = {
        "started": visit.started.astimezone().isoformat(timespec="seconds"),
        "client": _filled(client, ("name", "email", "phone", "address")) if client else {},
        "sward": _filled(sward, ("name", "kind", "address")),
    }
    if pace and pace.counts:
        job["pace"] = {**_pace_given(pace), "person": pace.person}
    if confidence is not None:
        job["confidence"] = confidence
    job["outline"] = outline_given(visit)
    second = second_of(visit)
    if second:
        job["second_outline"] = given_of(second)
    if levels_of(visit):
        job["levels"] = given_of(levels_of(visit))
    readings = readings_file.given(visit.readings)
    if readings:
        job["readings"] = readings
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
        counts = given["counts"]
        if isinstance(counts, str):
            counts = [count for count in re.split(r"[;\n]", counts) if count.strip()]
        pace = Pace(
            course=str(given.get("course") or "20 m"),
            counts=tuple(str(count).strip() for count in counts),
            person=str(given.get("person") or ""),
            steps="two" if given.get("counting") == "double" else "one",
        )
    outline = draft_of(job.get("outline") or {})
    if job.get("second_outline"):
        outline["second"] = draft_of(job["second_outline"])
    if job.get("levels"):
        outline["levels"] = draft_of(job["levels"], level_form)
    works = []
    for entry in job.get("works") or []:
        operation_named(entry.get("operation"))
        works.append(
            {
                "operation": entry["operation"],
                "values": {k: readings_file.as_text(v) for k, v in entry.items() if k != "operation"},
            }
        )
    visit = Visit(
        sward_id=sward.id,
        started=started_of(job) or utc_now(),
        pace_id=pace.id if pace else "",
        outline=outline,
        readings=readings_file.readings_of(job.get("readings")),
        works=tuple(works),
        notes=str(job.get("notes") or ""),
    )
    return client, sward, pace, visit


def _texts(given: Any, keys: tuple[str, ...]) -> dict[str, Any]:
    mapping = given if isinstance(given, Mapping) else {}
    return {key: str(mapping[key]) for key in keys if mapping.get(key)}
